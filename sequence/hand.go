package sequence

// Doing is what the hands do.
type Doing string

const Loading Doing = "load" // dry sheets into the first bath, one by one

// Hand is what the hands do for a while.
type Hand struct {
	At    Elapsed `json:"at_s"`
	Until Elapsed `json:"until_s"`
	Do    Doing   `json:"hands"`
	Step  string  `json:"step"` // a transfer's: that is left
	Sheet int     `json:"-"`    // of a pull; 0 elsewhere
}

package sequence

// Doing is what the hands do.
type Doing string

// What hands do.
const (
	Loading   Doing = "load"     // dry sheets into the first bath, one by one
	Shuffling Doing = "shuffle"  // the bottom sheet of a stack to the top, again and again
	Agitating Doing = "agitate"  // what moves together
	Standing  Doing = "stand"    // nothing
	Draining  Doing = "drain"    // lifted, dripping
	Transfer  Doing = "transfer" // sheets into the next bath, one by one
	Pulling   Doing = "pull"     // one sheet of a film test out of the developer
	Pouring   Doing = "pour"     // a closed vessel's bath out
	Reversing Doing = "reverse"  // the drum turns the other way
)

// Hand is what the hands do for a while.
type Hand struct {
	At    Elapsed `json:"at_s"`
	Until Elapsed `json:"until_s"`
	Do    Doing   `json:"hands"`
	Step  string  `json:"step"` // a transfer's: that is left
	Sheet int     `json:"-"`    // of a pull; 0 elsewhere
}

package sequence

// The format of sheets. Any is known: what a recipe writes is read by chem.ParseSides.

// Size is a sheet's format in inches.
type Size struct {
	Name   string  `json:"name"` // as written: "4x5in"
	Width  float64 `json:"width_in"`
	Height float64 `json:"height_in"`
}

// SquareInches is the area of one side of the sheet.
func (s Size) SquareInches() float64 { return s.Width * s.Height }

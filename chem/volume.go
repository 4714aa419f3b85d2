package chem

// Millilitres is a volume of liquid.
type Millilitres float64

// Part is one component of a bath: so many parts by volume of Name.
type Part struct {
	Name  string  `json:"name"`
	Parts float64 `json:"parts"`
}

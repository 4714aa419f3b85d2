package form

import (
	"fmt"
	"strconv"

	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence/densities"
)

// EqualSteps is the first choice of a field that asks for a tablet: none that is calibrated.
const EqualSteps = "equal steps"

// Tablet is the densities of a step tablet, from three fields of which at is the first: EqualSteps or
// one of the kept ones; how many steps, and the density from one to the next. With an error the field
// that it is of.
func (f Form) Tablet(at int, kept []densities.Tablet) (steps []float64, wrong int, err error) {
	if i := f.Fields[at].Chosen; i > 0 {
		for _, d := range kept[i-1].Steps {
			steps = append(steps, float64(d))
		}
		return steps, at, nil
	}
	many, each := f.Fields[at+1].Value(), f.Fields[at+2].Value()
	n, err := strconv.Atoi(many)
	if err != nil {
		return nil, at + 1, fmt.Errorf("%q is no number; expected how many, such as 21", many)
	}
	step, err := Number(each, "a density such as 0.15")
	if err != nil {
		return nil, at + 2, err
	}
	steps, err = curve.NominalTablet(n, step)
	return steps, at + 1, err
}

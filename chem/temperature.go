package chem

// Temperatures, and how fast a developer works at them.
// The functions of a bath whose temperature moves are in course.go.

// Celsius is a temperature in degrees Celsius.
type Celsius float64

// Pair is one line of a time-temperature table: the developing time, in
// seconds, that gives at temperature T what the reference time gives at the
// reference temperature.
type Pair struct {
	T       Celsius `json:"t_c"`
	Seconds float64 `json:"time_s"`
}

// Rate tells how fast development goes at a temperature, relative to the
// reference temperature, where it is 1. It errs outside the range for which
// the rate is known.
type Rate interface {
	At(Celsius) (float64, error)
}

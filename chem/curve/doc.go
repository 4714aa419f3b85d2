// Package curve turns density readings of step-tablet negatives into
// characteristic curves, speed, gradients and the growth of the gradient with
// developing time, and those into the time for a wanted gradient. It is for
// the commands, the screens, the pages and the notebook.
//
// Start with Read, which makes a Family of the bytes of a file, and Evaluate,
// which makes Results of a Family. Results.TimeFor, Results.Developments and
// Results.Borrowed answer what a photographer asks next; Series and Expect say
// which developing times to spend test sheets on.
//
// The package opens no file, reads no clock, starts no goroutine and keeps no
// state: chance comes from a fixed seed, so that the same readings give the
// same interval every time. It never reads a missing cell as zero, never
// extends a curve beyond its readings, and answers nil where readings end too
// early. A home test is never an ISO speed: light, exposure time and process
// are not the standard's. What is given is a speed by ISO arithmetic.
//
// # Where things are
//
//	topic                          file            source
//	densities, curves, families    curve.go        -
//	files, limits, faults          readfile.go, fault.go
//	CSV                            csv.go          -
//	CGATS text                     cgats.go        ISO 28178
//	its samples, its exposures     cgats_samples.go NAVEDTRA 14209 p. 282 (step tablets)
//	between readings               interpolant.go  Fritsch and Butland 1984
//	smoothing                      smooth.go       Reinsch 1967; isotonic regression
//	what readings and sheets are off uncertainty.go third differences; common practice
//	speed point, speeds            speed.go        ISO 6:1993
//	average gradient, gamma        gradient.go     ISO 6:1993; US Army subcourse SS0513 p. 97
//	contrast index                 gradient.go     NAVEDTRA 14208
//	growth with time               growth.go       Mees 1911; Sheppard and Mees 1907
//	least squares                  growthfit.go    Levenberg 1944, Marquardt 1963
//	what a test leaves open        growth_uncertainty.go Bayes's rule on a grid (Gelman and others)
//	interval of a time, of growth  growthinterval.go -
//	intervals of one curve         curveinterval.go parametric bootstrap (Efron)
//	gradient wanted, N-2 to N+2    development.go  Stroebel et al.
//	which times to test            filmtest.go     simulation
package curve

// Package chem is the arithmetic of the wet side: how fast a developer works
// at a temperature and in a bath that drifts, what long exposures lose, and
// mixing, tempering, fixing, washing and capacity. It is for the planner, the
// engine and the commands alike, so that they cannot differ.
//
// Start with Dose and Until: a developing time is never more than a dose to be
// reached. Everything here is a pure function of its arguments. The package
// reads no clock, disk or device, starts no goroutine, keeps no state, and
// never guesses: outside what is known it errs or says so in its result.
//
// # Where things are
//
//	topic                        file            source
//	temperature coefficient      coefficient.go  Wall 1910 p. 44; Mees 1911 pp. 167, 170
//	time-temperature table       time_temperature_table.go        ln(time) linear between entries (our rule)
//	readings and drift           drift.go        Newton's law of cooling
//	dose and time                dose.go         integral of the rate
//	quadrature                   quadrature.go   Abramowitz and Stegun, Table 25.4
//	exposure, reciprocity        reciprocity.go  Schwarzschild; Kron 1914
//	parts, percentages           mixing.go       US Army subcourse SS0513 p. 24
//	a mix as typed, grams        mixtext.go      US Army subcourse SS0513 p. 24
//	what a graduate measures     graduate.go     arithmetic
//	what a vessel takes          vesselvolume.go geometry; depth: US Army SS0509 p. 18
//	tempering, ice               tempering.go    calorimetry
//	fill and dump, running water washing.go      Torzynski 2004; NAVEDTRA 14209 p. 250
//	wash times, cold water       washing.go      US Army SS0509 pp. 18, 24; T.O. 33B-1-1 6.7.10.1
//	thiosulfate left in film     washing.go      36 CFR 1238.14(c)
//	washing out of gelatin       washlayer.go    Torzynski 2004; NAVEDTRA 14209 p. 250; SS0509
//	the shortest wash            washschedule.go our own rules; ANSI/NAPM IT9.1 (memory)
//	fixing                       fixing.go       NAVEDTRA 14209 p. 249; T.O. 33B-1-1 p. 6-77; TM 11-2323 para 33c
//	sheets, stock                bathcapacity.go  arithmetic
//	temperatures, volumes        units.go        definitions
//	lengths of time              durations.go    -
//
// Characteristic curves and the growth of contrast are in chem/curve.
package chem

// Package say is every word that more than one surface shows or speaks: screens, plain
// mode, paper and JSON take their sentences from here. What is below knows codes and
// values; here they become words, in a person's units. No colour, no clock and no width
// stands here.
//
// Everything is a pure function from values to text. A file holds one topic: formats.go
// how figures are written, cautions.go what to know of a plan, refusals.go why a command
// does nothing, values.go how their values are filled in, events.go what happened, running.go what to do now. Texts that came
// from a file or a person are passed on as they are: whoever writes to a terminal cleans
// them.
package say

// Package response is a film's density by exposure and by development at once: one surface fitted to
// all sheets of a test, off which whatever is asked is read, with how sure it is.
//
// Start with Fit, which takes Sheets and gives a Surface; Surface.Solve meets an Aim: an average
// gradient, a contrast index, or a print on a given paper, as a developing time and a place of the
// shadow on the exposure scale together.
//
// It knows no file, no film and no session. Exposures are log10 of lux seconds or relative, as
// the caller has them; densities are as read, base and fog included.
package response

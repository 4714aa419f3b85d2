// Package scan reads densities off a picture of negatives that lie beside a step tablet
// of known densities, on a light panel or a flatbed scanner.
//
// The tablet calibrates all that lies between film and number: lamp, lens, sensor and the
// tone curve of the file. Nothing is believed beyond its lightest and its densest step.
//
// Start at Read. Decode makes a Picture of a file's bytes, Find looks for the strips,
// Measure takes each patch, Calibration turns light into density.
//
// Density is log10 of incident over transmitted light (ISO 5-2). A camera sees diffuse
// light and a scanner partly specular: the same film reads differently on each, and the
// tablet, of silver like most films, takes up nearly all of the difference.
package scan

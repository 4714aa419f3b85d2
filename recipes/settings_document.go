package recipes

// Any small TOML file, read with a recipe's guards and a recipe's way of telling
// faults. For package settings, since the TOML library is imported here alone.

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/plainfile"
)

// Document is a file being read. Its methods write faults down and go on; Err
// gives them all. A value that is missing or faulty leaves what it would replace.
type Document struct {
	r   *reader
	top table
}

// Heading is a heading of the file, "" for the top, and the keys that may stand
// beneath it. Keys beneath no heading name the headings too.
type Heading struct {
	Name string
	Keys []string
}

// OpenDocument reads the file at path; a file that is not there is an empty one.
// The error is Faults, or that of opening the file. Headings and keys that are not
// in headings are faults.
func OpenDocument(path string, headings []Heading) (*Document, error) {
	data, err := readSmall(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return ParseDocument(path, nil, headings)
		}
		return nil, err
	}
	return ParseDocument(path, data, headings)
}

// ParseDocument is OpenDocument for data that has been read.
func ParseDocument(path string, data []byte, headings []Heading) (*Document, error) {
	vals, nodes, err := decoded(path, &data)
	if err != nil {
		return nil, err
	}
	d := &Document{r: &reader{file: path}}
	for _, h := range headings {
		at := "at the top, before the first heading"
		if h.Name != "" {
			at = "under [" + h.Name + "]"
		}
		d.r.sections = append(d.r.sections, section{at, h.Keys})
	}
	d.top = table{field{r: d.r, node: nodes}, vals}
	var known []string
	for _, h := range headings {
		if h.Name != "" {
			d.top.lookup(h.Name).table(h.Keys...)
			known = append(known, h.Name)
		} else {
			known = append(known, h.Keys...)
		}
	}
	d.top.refuseOthers(known)
	return d, nil
}

// Err is Faults in the order of the file, nil where there are none.
func (d *Document) Err() error {
	if len(d.r.faults) == 0 {
		return nil
	}
	return d.r.faults.inOrder(d.r.file)
}

// field is the value of a key beneath a heading, "" for the top.
func (d *Document) field(heading, key string) field {
	if heading == "" {
		return d.top.lookup(key)
	}
	return d.top.lookup(heading).asTable().lookup(key) // what is no table has been told already
}

// Fault writes down what is wrong with the value of a key.
func (d *Document) Fault(heading, key, what, expected, hint string) {
	d.field(heading, key).addFault(what, expected, hint)
}

// Enum reads one of the words into to.
func (d *Document) Enum(heading, key string, words []string, to *string) {
	if w, ok := enum(d.field(heading, key), words, ""); ok {
		*to = w
	}
}

// Number reads a number from lo to hi into to.
func (d *Document) Number(heading, key string, lo, hi float64, to *float64) {
	if v, ok := d.field(heading, key).number(lo, hi); ok {
		*to = v
	}
}

// Integer reads a whole number from lo to hi into to.
func (d *Document) Integer(heading, key string, lo, hi int64, to *int) {
	if v, ok := d.field(heading, key).integer(lo, hi); ok {
		*to = v
	}
}

// Duration reads a time from none to 24 hours into to.
func (d *Document) Duration(heading, key string, to *time.Duration) {
	d.field(heading, key).replace(to, timeOrNone)
}

// WetLimit reads a wet limit as a recipe states it into to: one time, or one for
// each vessel.
func (d *Document) WetLimit(heading, key string, to *sequence.WetLimit) {
	if f := d.field(heading, key); f.isSet() {
		*to = readWetLimit(f)
	}
}

// Tolerance reads how far a thermometer is off at most into to: degrees Celsius, or a class.
func (d *Document) Tolerance(heading, key string, to *chem.Celsius) {
	f := d.field(heading, key)
	if name, ok := f.value.(string); ok {
		names := make([]string, len(sequence.ThermometerClasses))
		for i, c := range sequence.ThermometerClasses {
			if names[i] = c.Name; name == c.Name {
				*to = c.Within
				return
			}
		}
		f.addFault("unknown class "+quote(name), oneOf(names)+", or degrees Celsius such as 0.5", "")
		return
	}
	d.Degrees(heading, key, 0, to)
}

// Degrees reads a difference of temperatures in degrees Celsius into to, from least to 5.
func (d *Document) Degrees(heading, key string, least float64, to *chem.Celsius) {
	if v, ok := d.field(heading, key).number(least, 5); ok {
		*to = chem.Celsius(v)
	}
}

// Texts reads a list of short texts into to.
func (d *Document) Texts(heading, key, expected string, to *[]string) {
	f := d.field(heading, key)
	if !f.isSet() {
		return
	}
	var texts []string
	for _, el := range f.elements(expected) {
		const longest = 20
		if s, ok := el.text(longest, false); ok {
			texts = append(texts, s)
		}
	}
	*to = texts
}

// decoded guards and decodes data, without the mark that some editors put first.
// The error is Faults.
func decoded(file string, data *[]byte) (map[string]any, *node, error) {
	*data = bytes.TrimPrefix(*data, []byte("\xef\xbb\xbf"))
	if faults := prescan(file, *data); len(faults) > 0 {
		return nil, nil, faults
	}
	var vals map[string]any
	if err := decode(*data, &vals); err != nil {
		return nil, nil, Faults{syntaxFault(file, *data, err)}
	}
	return vals, positions(*data), nil
}

// readSmall reads a file that is no larger than a recipe may be.
func readSmall(path string) ([]byte, error) {
	data, err := plainfile.Read(path, maxFileSize)
	if large := (*plainfile.TooLargeError)(nil); errors.As(err, &large) {
		return nil, Faults{tooLarge(path, fmt.Sprintf("more than %d", maxFileSize))}
	}
	return data, err
}

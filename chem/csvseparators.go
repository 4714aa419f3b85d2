package chem

// Tables as spreadsheets write them where numbers have a decimal comma.

import "bytes"

// PlainCSV is a table with commas between its cells and points in its numbers. One whose first
// row is parted by semicolons, or by tabs and has no comma, is turned into that byte for byte, so
// that lines and columns stay where they are; comments are left alone. Any other is as it was.
func PlainCSV(data []byte) []byte {
	separator := separatorOf(data)
	if separator == 0 {
		return data
	}
	out := bytes.Clone(data)
	comment, start := false, true
	for i, c := range out {
		if start {
			comment = c == '#'
		}
		start = c == '\n'
		switch {
		case comment:
		case c == ',':
			out[i] = '.'
		case c == separator:
			out[i] = ','
		}
	}
	return out
}

// separatorOf is the semicolon or the tab that parts the first row; 0 where it is a comma.
func separatorOf(data []byte) byte {
	for line := range bytes.Lines(bytes.TrimPrefix(data, []byte("\ufeff"))) {
		switch line = bytes.TrimSpace(line); {
		case len(line) == 0 || line[0] == '#':
			continue
		case bytes.IndexByte(line, ';') >= 0:
			return ';'
		case bytes.IndexByte(line, '\t') >= 0 && bytes.IndexByte(line, ',') < 0:
			return '\t'
		}
		return 0
	}
	return 0
}

package curve

// CGATS text, the exchange format of densitometers: an identification line,
// keywords with values, a format, and as many data sets as are announced. One
// table, one data set a line. Densities are numbers with a point: a reader that
// takes 0,56 for 0 does harm.
//
// Source: ISO 28178. liblcms2 reads the same files in the tests.

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
)

const (
	kwFields    = "NUMBER_OF_FIELDS"
	kwSets      = "NUMBER_OF_SETS"
	kwFormat    = "BEGIN_DATA_FORMAT"
	kwFormatEnd = "END_DATA_FORMAT"
	kwData      = "BEGIN_DATA"
	kwDataEnd   = "END_DATA"
)

// cgatsTable is the content of a file, checked against its own counts.
type cgatsTable struct {
	fields []csvCell
	sets   [][]csvCell
}

// cgatsSection is the part of a file that a line stands in.
type cgatsSection int

const (
	inIdentification cgatsSection = iota
	inHeader
	inFormat
	inData
	afterData
)

// parser reads the lines of a file one by one.
type parser struct {
	fs      *faultList
	now     cgatsSection
	counts  map[string]int // of NUMBER_OF_FIELDS and NUMBER_OF_SETS
	table   cgatsTable
	formats int
	end     position // of the last line with anything on it
}

// parseCGATS reads a file. Whether it could is told by fs.
func parseCGATS(fs *faultList, data []byte) cgatsTable {
	data, ok := guard(fs, data, false)
	if !ok {
		return cgatsTable{}
	}
	p := &parser{fs: fs, counts: map[string]int{}}
	data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	for i, line := range strings.Split(string(data), "\n") {
		words, fault := splitLine(line, i+1)
		if fault != "" {
			fs.add(position{i + 1, 0}, fault, "quoted text to end on its line")
			return cgatsTable{}
		}
		if len(words) > 0 {
			p.end = words[0].at
			p.line(words)
		}
		if p.now == afterData && len(fs.list) > 0 {
			break
		}
	}
	p.finish()
	return p.table
}

// splitLine cuts a line into words: bare ones and quoted strings, up to a comment.
func splitLine(line string, number int) (words []csvCell, fault string) {
	col := 0 // characters so far
	rest := line
	take := func(n int) (text string) {
		text, rest = rest[:n], rest[n:]
		col += len([]rune(text))
		return text
	}
	for {
		take(len(rest) - len(strings.TrimLeft(rest, " \t")))
		if rest == "" || rest[0] == '#' {
			return words, ""
		}
		at := position{number, col + 1}
		if q := rest[0]; q == '"' || q == '\'' {
			end := strings.IndexByte(rest[1:], q)
			if end < 0 {
				return nil, "a quotation mark without its end"
			}
			text := take(end + 2)
			words = append(words, csvCell{text[1 : len(text)-1], at})
			continue
		}
		end := strings.IndexAny(rest, " \t\"'")
		if end < 0 {
			end = len(rest)
		}
		words = append(words, csvCell{take(end), at})
	}
}

// line takes the words of one line.
func (p *parser) line(words []csvCell) {
	first := words[0]
	switch p.now {
	case inIdentification:
		if strings.Contains(first.text, "NUMBER_OF_") || strings.HasPrefix(first.text, "BEGIN_") {
			p.fs.add(first.at, "the file begins with "+quoted(first.text), "a line of identification, such as ISO28178")
		}
		p.now = inHeader
	case inHeader:
		p.header(words)
	case inFormat:
		for _, w := range words {
			if w.text == kwFormatEnd {
				p.now = inHeader
				break
			}
			p.table.fields = append(p.table.fields, w)
		}
	case inData:
		p.data(words)
	case afterData:
		p.fs.add(first.at, quoted(first.text)+" after the end of the data", "one table in a file")
	}
}

// header takes a line outside format and data.
func (p *parser) header(words []csvCell) {
	first := words[0]
	switch {
	case first.text == kwFormat:
		p.now = inFormat
		if p.formats++; p.formats > 1 {
			p.fs.add(first.at, "a second "+kwFormat, "one")
		}
		if len(words) > 1 {
			p.line(words[1:])
		}
	case first.text == kwData:
		p.now = inData
		if len(words) > 1 {
			p.data(words[1:])
		}
	case len(words) < 2:
		p.fs.add(first.at, "keyword "+quoted(first.text)+" has no value", "a value on the same line")
	case first.text == kwFields || first.text == kwSets:
		n, ok := parseCount(words[1].text)
		if _, twice := p.counts[first.text]; twice || !ok {
			p.fs.add(words[1].at, first.text+" "+quoted(words[1].text), "one whole number, once")
		}
		p.counts[first.text] = n
	}
}

// data takes a line of data.
func (p *parser) data(words []csvCell) {
	switch {
	case words[0].text == kwDataEnd:
		p.now = afterData
	case len(words) != len(p.table.fields):
		p.fs.add(words[0].at, fmt.Sprintf("%d values in this data set", len(words)), fmt.Sprintf("%d, as in the format", len(p.table.fields)))
		p.table.sets = append(p.table.sets, nil)
	default:
		p.table.sets = append(p.table.sets, words)
	}
}

// finish checks that everything came, as often as announced.
func (p *parser) finish() {
	switch {
	case p.now == inFormat:
		p.fs.add(p.end, "the file ends inside the format", kwFormatEnd)
	case p.now == inData:
		p.fs.add(p.end, "the file ends inside the data", kwDataEnd)
	case p.now != afterData:
		p.fs.add(p.end, "the file ends without data", kwData+" and "+kwDataEnd)
	}
	p.agree(kwFields, len(p.table.fields), "fields in the format")
	p.agree(kwSets, len(p.table.sets), "data sets")
	if len(p.table.sets) > maxRows {
		p.fs.add(position{}, fmt.Sprintf("%d data sets", len(p.table.sets)), fmt.Sprintf("at most %d", maxRows))
	}
	p.table.sets = slices.DeleteFunc(p.table.sets, func(s []csvCell) bool { return s == nil })
}

// agree compares a count with what is there.
func (p *parser) agree(word string, there int, what string) {
	announced, ok := p.counts[word]
	switch {
	case !ok:
		p.fs.add(position{}, "no "+word, fmt.Sprintf("it before the data, %d here", there))
	case announced != there:
		p.fs.add(position{}, fmt.Sprintf("%d %s, but %s is %d", there, what, word, announced), "the same number")
	}
}

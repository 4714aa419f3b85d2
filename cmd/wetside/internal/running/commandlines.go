package running

// Lines of commands from an input that may hold anything.

import (
	"bufio"
	"errors"
	"io"
	"strings"
)

// longestLine is how many bytes a command may have; a longer line is passed over.
const longestLine = 64 << 10

var errLongLine = errors.New("a line of over 64 KiB; it was passed over")

// commandLines reads line by line.
type commandLines struct{ in *bufio.Reader }

func newCommandLines(in io.Reader) commandLines {
	return commandLines{bufio.NewReaderSize(in, longestLine)}
}

// next is the next line, errLongLine in the place of one that is too long, io.EOF at the end.
func (l commandLines) next() (string, error) {
	line, err := l.in.ReadSlice('\n')
	text := string(line)
	long := false
	for errors.Is(err, bufio.ErrBufferFull) {
		long = true
		_, err = l.in.ReadSlice('\n')
	}
	switch {
	case err != nil && (!errors.Is(err, io.EOF) || long || text == ""):
		return "", io.EOF
	case long:
		return "", errLongLine
	}
	return strings.TrimSpace(text), nil
}

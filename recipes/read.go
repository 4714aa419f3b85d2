package recipes

// Reading a recipe: guard, decode, read table by table, check what spans
// several tables. Faults gather on the way; a file with any gives no recipe.

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strings"

	"github.com/BurntSushi/toml"

	"example.org/wetside/sequence"
)

// Read decodes and checks the recipe in data; name is what errors call the
// file. The error is Faults: everything that is wrong, in the order of the
// file. It holds nothing of data; no input makes it panic.
func Read(name string, data []byte) (sequence.Recipe, error) {
	vals, nodes, err := decoded(name, &data)
	if err != nil {
		return sequence.Recipe{}, err
	}
	r := &reader{file: name, sections: sections}
	recipe := r.recipe(table{field{r: r, node: nodes}, vals})
	if len(r.faults) > 0 {
		return sequence.Recipe{}, r.faults.inOrder(name)
	}
	return recipe, nil
}

// ReadFile reads the recipe at path. The error is Faults, or that of opening
// the file.
func ReadFile(path string) (sequence.Recipe, error) {
	data, err := readSmall(path)
	if err != nil {
		return sequence.Recipe{}, err
	}
	return Read(path, data)
}

// errPanic stands for a panic inside the TOML library.
var errPanic = errors.New("the file cannot be read as TOML")

// decode calls the TOML library and turns its panics into errors.
func decode(data []byte, into any) (err error) {
	defer func() {
		if recover() != nil {
			err = errPanic
		}
	}()
	return toml.Unmarshal(data, into)
}

// syntaxFault says where the file stops being TOML. The library's own
// formatting is not used, because it panics on some positions.
func syntaxFault(file string, data []byte, err error) Fault {
	f := Fault{File: file, What: errPanic.Error(), Expected: "TOML", Hint: "look for a quote that is not closed"}
	var p toml.ParseError
	if !errors.As(err, &p) {
		return f
	}
	f.What, f.Expected, f.Hint = decapitalised(p.Message), "", ""
	if !strings.Contains(f.What, "expected") {
		f.Expected = "TOML"
	}
	f.Line = p.Position.Line
	if line, col := lineCol(data, p.Position.Start); line == f.Line {
		f.Col = col
	}
	if lines := bytes.Split(data, []byte("\n")); f.Line > 0 && f.Line <= len(lines) && unquotedValue.Match(lines[f.Line-1]) {
		f.Hint = `times and other texts stand in quotes, such as "8m30s"`
	}
	return f
}

// unquotedValue finds a value that looks like a text and has no quotes.
var unquotedValue = regexp.MustCompile(`^[^"'#]*=\s*([0-9.:]+[a-zA-Z]|[a-zA-Z])`)

// decapitalised makes the library's message fit the other texts.
func decapitalised(message string) string {
	if len(message) > 200 {
		message = message[:200] + "…"
	}
	if message == "" {
		return errPanic.Error()
	}
	return strings.ToLower(message[:1]) + strings.TrimSuffix(message[1:], ".")
}

// tooLarge is the fault of a file over the limit.
func tooLarge(file, bytes string) Fault {
	return Fault{File: file, What: fmt.Sprintf("the file has %s bytes", bytes), Expected: "at most 65536"}
}

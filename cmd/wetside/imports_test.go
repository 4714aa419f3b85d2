package main

// The arrows between packages: any import that design.md does not list fails
// here, and so do clocks, disks and goroutines where only rules may be.

import (
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "example.org/wetside/"

// arrows are all that the design lists; cmd may import anything.
var arrows = map[string][]string{
	"chem":              {},
	"chem/curve":        {"chem"},
	"sequence":          {"chem"},
	"sequence/clock":    {},
	"sequence/journal":  {"sequence", "sequence/clock"},
	"sequence/live":     {"sequence", "sequence/clock", "sequence/journal"},
	"sequence/notebook": {"sequence", "sequence/journal", "chem/curve"},
	"sequence/probe":    {},
	"recipes":           {"sequence"},
	"recipes/settings":  {},
	"tui":               {"recipes", "sequence", "sequence/notebook", "chem/curve"},
	"tui/cue":           {"sequence", "chem/curve", "sequence/clock"},
	"tui/cue/sink":      {},
	"tui/room":          {"sequence", "chem/curve", "sequence/clock"},
	"tui/page":          {"sequence", "chem/curve", "sequence/clock"},
}

// beyond the design, each for its reason.
var beyond = map[string][]string{
	"recipes":             {"chem"},                // how times, temperatures and volumes are written
	"recipes/settings":    {"recipes", "sequence"}, // read with a recipe's guards; what units are is in sequence
	"sequence/probe":      {"chem", "sequence"},    // a reading is a temperature and a command
	"tui/black":           {},                      // keeps the screens' library from asking the terminal for its background
	"tui/room/glass":      {},                      // for tests: a terminal that knows what is lit
	"tui/room/peer":       {},                      // for tests: a system bus of its own
	"tui/cue/sink/studio": {},                      // for tests: sound servers of their own, and a recorder
}

// alone are the libraries that one package alone may import.
var alone = map[string][]string{
	"github.com/faiface/beep":            {"tui/cue"},
	"github.com/jfreymuth/oggvorbis":     {"tui/cue"},
	"github.com/charmbracelet/bubbletea": {"tui", "cmd/wetside"}, // cmd opens and closes what has a lifetime
	"github.com/charmbracelet/lipgloss":  {"tui", "tui/black"},
	"github.com/BurntSushi/toml":         {"recipes"},
	"github.com/godbus/dbus":             {"tui/room", "tui/room/peer"},
}

// listed is a package as `go list -json` tells of it.
type listed struct {
	ImportPath, Dir  string
	GoFiles, Imports []string
	IgnoredGoFiles   []string // for other systems
}

func packages(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Dir,GoFiles,IgnoredGoFiles,Imports", "./...")
	cmd.Dir = filepath.Join("..", "..")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var list []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return list
		} else if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
}

func TestArrows(t *testing.T) {
	list := packages(t)
	if len(list) < 8 {
		t.Fatalf("%d packages listed", len(list))
	}
	for _, p := range list {
		name := strings.TrimPrefix(p.ImportPath, module)
		allowed, known := arrows[name]
		if _, extra := beyond[name]; extra {
			known = true
		}
		for _, path := range p.Imports {
			to, ours := strings.CutPrefix(path, module)
			if ours && !strings.HasPrefix(name, "cmd/") && !slices.Contains(allowed, to) && !slices.Contains(beyond[name], to) {
				t.Errorf("%s -> %s: no such arrow", name, to)
			}
			for library, by := range alone {
				if (path == library || strings.HasPrefix(path, library+"/")) && !slices.Contains(by, name) {
					t.Errorf("%s imports %s; only %v may", name, path, by)
				}
			}
		}
		if !known && !strings.HasPrefix(name, "cmd/") {
			t.Errorf("%s: a package that the design does not name", name)
		}
	}
}

// pure packages hold rules: no device, no goroutine, no clock of their own.
var pure = []string{"chem", "chem/curve", "sequence", "tui"}

// outside are packages that reach the world; embedding a file is not reaching it.
var outside = []string{"os", "os/exec", "os/signal", "net", "net/http", "syscall", "golang.org/x/sys/unix", "log"}

// clocks are what reads or waits for the time in package time.
var clocks = []string{"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker"}

func TestPurePackagesTouchNothing(t *testing.T) {
	for _, p := range packages(t) {
		name := strings.TrimPrefix(p.ImportPath, module)
		if !slices.Contains(pure, name) {
			continue
		}
		for _, file := range p.GoFiles {
			for _, fault := range impure(t, filepath.Join(p.Dir, file)) {
				t.Errorf("%s/%s", name, fault)
			}
		}
	}
}

// impure lists what a file does that a pure package must not.
func impure(t *testing.T, path string) []string {
	t.Helper()
	set := token.NewFileSet()
	f, err := parser.ParseFile(set, path, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var faults []string
	add := func(n ast.Node, what string) {
		at := set.Position(n.Pos())
		faults = append(faults, filepath.Base(at.Filename)+":"+strconv.Itoa(at.Line)+": "+what)
	}
	for _, i := range f.Imports {
		if path, _ := strconv.Unquote(i.Path.Value); slices.Contains(outside, path) {
			add(i, "imports "+path)
		}
	}
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GoStmt:
			add(n, "a go statement")
		case *ast.SelectorExpr:
			if x, ok := n.X.(*ast.Ident); ok && x.Name == "time" && x.Obj == nil && slices.Contains(clocks, n.Sel.Name) {
				add(n, "time."+n.Sel.Name)
			}
		}
		return true
	})
	return faults
}

// The search finds what it is for.
func TestImpureIsFound(t *testing.T) {
	faults := impure(t, filepath.Join("testdata", "impure.txt"))
	want := []string{"impure.txt:4: imports os", "impure.txt:8: a go statement", "impure.txt:8: time.Sleep", "impure.txt:9: time.Now"}
	if !slices.Equal(faults, want) {
		t.Errorf("found %q; want %q", faults, want)
	}
}

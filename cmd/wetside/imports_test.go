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
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "example.org/wetside/"

// arrows are all that the design lists, by the package that has them.
var arrows = map[string][]string{
	"chem":              {},
	"chem/curve":        {"chem"},
	"chem/estimate":     {"chem"},
	"chem/growthbelief": {"chem"},
	"chem/response":     {},
	"chem/scan":         {},
	"recipes":           {"chem", "recipes/safetext", "sequence", "sequence/places", "sequence/plainfile"},
	"recipes/safetext":  {},
	"recipes/settings":  {"recipes", "sequence", "sequence/places"},

	"sequence":             {"chem"},
	"sequence/schedule":    {"chem", "chem/estimate", "sequence"},
	"sequence/planning":    {"chem", "sequence", "sequence/schedule"},
	"sequence/engine":      {"chem", "chem/estimate", "sequence", "sequence/schedule"},
	"sequence/clock":       {},
	"sequence/places":      {},
	"sequence/journal":     {"sequence", "sequence/clock", "sequence/places"},
	"sequence/plainfile":   {},
	"sequence/live":        {"sequence", "sequence/clock", "sequence/engine", "sequence/journal"},
	"sequence/thermometer": {"chem", "sequence"},
	"sequence/notebook":    {"chem", "sequence", "sequence/engine", "sequence/journal", "sequence/planning"},
	"sequence/bottles":     {"chem", "sequence", "sequence/journal", "sequence/notebook", "sequence/planning"},
	"sequence/densities":   {"chem/curve", "chem/response", "chem/scan", "sequence", "sequence/journal", "sequence/notebook", "sequence/plainfile", "sequence/planning"},
	"sequence/film":        {"chem", "chem/curve", "chem/growthbelief", "chem/response", "sequence", "sequence/densities", "sequence/journal", "sequence/notebook"},
	"sequence/holders":     {"chem", "chem/curve", "chem/response", "sequence", "sequence/densities", "sequence/journal", "sequence/notebook", "sequence/plainfile", "sequence/planning"},

	"tui":                {"recipes/safetext", "sequence", "tui/light", "tui/press", "tui/screen", "tui/screen/*", "tui/style", "tui/widget"},
	"tui/braille":        {"chem/curve"},
	"tui/cue":            {"sequence", "sequence/clock", "sequence/engine", "sequence/planning", "sequence/schedule"},
	"tui/cue/sink":       {},
	"tui/darkbackground": {},
	"tui/form":           {"chem/curve", "recipes/safetext", "sequence", "sequence/densities", "sequence/notebook", "tui/style", "tui/widget"},
	"tui/keyboard":       {"tui/press", "tui/ttywait"},
	"tui/light":          {"tui/ttywait"},
	"tui/page":           {"chem/curve", "sequence", "sequence/engine", "sequence/film", "sequence/planning", "tui/braille", "tui/say", "tui/timeline", "tui/widget"},
	"tui/press":          {},
	"tui/room":           {},
	"tui/say":            {"chem", "chem/curve", "chem/scan", "recipes/safetext", "sequence", "sequence/*"},
	"tui/style":          {},
	"tui/ttywait":        {},
	"tui/timeline":       {"sequence", "sequence/schedule"},
	"tui/widget":         {"sequence", "sequence/*", "recipes/safetext", "tui/say", "tui/style", "tui/timeline"},
	"tui/screen":         {"sequence", "sequence/*", "tui/light", "tui/press", "tui/widget"},
	"tui/screen/*": {"chem", "chem/curve", "chem/response", "chem/scan", "recipes", "recipes/safetext", "sequence", "sequence/*", "tui/form", "tui/light", "tui/light/lighttest", "tui/press",
		"tui/say", "tui/screen", "tui/screen/strips", "tui/style", "tui/timeline", "tui/widget"},

	// for tests alone
	"chem/goldentest":        {},
	"sequence/recipetest":    {"chem", "sequence"},
	"sequence/sessiontest":   {"chem", "recipes", "sequence", "sequence/clock", "sequence/engine", "sequence/journal", "sequence/planning", "sequence/recipetest"},
	"tui/cue/sink/pulsetest": {},                               // sound servers of their own, and a recorder
	"tui/light/lighttest":    {"tui/light", "tui/light/vtest"}, // a view by every light
	"tui/light/vtest":        {},                               // a terminal that knows what is lit
	"tui/room/bustest":       {},                               // a system bus of its own
}

// upward are the packages of the program itself in their order: each may import what
// stands before it here, and whatever is below cmd.
var upward = []string{"internal/hometest", "internal/app", "internal/running", "internal/filmtest", "internal/supervisor", "internal/cli/help", "internal/backend",
	"internal/screens", "internal/doctor", "internal/demo", "internal/cli/flags", "internal/cli/bottlescmd", "internal/cli/curvecmd", "internal/cli/exposecmd", "internal/cli/fitcmd",
	"internal/cli/notebookcmd", "internal/cli/scancmd", "internal/cli", "internal/manpage", "internal/mutate", "internal/parts", ""}

// alone are the libraries that one package alone may import, cmd's because it opens
// and closes what has a lifetime.
var alone = map[string][]string{
	"github.com/ebitengine/oto/v3":   {"tui/cue/sink"},
	"github.com/faiface/beep":        {"tui/cue"},
	"github.com/jfreymuth/oggvorbis": {"tui/cue"},
	"github.com/charmbracelet/bubbletea": {"tui", "tui/form", "tui/screen", "tui/screen/*", "tui/widget", "cmd/wetside/internal/backend", "cmd/wetside/internal/screens",
		"cmd/wetside/internal/doctor"},
	"github.com/charmbracelet/lipgloss": {"tui", "tui/darkbackground", "tui/style", "tui/widget"},
	"github.com/BurntSushi/toml":        {"recipes"},
	"github.com/godbus/dbus":            {"tui/room", "tui/room/bustest"},
	"gonum.org/v1/gonum/mat":            {}, // 0.3 MB of the binary
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
	if len(list) < 30 {
		t.Fatalf("%d packages listed", len(list))
	}
	for _, p := range list {
		name := strings.TrimPrefix(p.ImportPath, module)
		inCmd := standing(name) >= 0
		allowed, known := arrowsOf(name)
		forTest := slices.Contains(forTests, name)
		if !known && !inCmd {
			t.Errorf("%s: a package that the design does not name", name)
		}
		for _, imported := range p.Imports {
			to, ours := strings.CutPrefix(imported, module)
			switch {
			case ours && inCmd && standing(to) >= standing(name):
				t.Errorf("%s -> %s runs back up", name, to)
			case ours && !inCmd && !forTest && !slices.ContainsFunc(allowed, func(a string) bool { ok, _ := path.Match(a, to); return ok }):
				t.Errorf("%s -> %s: no such arrow", name, to)
			}
			for library, by := range alone {
				if (imported == library || strings.HasPrefix(imported, library+"/")) && !slices.Contains(by, name) && !slices.Contains(by, path.Dir(name)+"/*") {
					t.Errorf("%s imports %s; only %v may", name, imported, by)
				}
			}
		}
	}
}

// arrowsOf are a package's, or those of all in its folder.
func arrowsOf(name string) ([]string, bool) {
	if list, ok := arrows[name]; ok {
		return list, true
	}
	list, ok := arrows[path.Dir(name)+"/*"]
	return list, ok
}

// standing is where a package of the program stands in upward; -1 for any other.
func standing(name string) int {
	in, ok := strings.CutPrefix(name, "cmd/wetside")
	if !ok {
		return -1
	}
	return slices.Index(upward, strings.TrimPrefix(in, "/"))
}

// pure packages hold rules: no device, no goroutine, no clock of their own.
var pure = []string{"chem", "chem/curve", "chem/estimate", "chem/scan", "recipes/safetext", "sequence", "sequence/schedule", "sequence/planning", "sequence/engine", "tui", "tui/braille", "tui/form", "tui/press", "tui/say", "tui/screen", "tui/screen/*", "tui/timeline", "tui/style", "tui/widget"}

// outside are packages that reach the world; embedding a file is not reaching it.
var outside = []string{"os", "os/exec", "os/signal", "net", "net/http", "syscall", "golang.org/x/sys/unix", "log"}

// clocks are what reads or waits for the time in package time.
var clocks = []string{"Now", "Since", "Until", "Sleep", "After", "AfterFunc", "Tick", "NewTimer", "NewTicker"}

func TestPurePackagesTouchNothing(t *testing.T) {
	for _, p := range packages(t) {
		name := strings.TrimPrefix(p.ImportPath, module)
		if !slices.Contains(pure, name) && !slices.Contains(pure, path.Dir(name)+"/*") || slices.Contains(forTests, name) {
			continue
		}
		for _, file := range p.GoFiles {
			for _, fault := range impure(t, filepath.Join(p.Dir, file)) {
				t.Errorf("%s/%s", name, fault)
			}
		}
	}
}

// parsed is a file, and what adds a fault at a place in it to a list.
func parsed(t *testing.T, path string, faults *[]string) (*ast.File, func(ast.Node, string)) {
	t.Helper()
	set := token.NewFileSet()
	f, err := parser.ParseFile(set, path, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	return f, func(n ast.Node, what string) {
		at := set.Position(n.Pos())
		*faults = append(*faults, filepath.Base(at.Filename)+":"+strconv.Itoa(at.Line)+": "+what)
	}
}

// impure lists what a file does that a pure package must not.
func impure(t *testing.T, path string) []string {
	t.Helper()
	var faults []string
	f, add := parsed(t, path, &faults)
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

package main

// What the program never does: wait for anybody on a network, run a shell, or start
// a program that is not one of the few named here.

import (
	"go/ast"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// starters are the files that may start another program, with the reason.
var starters = map[string]string{
	"cmd/wetside/internal/supervisor/supervisor_unix.go": "itself, as the screens",
	"cmd/wetside/internal/supervisor/announce_unix.go":   "itself, as who says that these are gone",
	"cmd/wetside/internal/app/editor.go":                 "the editor that the person named in VISUAL or EDITOR, with the recipe's path as an argument of its own",
	"tui/cue/sink/exec.go":                               "a player of sound, by a fixed list of names and arguments",
	"tui/cue/sink/exec_unix.go":                          "the same, in a group of its own",
	"tui/cue/sink/exec_linux.go":                         "the same",
	"tui/cue/sink/exec_windows.go":                       "the same",
	"tui/cue/sink/exec_other.go":                         "the same",
	"tui/room/awake_darwin.go":                           "caffeinate, with its own process number",
	"tui/room/powersettings.go":                          "gsettings, kreadconfig or xset, to read what the desktop does when nobody types",
	"cmd/wetside/internal/doctor/laptop.go":              "tmux, to read whether its status line is lit",
	"tui/room/multiplexer.go":                            "tmux, to make dark what it shows around the screens, and to put it back",
	"cmd/wetside/internal/supervisor/orphan_unix.go":     "itself, to hand a terminal back whose supervisor died",
}

// forTests are packages that no program may import.
var forTests = []string{"chem/goldentest", "cmd/wetside/internal/hometest", "sequence/recipetest", "sequence/sessiontest", "tui/screen/drive", "tui/screen/recordtest", "tui/screen/runtest", "tui/cue/sink/pulsetest", "tui/light/lighttest", "tui/light/vtest", "tui/room/bustest"}

// forBuilders are programs for whoever builds wetside, run beside its source: they start the Go command.
var forBuilders = []string{"cmd/wetside/internal/mutate", "cmd/wetside/internal/parts"}

// reaching are the calls by which a process waits on a network or starts another.
var reaching = map[string][]string{
	"net":     {"Listen", "ListenConfig", "ListenIP", "ListenMulticastUDP", "ListenPacket", "ListenTCP", "ListenUDP", "ListenUnix", "ListenUnixgram", "FileListener"},
	"http":    {"ListenAndServe", "ListenAndServeTLS", "Serve", "ServeTLS", "Server", "Get", "Post", "Client", "DefaultClient"},
	"unix":    {"Listen", "Bind", "Exec"},
	"syscall": {"Listen", "Bind", "Exec", "ForkExec", "StartProcess"},
	"os":      {"StartProcess"},
	"exec":    {"Command", "CommandContext", "Cmd"},
}

// starting are those of them that a starter may use.
var starting = []string{"exec.Command", "exec.CommandContext", "exec.Cmd"}

// shells are programs that carry out text.
var shells = []string{"sh", "bash", "dash", "zsh", "fish", "env", "cmd", "cmd.exe", "powershell", "powershell.exe", "xargs", "eval"}

func TestNothingListensAndNoShellRuns(t *testing.T) {
	list := packages(t)
	for _, p := range list {
		name := strings.TrimPrefix(p.ImportPath, module)
		for _, path := range p.Imports {
			if to := strings.TrimPrefix(path, module); slices.Contains(forTests, to) && !slices.Contains(forTests, name) {
				t.Errorf("%s imports %s, which is for tests", name, to)
			}
		}
		if slices.Contains(forTests, name) || slices.Contains(forBuilders, name) {
			continue
		}
		for _, file := range append(p.GoFiles, p.IgnoredGoFiles...) {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			for _, fault := range open(t, filepath.Join(p.Dir, file), starters[name+"/"+file] != "") {
				t.Errorf("%s/%s", name, fault)
			}
		}
	}
}

// open lists what a file does that would open the program to others.
func open(t *testing.T, path string, starts bool) []string {
	t.Helper()
	var faults []string
	f, add := parsed(t, path, &faults)
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.SelectorExpr:
			x, ok := n.X.(*ast.Ident)
			if !ok || x.Obj != nil || !slices.Contains(reaching[x.Name], n.Sel.Name) {
				break
			}
			if call := x.Name + "." + n.Sel.Name; !starts || !slices.Contains(starting, call) {
				add(n, call)
			}
		case *ast.BasicLit:
			if text, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING && starts && slices.Contains(shells, filepath.Base(text)) {
				add(n, "the shell "+text)
			}
		}
		return true
	})
	return faults
}

// The search finds what it is for, in a file that may start programs and in one that
// may not.
func TestOpenIsFound(t *testing.T) {
	file := filepath.Join("testdata", "open.txt")
	want := []string{"open.txt:9: net.Listen", "open.txt:10: exec.Command", "open.txt:11: os.StartProcess"}
	if faults := open(t, file, false); !slices.Equal(faults, want) {
		t.Errorf("found %q; want %q", faults, want)
	}
	want = []string{"open.txt:9: net.Listen", "open.txt:10: the shell /bin/sh", "open.txt:11: os.StartProcess"}
	if faults := open(t, file, true); !slices.Equal(faults, want) {
		t.Errorf("found %q; want %q", faults, want)
	}
}

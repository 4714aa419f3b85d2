package recipes

// Where things stand: by hand for what is tricky, and against the TOML
// library for everything: what it decodes the walk must have found too.

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// find follows a path such as step.1.agitate.at.0 through the nodes.
func find(n *node, path ...any) *node {
	for _, p := range path {
		switch p := p.(type) {
		case string:
			n = n.child(p)
		case int:
			n = n.item(p)
		}
	}
	return n
}

func TestPositions(t *testing.T) {
	source := strings.Join([]string{
		`title = "a # [x] = { not a comment" # [y] = {`, // 1
		`about = """`,                       // 2
		`film = { name = "not a key" }`,     // 3
		`a quote: \""" and two more: """""`, // 4
		`[film]`,                            // 5
		`wet_limit = { tray = "18m" , "hangers"="1h" }`, // 6
		`"box_speed"= 80`,                    // 7
		`'single = quoted' = 1`,              // 8
		`  [ film . reciprocity ]`,           // 9
		`table = [ # a comment with ] in it`, // 10
		`  ["1s", "1.4s"],`,                  // 11
		`  [`,                                // 12
		`    '8]s', "40s", ],`,               // 13
		`]`,                                  // 14
		`[[step]]`,                           // 15
		`kind = "é" # é`,                     // 16
		`x = ["é", {y = 1}]`,                 // 17
		`[[step]]`,                           // 18
		`agitate.for = "10s"`,                // 19
		`agitate.at = ["1/3", 0.5]`,          // 20
		"[step.temperature]\r",               // 21
		"at = 20\r",                          // 22
		`"\u0061b\x41\e\\" = 1`,              // 23
	}, "\n")
	var vals map[string]any
	if err := decode([]byte(source), &vals); err != nil {
		t.Fatal(err)
	}
	root := positions([]byte(source))
	for _, c := range []struct {
		path []any
		want position
	}{
		{[]any{"title"}, position{1, 1}},
		{[]any{"about"}, position{2, 1}},
		{[]any{"film"}, position{5, 1}},
		{[]any{"film", "wet_limit"}, position{6, 1}},
		{[]any{"film", "wet_limit", "tray"}, position{6, 15}},
		{[]any{"film", "wet_limit", "hangers"}, position{6, 30}},
		{[]any{"film", "box_speed"}, position{7, 1}},
		{[]any{"film", "single = quoted"}, position{8, 1}},
		{[]any{"film", "reciprocity"}, position{9, 3}},
		{[]any{"film", "reciprocity", "table", 0, 1}, position{11, 10}},
		{[]any{"film", "reciprocity", "table", 1}, position{12, 3}},
		{[]any{"film", "reciprocity", "table", 1, 1}, position{13, 12}},
		{[]any{"step", 0}, position{15, 1}},
		{[]any{"step", 0, "x", 1}, position{17, 11}},
		{[]any{"step", 0, "x", 1, "y"}, position{17, 12}},
		{[]any{"step", 1}, position{18, 1}},
		{[]any{"step", 1, "agitate", "for"}, position{19, 9}},
		{[]any{"step", 1, "agitate", "at", 1}, position{20, 22}},
		{[]any{"step", 1, "temperature"}, position{21, 1}},
		{[]any{"step", 1, "temperature", "at"}, position{22, 1}},
		{[]any{"step", 1, "temperature", "abA\x1b\\"}, position{23, 1}},
	} {
		n := find(root, c.path...)
		if n == nil {
			t.Errorf("%v was not found", c.path)
		} else if n.at != c.want {
			t.Errorf("%v stands at %v, want %v", c.path, n.at, c.want)
		}
	}
	if got, want := find(root, "step", 0).keys(), []string{"kind", "x"}; !slices.Equal(got, want) {
		t.Errorf("keys %q, want %q", got, want)
	}
	agree(t, vals, root, "")
}

// TestPositionsAgree compares the walk with the library on every file here.
func TestPositionsAgree(t *testing.T) {
	compared := 0
	for file, data := range sources(t) {
		var vals map[string]any
		if decode(data, &vals) == nil {
			agree(t, vals, positions(data), file)
			compared++
		}
	}
	if compared < 20 {
		t.Errorf("only %d files were compared", compared)
	}
}

// sources are all recipes here, by their files.
func sources(t testing.TB) map[string][]byte {
	t.Helper()
	all := map[string][]byte{}
	for _, pattern := range []string{"testdata/*/*.toml", "starters/*.toml"} {
		files, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			if all[file], err = os.ReadFile(file); err != nil {
				t.Fatal(err)
			}
		}
	}
	return all
}

// agree checks that everything that the library decoded has a position, and
// that nothing else has one.
func agree(t *testing.T, val any, n *node, path string) {
	t.Helper()
	if n == nil {
		t.Errorf("%s has no position", path)
		return
	}
	switch val := val.(type) {
	case map[string]any:
		if len(n.order) != len(val) {
			t.Errorf("%s: keys %q, the library has %d", path, n.order, len(val))
		}
		for key, v := range val {
			agree(t, v, n.child(key), path+"."+key)
			if k := n.child(key); k != nil && k.at.line == 0 {
				t.Errorf("%s.%s stands nowhere", path, key)
			}
		}
	case []map[string]any:
		agreeList(t, len(val), n, path)
		for i, v := range val {
			agree(t, v, n.item(i), path)
		}
	case []any:
		agreeList(t, len(val), n, path)
		for i, v := range val {
			agree(t, v, n.item(i), path)
		}
	}
}

func agreeList(t *testing.T, want int, n *node, path string) {
	t.Helper()
	if len(n.items) != want {
		t.Errorf("%s: %d elements, the library has %d", path, len(n.items), want)
	}
}

// TestPositionsOfRubbish walks through cut and broken sources: it must end.
func TestPositionsOfRubbish(t *testing.T) {
	data, err := os.ReadFile("testdata/good/every-key.toml")
	if err != nil {
		t.Fatal(err)
	}
	for i := range data {
		positions(data[:i])
		positions(data[i:])
	}
	for _, s := range []string{"[", "[[", "]", "=", "a=", "a=[", "a={", "a={b", "a.", "\"", "'''", "\"\"\"\\", "a=[{", "a=[}", strings.Repeat("[", 100), "a=" + strings.Repeat("[", 1000)} {
		positions([]byte(s))
	}
}

// TestByteOrderMark: a mark at the start moves no column.
func TestByteOrderMark(t *testing.T) {
	_, err := Read("t.toml", []byte("\xef\xbb\xbftitle = 7\nx = y"))
	if want := "t.toml:2:5: "; err == nil || !strings.HasPrefix(err.Error(), want) {
		t.Errorf("%v, want %s", err, want)
	}
	_, err = Read("t.toml", []byte("\xef\xbb\xbftitle = 7\nfilm = 1\nload = 1\nstep = 1"))
	if want := "t.toml:1:1: title: "; err == nil || !strings.HasPrefix(err.Error(), want) {
		t.Errorf("%v, want %s", err, want)
	}
}

func TestLineCol(t *testing.T) {
	src := []byte("a\néb\r\n")
	for _, c := range []struct{ at, line, col int }{
		{-1, 1, 1}, {0, 1, 1}, {1, 1, 2}, {2, 2, 1}, {4, 2, 2}, {5, 2, 3}, {7, 3, 1}, {99, 3, 1},
	} {
		if line, col := lineCol(src, c.at); line != c.line || col != c.col {
			t.Errorf("byte %d: %d:%d, want %d:%d", c.at, line, col, c.line, c.col)
		}
	}
}

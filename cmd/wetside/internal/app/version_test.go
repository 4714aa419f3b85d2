package app

import (
	"runtime/debug"
	"testing"
)

// The forms are those of Go's documentation of debug.Module and of its pseudo-versions.
func TestBuiltVersion(t *testing.T) {
	for _, c := range []struct {
		written string
		LevelOK bool
		want    string
	}{
		{"v1.0.0", true, "1.0.0"},
		{"v0.0.0-20261125195502-7c4e54412345+dirty", true, "0.0.0-20261125195502-7c4e54412345+dirty"},
		{"(devel)", true, "development"},
		{"", true, "development"},
		{"", false, "development"},
	} {
		info := &debug.BuildInfo{Main: debug.Module{Version: c.written}}
		if got := builtVersion(info, c.LevelOK); got != c.want {
			t.Errorf("%q, %v: %q; expected %q", c.written, c.LevelOK, got, c.want)
		}
	}
}

//go:build unix

package doctor

import (
	"os"
	"path/filepath"
	"testing"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
)

func TestDiskIsTriedOut(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("XDG_STATE_HOME", dir)
	if f := checkDisk(); f.Level == LevelNo {
		t.Errorf("%+v", f)
	}
	left, err := os.ReadDir(filepath.Join(dir, "wetside", "sessions"))
	if err != nil || len(left) > 0 {
		t.Errorf("%v was left: %v", left, err)
	}
	t.Setenv("XDG_STATE_HOME", "/dev/null")
	if f := checkDisk(); f.Level != LevelNo || f.Do == "" {
		t.Errorf("%+v", f)
	}
}

func TestClockIsLookedAt(t *testing.T) {
	good := clock.Mark{Boot: "a-boot", Wall: oldestSaneClock.AddDate(7, 0, 0)}
	for level, m := range map[Level][]clock.Mark{
		LevelOK:   {good},
		LevelCare: {{Boot: good.Boot}, {Boot: "process-1-x", Wall: good.Wall}, {Wall: good.Wall}},
	} {
		for _, m := range m {
			if f := checkClock(m, sequence.Units{}); f.Level != level || (f.Do == "") != (level == LevelOK) {
				t.Errorf("%+v: %+v", m, f)
			}
		}
	}
}

func TestLinesHang(t *testing.T) {
	const text = "one two three four five six"
	for width, want := range map[int]string{
		80: "  > one two three four five six\n",
		24: "  > one two three four\n    five six\n",
		3:  "  > one two three four\n    five six\n", // twenty cells at least
	} {
		if got := hangingIndent("  > ", text, width); got != want {
			t.Errorf("%d: %q; want %q", width, got, want)
		}
	}
	if got := hangingIndent("- ", "averyveryveryverylongword b", 5); got != "- averyveryveryverylongword\n  b\n" {
		t.Errorf("%q", got)
	}
}

// That the computer is far away is told where it was reached through SSH, and nowhere else.
func TestFarAway(t *testing.T) {
	if list := checkFar(func(string) string { return "" }); list != nil {
		t.Errorf("near by: %+v", list)
	}
	list := checkFar(func(name string) string { return map[string]string{"SSH_TTY": "/dev/pts/3"}[name] })
	if len(list) != 1 || list[0].Level != LevelCare || list[0].Do == "" {
		t.Errorf("through SSH: %+v", list)
	}
}

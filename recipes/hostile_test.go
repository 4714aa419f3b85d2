package recipes

// Files from strangers: none may cause a panic, take long, or put a control
// character on a terminal.

import (
	"runtime"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"example.org/wetside/recipes/safetext"
)

// hostile are sources that have cost the TOML library its time or its footing,
// and what is said of each.
var hostile = []struct{ name, source, want string }{
	{"two bytes on which the library's formatting panics", `"\`, "invalid escape in string"},
	{"the same after a line", "title = \"t\"\n\"\\", "invalid escape in string"},
	{"40 KB of dotted keys", strings.Repeat("a.", 20_000) + "a = 1", "too many dots"},
	{"dots hidden behind a long string", "x = \"\"\"a\"\"\"\"\n" + strings.Repeat("a.", 9) + "a = 1", "too many dots"},
	{"dots with quoted names", strings.Repeat(`"a".`, 9) + "a = 1", "too many dots"},
	{"dots in a heading", "[" + strings.Repeat("a . ", 9) + "a]", "too many dots"},
	{"64 KB of opening brackets", "a = " + strings.Repeat("[", 65_000), "nested too deep"},
	{"64 KB of opening braces", "a = " + strings.Repeat("{a=", 20_000), "nested too deep"},
	{"brackets behind a string with an escaped quote", `a = ["\"", ` + strings.Repeat("[", 9), "nested too deep"},
	{"brackets behind a quote in a comment", "# don't\na = " + strings.Repeat("[", 9), "nested too deep"},
	{"brackets behind a quote in a string", `a = ['"', ` + strings.Repeat("[", 9), "nested too deep"},
	{"a byte over 64 KiB", strings.Repeat("#", maxFileSize+1), "the file has 65537 bytes"},
	{"64 KiB of headings", strings.Repeat("[[step]]\n", maxFileSize/9), "at most 200"},
	{"64 KiB of small headings", strings.Repeat("[[a]]\n", maxFileSize/6), "unknown key"},
	{"64 KiB of unknown keys", numbered("k%=1\n"), "more faults"},
	{"64 KiB of unknown keys in one line", "x = {" + numbered("k%=1,") + "z=1}", "unknown key"},
	{"64 KiB of escaped keys", numbered(`"\u0061%"=1` + "\n"), "more faults"},
	{"64 KiB of cautions", sound + "[[bath]]\nid='a'\ncautions=[" + strings.Repeat("'',", 20_000) + "]", "more faults"},
	{"a long name", sound + "[[step]]\nkind='" + strings.Repeat("x", 60_000) + "'", "unknown word"},
	{"a long key", sound + strings.Repeat("x", 60_000) + "=1", "unknown key"},
	{"an escape sequence in a key", `"\u001b[2J" = 1`, "unknown key"},
	{"a raw control character", "title = \"a\x1bb\"", "control characters"},
	{"a NUL", "title = \"a\x00b\"", "control characters"},
	{"UTF-16", "\xff\xfet\x00i\x00", "not UTF-8"},
	{"a huge number", sound + "[[bath]]\nid='a'\nsheets_per_litre=99999999999999999999", "out of range"},
	{"a huge float", sound + "[[bath]]\nid='a'\nsheets_per_litre=1e999", ""},
	{"zero divided", sound + "[[step]]\nkind='fix'\ntime='5m'\nagitate={for='1s',at=['0/0']}", "no such fraction"},
}

// numbered repeats pattern with a number for % up to just under 64 KiB.
func numbered(pattern string) string {
	var b strings.Builder
	for i := 0; b.Len() < maxFileSize-100; i++ {
		b.WriteString(strings.Replace(pattern, "%", strings.Repeat("i", i%7)+itoa(i), 1))
	}
	return b.String()
}

func itoa(i int) string {
	if i < 10 {
		return string(rune('0' + i))
	}
	return itoa(i/10) + itoa(i%10)
}

func TestHostile(t *testing.T) {
	for _, c := range hostile {
		took, used, err := measured(c.source)
		if err == nil {
			t.Errorf("%s: was read", c.name)
			continue
		}
		text := err.Error()
		if !strings.Contains(text, c.want) {
			t.Errorf("%s: %.200q does not say %q", c.name, text, c.want)
		}
		if took > slowest {
			t.Errorf("%s: took %v", c.name, took)
		}
		if used > 64<<20 {
			t.Errorf("%s: %d MB", c.name, used>>20)
		}
		inspect(t, err)
	}
}

// slowest is for a machine that is busy with something else: it finds what grows
// without bound. What a file takes on a quiet one BenchmarkHostile tells.
const slowest = 10 * time.Second

// BenchmarkHostile reads each of them. The aim is under 100 ms.
func BenchmarkHostile(b *testing.B) {
	for _, c := range hostile {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				measured(c.source)
			}
		})
	}
}

// measured reads a source and makes the text of its error; it returns
// the time, the bytes allocated and the error.
func measured(source string) (time.Duration, uint64, error) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	start := time.Now()
	_, err := Read("t.toml", []byte(source))
	if err != nil {
		_ = err.Error()
	}
	took := time.Since(start)
	runtime.ReadMemStats(&after)
	return took, after.TotalAlloc - before.TotalAlloc, err
}

// TestOnlyTheNearMissIsRefused keeps the limits from creeping inwards.
func TestOnlyTheNearMissIsRefused(t *testing.T) {
	for _, source := range []string{
		strings.Repeat("#", maxFileSize),
		"x = " + strings.Repeat("[", 8) + strings.Repeat("]", 8),
		strings.Repeat("a.", 8) + "a = 1",
		"x = '" + strings.Repeat("[", 100) + strings.Repeat(".", 100) + "'",
		"x = '''\n" + strings.Repeat("[", 100) + "'''''\n# " + strings.Repeat("[.", 100),
		"x = [1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0, 1.0]",
	} {
		if faults := prescan("t.toml", []byte(source)); faults != nil {
			t.Errorf("%.60q: %v", source, faults)
		}
	}
}

// inspect checks that an error is fit for a terminal and says where it is.
func inspect(t *testing.T, err error) {
	t.Helper()
	faults, ok := err.(Faults)
	if !ok || len(faults) == 0 {
		t.Fatalf("error %T, want Faults", err)
	}
	if len(faults) > maxFaults+1 {
		t.Errorf("%d faults", len(faults))
	}
	for _, f := range faults {
		line := f.Error()
		if !utf8.ValidString(line) || safetext.Clean(line) != line {
			t.Errorf("not fit for a terminal: %q", line)
		}
		if f.What == "" {
			t.Errorf("nothing said: %+v", f)
		}
	}
}

// TestFaultCleansItsFile: a file's name comes from outside too.
func TestFaultCleansItsFile(t *testing.T) {
	_, err := Read("a\x1b[2Jb.toml", nil)
	if err == nil || strings.ContainsRune(err.Error(), 0x1b) {
		t.Errorf("%q", err)
	}
}

// FuzzRead looks for a source that panics, or whose error or recipe is not fit
// for a terminal, or in which the walk for positions misses something that the
// library finds.
func FuzzRead(f *testing.F) {
	for _, data := range sources(f) {
		f.Add(data)
	}
	for _, c := range hostile {
		if len(c.source) < 1000 {
			f.Add([]byte(c.source))
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		recipe, err := Read("t.toml", data)
		var vals map[string]any
		if prescan("t.toml", data) == nil && decode(data, &vals) == nil {
			agree(t, vals, positions(data), "")
		}
		if err != nil {
			inspect(t, err)
			return
		}
		for _, s := range texts(recipe) {
			if safetext.Clean(s) != s {
				t.Errorf("not fit for a terminal: %q", s)
			}
		}
	})
}

package recipes

// The edges: what is just allowed and what is just refused.

import (
	"strings"
	"testing"
)

// with is a sound recipe whose film, load and only step have further keys.
func with(film, load, step string) string {
	return `title = "t"
[film]
name = "Plover 80"
` + film + `
[load]
size = "4x5in"
` + load + `
[[step]]
kind = "develop"
` + step + `
`
}

func TestEdges(t *testing.T) {
	const load, step = "vessel = 'tray'\nsheets = 1", "time = '5m'"
	recip := func(pairs string) string { return with("reciprocity = { table = "+pairs+" }", load, step) }
	degrees := func(s string) string { return with("", load, step+"\ntemperature = "+s) }
	for _, c := range []struct {
		name, source string
		fine         bool
	}{
		{"a byte order mark", "\xef\xbb\xbf" + with("", load, step), true},
		{"a second", with("", load, "time = '1s'"), true},
		{"a day", with("", load, "time = '24h'"), true},
		{"60 C", degrees("{ at = 60 }"), true},
		{"0 C", degrees("{ at = '32F' }"), true},
		{"NaN C", degrees("{ at = nan }"), false},
		{"coefficient 1", degrees("{ at = 20, coefficient = 1 }"), true},
		{"coefficient 6.01", degrees("{ at = 20, coefficient = 6.01 }"), false},
		{"a range of nothing", degrees("{ at = 20, range = [20, 20] }"), false},
		{"1 degree under the table", degrees("{ at = 17, table = [[18, '6m'], [24, '4m']] }"), true},
		{"1.1 degrees under the table", degrees("{ at = 16.9, table = [[18, '6m'], [24, '4m']] }"), false},
		{"1 degree over the table", degrees("{ at = 25, table = [[18, '6m'], [24, '4m']] }"), true},
		{"1.1 degrees over the table", degrees("{ at = 25.1, table = [[18, '6m'], [24, '4m']] }"), false},
		{"the same time at two temperatures", degrees("{ at = 20, table = [[18, '6m'], [24, '6m']] }"), true},
		{"corrected to the metered time", recip("[['1s', '1s'], ['8s', '40s']]"), true},
		{"corrected to the same twice", recip("[['1s', '8s'], ['4s', '8s']]"), false},
		{"a single pair", recip("[['1s', '2s']]"), false},
		{"an empty wet limit", with("wet_limit = {}", load, step), false},
		{"200 sheets", with("", "vessel = 'tray'\nsheets = 200", step), true},
		{"a long drain of a single sheet", with("", load, step+"\ndrain = '20s'"), true},
		{"a long drain of a stack", with("", "vessel = 'tray'\nsheets = 2", step+"\ndrain = '10s'"), false},
		{"a long drain in hangers", with("", "vessel = 'hangers'\nsheets = 2", step+"\ndrain = '10s'"), true},
		{"out of the drum", with("", "vessel = 'drum'\nsheets = 1\nreverse_every = '30s'", step+"\nvessel = 'tray'"), true},
		{"into the drum", with("", "vessel = 'tray'\nsheets = 1\nreverse_every = '30s'", step+"\nvessel = 'drum'"), true},
		{"through the drum", with("", "vessel = 'tray'\nsheets = 1\nreverse_every = '30s'",
			step+"\nvessel = 'drum'\n[[step]]\nkind = 'fix'\nvessel = 'tray'\ntime = '5m'"), true},
		{"a cycle longer than the shortest time", with("", load, "times = { A = '30s', B = '5m' }\nagitate = { for = '5s', every = '1m' }"), true},
		{"lights on at the very end", with("", load, step+"\n[[step]]\nkind = 'fix'\ntime = '2m'\nlights_on_after = '2m'"), true},
		{"at least all of it", with("", load, step+"\nat_least = '5m'"), true},
		{"no bath beside a bath with a short name", "bath = [{ id = 'A' }]\n" + with("", load, step), true},
		{"a bath that is not described", "bath = [{ id = 'A' }]\n" + with("", load, step+"\nbath = 'fixer'"), true},
		{"the same fraction twice", with("", load, step+"\nagitate = { for = '5s', at = ['1/2', 0.5] }"), false},
		{"the fraction 0", with("", load, step+"\nagitate = { for = '5s', at = ['0/2'] }"), false},
		{"a name of 40", with("", load, step+"\nname = '"+strings.Repeat("é", 40)+"'"), true},
		{"a name of 41", with("", load, step+"\nname = '"+strings.Repeat("é", 41)+"'"), false},
		{"TRUE", with("", load, step+"\noptional = 1"), false},
	} {
		_, err := Read("t.toml", []byte(c.source))
		if (err == nil) != c.fine {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

func TestBlanksAroundATextAreDropped(t *testing.T) {
	r, err := Read("t.toml", []byte(strings.Replace(sound, `"t"`, `"  t "`, 1)+"step = [{ kind = 'fix', time = '5m' }]"))
	if err != nil || r.Title != "t" {
		t.Errorf("%q, %v", r.Title, err)
	}
}

// bomb panics while it is decoded.
type bomb struct{}

func (*bomb) UnmarshalTOML(any) error { panic("bang") }

func TestPanicsInTheLibraryAreErrors(t *testing.T) {
	if err := decode([]byte("a = 1"), &bomb{}); err != errPanic {
		t.Errorf("got %v, want %v", err, errPanic)
	}
	want := "t.toml: the file cannot be read as TOML; expected TOML (look for a quote that is not closed)"
	if got := syntaxFault("t.toml", nil, errPanic).Error(); got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

package recipes

import (
	"os"
	"slices"
	"strings"
	"testing"

	"example.org/wetside/tui/say"
)

// The guide and the film tests that are shipped tell sheets apart as the plan does.
func TestOneSchemeOfClips(t *testing.T) {
	for _, name := range []string{"plover-film-test", "plover-test-together", "tern-test-straight-on"} {
		data, ok := ShippedSource(name)
		if !ok {
			t.Fatalf("no starter %s", name)
		}
		r, err := Read(name, data)
		if err != nil || !slices.Equal(r.Load.Names, say.Clips(4)) {
			t.Errorf("%s: %q, %v; expected %q", name, r.Load.Names, err, say.Clips(4))
		}
	}
	guide, err := os.ReadFile("first-film-test.md")
	if err != nil {
		t.Fatal(err)
	}
	if want := "`" + strings.Join(say.Clips(4), "`, `") + "`"; !strings.Contains(string(guide), want) {
		t.Errorf("the guide does not say %s", want)
	}
}

package recipes

import (
	"reflect"
	"testing"
)

// What is written is read back as the same recipe, for every shipped one and for
// those of the tests that are sound.
func TestWriteIsReadBack(t *testing.T) {
	for _, e := range ShippedEntries() {
		want, err := Find(e.Name, "")
		if err != nil {
			t.Fatal(err)
		}
		text := Write(want, "written by a test", "second line")
		got, err := Read(e.Name+".toml", text)
		if err != nil {
			t.Errorf("%s: %v\n%s", e.Name, err, text)
			continue
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: read back as\n%+v\nexpected\n%+v\n%s", e.Name, got, want, text)
		}
	}
}

func TestWriteQuotes(t *testing.T) {
	r, err := Find("tern-hangers", "")
	if err != nil {
		t.Fatal(err)
	}
	r.Title = `a "quoted" \ title`
	got, err := Read("x.toml", Write(r))
	if err != nil || got.Title != r.Title {
		t.Errorf("%q, %v; expected %q", got.Title, err, r.Title)
	}
}

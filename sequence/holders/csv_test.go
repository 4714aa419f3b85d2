package holders

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

const remarked = `# what waits in the salt pans' bag

# the heading in an order of my own
film, holder, side, note

Plover 80, 3, A, "gulls,
many"
# 3B has a light leak, perhaps
Plover 80,3,B,
Tern 125, 10, A, x
# the end`

// A change touches the lines of the sheets that it is about, and no other.
func TestRemarksStay(t *testing.T) {
	day := time.Date(2026, 11, 25, 18, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name   string
		do     func(b SheetStore, list []ExposedSheet) error
		change func(text string) string // what is to become of the text
	}{
		{"dropped", func(b SheetStore, list []ExposedSheet) error { return b.Replace(list[0], nil) },
			func(s string) string { return strings.Replace(s, "Plover 80, 3, A, \"gulls,\nmany\"\n", "", 1) }},
		{"changed", func(b SheetStore, list []ExposedSheet) error {
			to := list[1]
			to.Note = "# no leak"
			return b.Replace(list[1], &to)
		}, func(s string) string { return strings.Replace(s, "Plover 80,3,B,\n", "Plover 80,3,B,# no leak\n", 1) }},
		{"added", func(b SheetStore, _ []ExposedSheet) error { return b.Add(ExposedSheet{Holder: "4", Film: "Plover 80"}) },
			func(s string) string { return s + "\nPlover 80,4,,\n" }},
		{"added with more", func(b SheetStore, _ []ExposedSheet) error {
			return b.Add(ExposedSheet{Holder: "4", Film: "Plover 80", Range: 6.5, Exposed: day})
		}, func(s string) string {
			s = strings.Replace(s, "side, note\n", "side, note,range,exposed\n", 1)
			s = strings.Replace(s, "many\"\n", "many\",,\n", 1)
			s = strings.Replace(s, "3,B,\n", "3,B,,,\n", 1)
			return strings.Replace(s, "A, x\n", "A, x,,\n", 1) + "\nPlover 80,4,,,6.5,2026-11-25T18:00:00Z\n"
		}},
		{"two added", func(b SheetStore, _ []ExposedSheet) error {
			return b.Add(ExposedSheet{Holder: "4", Side: "A", Film: "Plover 80"}, ExposedSheet{Holder: "4", Side: "B", Film: "Plover 80"})
		}, func(s string) string { return s + "\nPlover 80,4,A,\nPlover 80,4,B,\n" }},
	} {
		for _, form := range []struct{ name, before, from, to string }{
			{"typed", "", "", ""}, {"spreadsheet", "\ufeff", "\n", "\r\n"},
		} {
			text := form.before + strings.ReplaceAll(remarked, form.from, form.to)
			want := form.before + strings.ReplaceAll(c.change(remarked), form.from, form.to)
			if form.from == "" {
				text, want = remarked, c.change(remarked)
			}
			b := SheetStore{Folder: t.TempDir(), Laptop: "dry"}
			path := filepath.Join(b.Folder, "dry.csv")
			if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			list, err := b.read("dry.csv")
			if err != nil || len(list) != 3 {
				t.Fatalf("%v, %+v", err, list)
			}
			if err := c.do(b, list); err != nil {
				t.Fatalf("%s, %s: %v", c.name, form.name, err)
			}
			if got, _ := os.ReadFile(path); string(got) != want {
				t.Errorf("%s, %s:\n%q; expected\n%q", c.name, form.name, got, want)
			}
		}
	}
}

// What a spreadsheet parts by semicolons stays parted so, with commas for decimals.
func TestSemicolonsStay(t *testing.T) {
	b := SheetStore{Folder: t.TempDir(), Laptop: "dry"}
	path := filepath.Join(b.Folder, "dry.csv")
	os.WriteFile(path, []byte("holder;film;range;development\n# mine\n3;Plover 80;7,5;0,62\n"), 0o600)
	if err := b.Add(ExposedSheet{Holder: "4", Film: "Plover 80", Range: 6.5, Note: "wind, rain"}); err != nil {
		t.Fatal(err)
	}
	want := "holder;film;range;development;note\n# mine\n3;Plover 80;7,5;0,62;\n4;Plover 80;6,5;;wind, rain\n"
	if got, _ := os.ReadFile(path); string(got) != want {
		t.Errorf("%q; expected %q", got, want)
	}
}

// A remark in the first column is no comment.
func TestFirstCellLikeAComment(t *testing.T) {
	b := SheetStore{Folder: t.TempDir(), Laptop: "dry"}
	os.WriteFile(filepath.Join(b.Folder, "dry.csv"), []byte("note,film,holder\n"), 0o600)
	if err := b.Add(ExposedSheet{Holder: "4", Film: "Plover 80", Note: "# of the gulls"}); err != nil {
		t.Fatal(err)
	}
	if list, err := b.List(); err != nil || len(list) != 1 || list[0].Note != "# of the gulls" {
		t.Errorf("%v, %+v", err, list)
	}
}

// A sheet that somebody else has changed since it was read is not written over.
func TestChangedMeanwhile(t *testing.T) {
	b := SheetStore{Folder: t.TempDir(), Laptop: "dry"}
	if err := b.Add(ExposedSheet{Holder: "3", Film: "Plover 80"}, ExposedSheet{Holder: "4", Film: "Plover 80"}); err != nil {
		t.Fatal(err)
	}
	list, _ := b.List()
	mine, yours := list[0], list[0]
	mine.Note, yours.Development = "gulls", "N+1"
	if err := b.Replace(list[0], &mine); err != nil {
		t.Fatal(err)
	}
	if err := b.Replace(list[0], &yours); err == nil || !strings.Contains(err.Error(), `note has been changed to "gulls"`) {
		t.Errorf("%v", err)
	}
	if err := b.Replace(list[0], nil); err == nil {
		t.Error("dropped")
	}
	renamed := list[1]
	renamed.Holder = "3"
	if err := b.Replace(list[1], &renamed); err == nil || !strings.Contains(err.Error(), "on the list already") {
		t.Errorf("%v", err)
	}
	if list, _ = b.List(); len(list) != 2 || list[0].Note != "gulls" || list[0].Development != "" {
		t.Errorf("%+v", list)
	}
}

// Whatever can be read can be changed, comes back as it was but for the change, and
// keeps its comments.
func FuzzReadWaiting(f *testing.F) {
	f.Add([]byte(sheetsTyped))
	f.Add([]byte(remarked))
	f.Add([]byte("\ufeffholder;film;range\r\n#x\r\n1;a;7,5\r\n"))
	f.Add([]byte("holder,film\n\"1\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := parseCSV("f.csv", data)
		if err != nil {
			return
		}
		fresh := ExposedSheet{Holder: "newest", Film: "Plover 80", Note: "# wind, rain; \"gulls\"", Range: 6.5, Exposed: time.Unix(1795632900, 0)}
		if list.find(&fresh) >= 0 {
			return
		}
		check(t, list, list.add(fresh), append(slices.Clone(list.sheets), fresh))
		for i := range list.sheets {
			changed := list.sheets[i]
			changed.Holder, changed.Shadow = "newest", "III"
			if list.find(&changed) >= 0 {
				continue
			}
			check(t, list, list.put(i, &changed), slices.Concat(list.sheets[:i], []ExposedSheet{changed}, list.sheets[i+1:]))
			check(t, list, list.put(i, nil), slices.Concat(list.sheets[:i], list.sheets[i+1:]))
		}
	})
}

// check reads a changed text: the sheets that are to be on it, and its comments.
func check(t *testing.T, was csvText, text []byte, want []ExposedSheet) {
	t.Helper()
	got, err := parseCSV("g.csv", text)
	if err != nil || len(got.sheets) != len(want) {
		t.Fatalf("%q became %q: %v", was.text, text, err)
	}
	for i := range want {
		for _, c := range columns {
			a, b := strings.ReplaceAll(got.sheets[i].cell(c), "\r", ""), strings.ReplaceAll(want[i].cell(c), "\r", "")
			if a != b && !(c == "exposed" && got.sheets[i].Exposed.Equal(want[i].Exposed)) {
				t.Fatalf("%q became %q: %s %q; expected %q", was.text, text, c, a, b)
			}
		}
	}
	if a, b := between(was), between(got); a != b {
		t.Fatalf("%q became %q: between the sheets %q; expected %q", was.text, text, b, a)
	}
}

// between is all of a list that is neither its heading nor a sheet, ends of lines aside.
func between(l csvText) string {
	var b strings.Builder
	from := 0
	for _, s := range append([]span{l.heading}, l.lines...) {
		b.Write(l.text[from:s.from])
		from = s.to
	}
	b.Write(l.text[from:])
	return strings.NewReplacer("\r", "", "\n", "").Replace(b.String())
}

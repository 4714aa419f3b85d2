package form

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

func key(name string) tea.KeyMsg {
	for t, s := range map[tea.KeyType]string{tea.KeyUp: "up", tea.KeyDown: "down", tea.KeyLeft: "left", tea.KeyRight: "right",
		tea.KeyEnter: "enter", tea.KeyEsc: "esc", tea.KeyCtrlU: "ctrl+u", tea.KeyPgDown: "pgdown"} {
		if s == name {
			return tea.KeyMsg{Type: t}
		}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

func fields() []Field {
	return []Field{{Label: "unit", Choices: []string{"density", "stops"}}, {Label: "film", Usual: "as in its recipe", Means: "The film's name."}, {Label: "Begin", Do: true}}
}

// In a live form letters go into the field under the cursor; enter goes on, at last does.
func TestLive(t *testing.T) {
	f := Form{Fields: fields(), Live: true}
	f, e := f.Update(key("right"))
	if e != Changed || f.Fields[0].Value() != "stops" {
		t.Fatalf("%v, %q", e, f.Fields[0].Value())
	}
	if f.Typing() {
		t.Fatal("a choice is not typed")
	}
	f, _ = f.Update(key("enter"))
	for _, r := range "Tern" {
		f, e = f.Update(key(string(r)))
	}
	if e != Changed || f.Fields[1].Value() != "Tern" || !f.Typing() {
		t.Fatalf("%v, %q", e, f.Fields[1].Value())
	}
	f, _ = f.Update(key("enter"))
	if f, e = f.Update(key("enter")); e != Done || f.At != 2 {
		t.Fatalf("%v at %d", e, f.At)
	}
	if _, e = f.Update(key("esc")); e != Left {
		t.Errorf("%v", e)
	}
}

// Else enter opens a field and takes its value, and esc leaves it as it was.
func TestOpenedByEnter(t *testing.T) {
	f := Form{Fields: fields(), At: 1}
	f.Fields[1].Text = "Plover"
	if _, e := f.Update(key("w")); e != Unknown {
		t.Fatalf("a letter is the screen's: %v", e)
	}
	f, _ = f.Update(key("enter"))
	f, _ = f.Update(key("ctrl+u"))
	left, e := f.Update(key("esc"))
	if e != None || left.Fields[1].Text != "Plover" || left.Typing() {
		t.Fatalf("%v, %q", e, left.Fields[1].Text)
	}
	f, _ = f.Update(key("Z"))
	if f, e = f.Update(key("enter")); e != Changed || f.Fields[1].Text != "Z" || f.Typing() {
		t.Fatalf("%v, %q", e, f.Fields[1].Text)
	}
}

// Where nothing is chosen yet ←→ take the last or the first.
func TestNothingChosen(t *testing.T) {
	f := Form{Fields: []Field{{Choices: []string{"a", "b", "c"}, Chosen: -1, Usual: "choose"}}}
	if left, _ := f.Update(key("left")); left.Fields[0].Value() != "c" {
		t.Errorf("%q", left.Fields[0].Value())
	}
	if right, _ := f.Update(key("right")); right.Fields[0].Value() != "a" {
		t.Errorf("%q", right.Fields[0].Value())
	}
}

// No row is wider, there are not more rows, the cursor's is among them, its fault beside it.
func TestFits(t *testing.T) {
	for w := 34; w <= 120; w += 7 {
		for h := 1; h < 12; h++ {
			for at := range 3 {
				f := Form{Fields: fields(), At: at}
				f.Fields[1].Fault = "no film of that name"
				rows := strings.Split(f.View(w, h), "\n")
				if len(rows) > h {
					t.Fatalf("%dx%d: %d rows", w, h, len(rows))
				}
				text := ansi.Strip(strings.Join(rows, "\n"))
				if !strings.Contains(text, "▌") {
					t.Fatalf("%dx%d at %d: the cursor is not seen\n%s", w, h, at, text)
				}
				for _, r := range rows {
					if ansi.StringWidth(r) > w {
						t.Fatalf("%d: %q", w, r)
					}
				}
			}
		}
	}
	f := Form{Fields: fields()}
	f.Fields[1].Fault = "no film of that name"
	if got := ansi.Strip(f.Rows(80)[1]); !strings.Contains(got, "no film of that name") {
		t.Errorf("%q", got)
	}
	f.At = 1
	for _, w := range []int{80, 30} { // beside the field; where that is cut, beneath
		if n := strings.Count(ansi.Strip(f.View(w, 20)), "no film of that name"); n != 1 {
			t.Errorf("%d columns: said in full %d times; expected once", w, n)
		}
	}
}

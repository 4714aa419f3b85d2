package sequence

// Dialogues: what a person or the driver said, a divider, and all that the machine
// answered. A file begins with the recipe's name; "TIME command" follows. Ticks are
// left out, and turns in a row told in one line. To write the answers anew, and
// then read them against the contract: go test -run Dialogue -update

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"example.org/wetside/chem"
)

var update = flag.Bool("update", false, "write what the machine says into the dialogues")

const divider = "----"

// onFile are the recipes that dialogues name.
var onFile = map[string]func() Recipe{
	"tray": three,
	"hangers": func() Recipe {
		r := hung()
		r.Steps[1] = r.Steps[1].agitated(periodic(60*sec, 10*sec, 60*sec)).drained(8 * sec)
		r.Film.WetLimit.All = 20 * mins
		return r
	},
	"slowly loaded": func() Recipe { // straight into the developer, half a minute apart
		r := recipeOf(Tray, 4, bathFor(Develop, 5*mins).at(20, 2.2).shuffled(), bathFor(StopBath, mins).shuffled())
		r.Load.LoadEvery = 30 * sec
		return r
	},
	"stack of four": func() Recipe {
		r := recipeOf(Tray, 4, bathFor(Presoak, mins).shuffled(), bathFor(Develop, 5*mins).shuffled().drained(8*sec),
			bathFor(StopBath, mins).shuffled(), bathFor(Fix, 4*mins).shuffled())
		r.Film.WetLimit.All = 18 * mins
		return r
	},
	"waits": func() Recipe {
		r := hung()
		r.Steps[0].Wait = true
		return r
	},
	"film test": func() Recipe {
		return recipeOf(Hangers, 3, bathFor(Presoak, 2*mins),
			bathFor(Develop, 0).taking(5*mins, 7*mins, 10*mins).agitated(periodic(30*sec, 5*sec, 60*sec)),
			bathFor(StopBath, 30*sec).steadily(), bathFor(Fix, 5*mins).steadily())
	},
}

func TestDialogues(t *testing.T) {
	files, err := filepath.Glob("testdata/dialogue/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no dialogues: %v", err)
	}
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			data, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			got := spoken(t, string(data))
			if *update {
				if err := os.WriteFile(f, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if got != string(data) {
				t.Errorf("the machine says otherwise:\n%s", differing(string(data), got))
			}
		})
	}
}

// differing shows the lines around the first difference.
func differing(want, got string) string {
	a, b := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return fmt.Sprintf("line %d:\nexpected %s\nsays     %s", i+1, a[i], b[i])
		}
	}
	return fmt.Sprintf("%d lines; expected %d", len(b), len(a))
}

// spoken carries a dialogue out and returns it with the machine's answers.
func spoken(t *testing.T, file string) string {
	var out strings.Builder
	var n *session
	answering := false
	for _, line := range strings.Split(file, "\n") {
		switch {
		case answering && line != "":
			continue
		case answering, line == "", strings.HasPrefix(line, "#"):
			answering = false
		case strings.HasPrefix(line, "recipe "):
			s, err := NewState(planOf(t, onFile[strings.TrimPrefix(line, "recipe ")](), Conditions{}))
			if err != nil {
				t.Fatal(err)
			}
			n = &session{s: s}
		case line != divider:
			now, c := heard(t, line)
			fmt.Fprintf(&out, "%s\n%s\n%s", line, divider, n.answer(c, now))
			answering = true
			continue
		}
		out.WriteString(line + "\n")
	}
	return strings.TrimSuffix(out.String(), "\n")
}

// heard reads "TIME command"; a look has none.
func heard(t *testing.T, line string) (Elapsed, Command) {
	clock, words, _ := strings.Cut(line, " ")
	now, err := chem.ParseDuration(strings.TrimPrefix(clock, "-"))
	if err != nil {
		t.Fatalf("%q: %v", line, err)
	}
	if strings.HasPrefix(clock, "-") {
		now = -now
	}
	word, rest, _ := strings.Cut(words, " ")
	number, _ := strconv.ParseFloat(rest, 64)
	span := func() Elapsed {
		d, err := chem.ParseDuration(rest)
		if err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		return d
	}
	switch word {
	case "look":
		return now, nil
	case "begin":
		return now, Begin{ID: "saltmarsh"}
	case "wake":
		return now, Wake{}
	case "gap-since":
		return now, Gap{From: span(), To: now}
	case "resume-from":
		return now, Resume{From: span(), Gap: now-span() > 10*sec}
	case "next":
		return now, MoveOn{}
	case "undo":
		return now, Undo{}
	case "hold":
		return now, Hold{}
	case "go":
		return now, Go{}
	case "temp":
		return now, Read{T: chem.Celsius(number), Source: ByHand}
	case "take-out":
		return now, TakeOut{}
	case "late":
		return now, Late{Sheet: int(number)}
	case "set-aside":
		return now, Aside{Sheet: int(number)}
	case "note":
		return now, Remark{Text: rest}
	case "stop":
		return now, Stop{}
	}
	t.Fatalf("%q: no such command", line)
	return 0, nil
}

// answer carries out one command and tells all that came of it.
func (n *session) answer(c Command, now Elapsed) string {
	switch c.(type) {
	case Gap, Resume: // nobody was awake before
	default:
		n.do(Wake{}, now)
	}
	if c == nil {
		return glance(n.s.Look(now))
	}
	why := n.s.Refuse(c, now)
	n.do(c, now)
	var b strings.Builder
	b.WriteString(tale(n.events[n.told:]))
	n.told = len(n.events)
	if _, wake := c.(Wake); !wake && why != "" {
		fmt.Fprintf(&b, "refused: %s\n", why)
	}
	if b.Len() == 0 {
		return "nothing\n"
	}
	return b.String()
}

// tale writes events a line each, without ticks, turns in a row as one.
func tale(events []Event) string {
	var b strings.Builder
	var row []Event
	flush := func() {
		switch {
		case len(row) == 1:
			fmt.Fprintf(&b, "%s  turn in %s\n", exact(row[0].At), row[0].Step)
		case len(row) > 1:
			last := row[len(row)-1]
			fmt.Fprintf(&b, "%s  %d turns in %s, the last at %s\n", exact(row[0].At), len(row), last.Step, exact(last.At))
		}
		row = nil
	}
	for _, e := range events {
		switch {
		case e.Kind == CueGiven && e.Cue == CueTick:
			continue
		case e.Kind == CueGiven && e.Cue == CueTurn:
			row = append(row, e)
			continue
		}
		flush()
		fmt.Fprintf(&b, "%s  %s\n", exact(e.At), told(e))
	}
	flush()
	return b.String()
}

// exact is a time with its tenths where it has any.
func exact(d Elapsed) string {
	if tenths := (d % sec).Abs() / 1e8; tenths != 0 {
		return fmt.Sprintf("%s.%d", Clock(d.Truncate(sec)), tenths)
	}
	return Clock(d)
}

// told is one event in words.
func told(e Event) string {
	words := []string{string(e.Kind)}
	if e.Kind == CueGiven {
		words = []string{"cue:", string(e.Cue)}
	}
	if e.Sheet != 0 {
		words = append(words, fmt.Sprintf("sheet %d", e.Sheet))
	}
	switch {
	case e.Kind == Moved && e.Step == "":
		words = append(words, "out of the last bath")
	case e.Kind == Moved:
		words = append(words, "into "+e.Step)
	case e.Step != "":
		words = append(words, "in "+e.Step)
	}
	if e.For != 0 {
		words = append(words, "for "+exact(e.For))
	}
	if e.Temperature != nil {
		words = append(words, fmt.Sprintf("%g C", float64(*e.Temperature)))
	}
	if e.Since != nil {
		words = append(words, "since "+exact(*e.Since))
	}
	if e.Text != "" {
		words = append(words, "("+e.Text+")")
	}
	return strings.Join(words, " ")
}

// glance is what a person could be told at a moment.
func glance(l Look) string {
	var b strings.Builder
	fmt.Fprintf(&b, "step %d", l.Step+1)
	if l.Overdue > 0 {
		fmt.Fprintf(&b, ", overdue %s", exact(l.Overdue))
	} else if l.Next.At != Never {
		fmt.Fprintf(&b, ", next at %s", exact(l.Next.At))
	}
	if l.Held {
		b.WriteString(", held")
	}
	if l.Waiting {
		b.WriteString(", waiting for you")
	}
	if d := l.Develop; d != nil {
		fmt.Fprintf(&b, ", developed %s of %s", exact(d.Done), exact(d.Of))
	}
	b.WriteString("\nsheets in step")
	for _, s := range l.Sheets {
		fmt.Fprintf(&b, " %d (wet %s", s.Step+1, exact(s.Wet))
		if s.Aside {
			b.WriteString(", aside")
		}
		if s.Given != 0 {
			fmt.Fprintf(&b, ", developed %.1f %%", 100*s.Given)
		}
		b.WriteString(")")
	}
	fmt.Fprintf(&b, "\nends at %s\n", exact(l.End))
	return b.String()
}

package engine

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
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/recipetest"
)

var update = flag.Bool("update", false, "write what the machine says into the dialogues")

const divider = "----"

// onFile are the recipes that dialogues name.
var onFile = map[string]func() sequence.Recipe{
	"tray": three,
	"hangers": func() sequence.Recipe {
		r := recipetest.FourInHangers()
		r.Steps[1] = recipetest.Drained(recipetest.Agitated(r.Steps[1], recipetest.Periodic(60*recipetest.Second, 10*recipetest.Second, 60*recipetest.Second)), 8*recipetest.Second)
		r.Film.WetLimit.All = 20 * recipetest.Minute
		return r
	},
	"slowly loaded": func() sequence.Recipe { // straight into the developer, half a minute apart
		r := recipetest.Recipe(sequence.Tray, 4, recipetest.Shuffled(recipetest.At(recipetest.Bath(sequence.Develop, 5*recipetest.Minute), 20, 2.2)), recipetest.Shuffled(recipetest.Bath(sequence.StopBath, recipetest.Minute)))
		r.Load.LoadEvery = 30 * recipetest.Second
		return r
	},
	"stack of four": func() sequence.Recipe {
		r := recipetest.Recipe(sequence.Tray, 4, recipetest.Shuffled(recipetest.Bath(sequence.Presoak, recipetest.Minute)), recipetest.Drained(recipetest.Shuffled(recipetest.Bath(sequence.Develop, 5*recipetest.Minute)), 8*recipetest.Second),
			recipetest.Shuffled(recipetest.Bath(sequence.StopBath, recipetest.Minute)), recipetest.Shuffled(recipetest.Bath(sequence.Fix, 4*recipetest.Minute)))
		r.Film.WetLimit.All = 18 * recipetest.Minute
		return r
	},
	"waits": func() sequence.Recipe {
		r := recipetest.FourInHangers()
		r.Steps[0].WaitForPerson = true
		return r
	},
	"film test": func() sequence.Recipe {
		return recipetest.Recipe(sequence.Hangers, 3, recipetest.Bath(sequence.Presoak, 2*recipetest.Minute),
			recipetest.Agitated(recipetest.Pulled(recipetest.Bath(sequence.Develop, 0), 5*recipetest.Minute, 7*recipetest.Minute, 10*recipetest.Minute), recipetest.Periodic(30*recipetest.Second, 5*recipetest.Second, 60*recipetest.Second)),
			recipetest.Continuous(recipetest.Bath(sequence.StopBath, 30*recipetest.Second)), recipetest.Continuous(recipetest.Bath(sequence.Fix, 5*recipetest.Minute)))
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
			s, err := NewState(planOf(t, onFile[strings.TrimPrefix(line, "recipe ")](), sequence.Conditions{}))
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
func heard(t *testing.T, line string) (sequence.Elapsed, sequence.Command) {
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
	span := func() sequence.Elapsed {
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
		return now, sequence.Begin{ID: "saltmarsh"}
	case "wake":
		return now, sequence.Wake{}
	case "gap-since":
		return now, sequence.Gap{From: span(), To: now}
	case "resume-from":
		return now, sequence.Resume{From: span(), Gap: now-span() > 10*recipetest.Second}
	case "next":
		return now, sequence.MoveOn{}
	case "undo":
		return now, sequence.Undo{}
	case "hold":
		return now, sequence.Hold{}
	case "go":
		return now, sequence.EndHold{}
	case "temp":
		return now, sequence.TakeReading{T: chem.Celsius(number), Source: sequence.ByHand}
	case "take-out":
		return now, sequence.Pull{}
	case "late":
		return now, sequence.MarkLate{Sheet: int(number)}
	case "set-aside":
		return now, sequence.SetSheetAside{Sheet: int(number)}
	case "note":
		return now, sequence.AddNote{Text: rest}
	case "stop":
		return now, sequence.EndSession{}
	}
	t.Fatalf("%q: no such command", line)
	return 0, nil
}

// answer carries out one command and tells all that came of it.
func (n *session) answer(c sequence.Command, now sequence.Elapsed) string {
	switch c.(type) {
	case sequence.Gap, sequence.Resume: // nobody was awake before
	default:
		n.do(sequence.Wake{}, now)
	}
	if c == nil {
		return glance(n.s.Snapshot(now))
	}
	why := n.s.Refuse(c, now).Code
	n.do(c, now)
	var b strings.Builder
	b.WriteString(tale(n.events[n.told:]))
	n.told = len(n.events)
	if _, wake := c.(sequence.Wake); !wake && why != "" {
		fmt.Fprintf(&b, "refused: %s\n", why)
	}
	if b.Len() == 0 {
		return "nothing\n"
	}
	return b.String()
}

// tale writes events a line each, without ticks, turns in a row as one.
func tale(events []sequence.Event) string {
	var b strings.Builder
	var row []sequence.Event
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
		case e.Kind == sequence.CueGiven && e.Cue == sequence.CueTick:
			continue
		case e.Kind == sequence.CueGiven && e.Cue == sequence.CueShuffle:
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
func exact(d sequence.Elapsed) string {
	if tenths := (d % recipetest.Second).Abs() / 1e8; tenths != 0 {
		return fmt.Sprintf("%s.%d", sequence.FormatElapsed(d.Truncate(recipetest.Second)), tenths)
	}
	return sequence.FormatElapsed(d)
}

// told is one event in words.
func told(e sequence.Event) string {
	words := []string{string(e.Kind)}
	if e.Kind == sequence.CueGiven {
		words = []string{"cue:", string(e.Cue)}
	}
	if e.Sheet != 0 {
		words = append(words, fmt.Sprintf("sheet %d", e.Sheet))
	}
	switch {
	case e.Kind == sequence.Transferred && e.Step == "":
		words = append(words, "out of the last bath")
	case e.Kind == sequence.Transferred:
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
func glance(l Snapshot) string {
	var b strings.Builder
	fmt.Fprintf(&b, "step %d", l.Step+1)
	if l.Overdue > 0 {
		fmt.Fprintf(&b, ", overdue %s", exact(l.Overdue))
	} else if l.Next.At != sequence.Never {
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
		if s.DevelopedShare != 0 {
			fmt.Fprintf(&b, ", developed %.1f %%", 100*s.DevelopedShare)
		}
		b.WriteString(")")
	}
	fmt.Fprintf(&b, "\nends at %s\n", exact(l.End))
	return b.String()
}

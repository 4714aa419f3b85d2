package widget

import (
	"fmt"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/sessiontest"
	"example.org/wetside/tui/style"
)

func planOf(t *testing.T, name string) *sequence.Plan {
	t.Helper()
	return sessiontest.StarterPlan(t, name, sequence.Conditions{})
}

// What the hands do goes on in further rows where it is long: nothing of it is cut.
func TestPlanStepsKeepsWhatTheHandsDo(t *testing.T) {
	p := planOf(t, "plover-tray")
	for _, w := range []int{60, 76, 120} {
		view := ansi.Strip(PlanSteps(p, w).View())
		if strings.Contains(view, cutMark) || Width(view) > w || !strings.Contains(strings.Join(strings.Fields(view), " "), "light after 2:00") {
			t.Errorf("%d columns:\n%s", w, view)
		}
	}
}

// The answer stands in one row or two, never cut where it fits into two.
func TestPlanAnswer(t *testing.T) {
	p := planOf(t, "plover-tray")
	if rows := PlanAnswer(p, sequence.Units{}, 76); len(rows) != 1 || Width(rows[0]) != 76 {
		t.Errorf("%q", rows)
	}
	rows := PlanAnswer(p, sequence.Units{}, 44)
	if len(rows) != 2 || !strings.HasPrefix(ansi.Strip(rows[0]), "Develop 7:30") || ansi.Strip(rows[1]) != "Wet 26:20   86% of limit, 2:52 in hand" {
		t.Errorf("%q", rows)
	}
}

// Each caution has the word of its level once, however many rows it takes.
func TestPlanCautions(t *testing.T) {
	p := &sequence.Plan{Cautions: []sequence.Caution{{Level: sequence.Danger, Text: "never mix fixer with bleach"},
		{Level: sequence.Care, Text: "soft"}, {Level: sequence.Note, Text: "gloves"}}}
	got := ansi.Strip(strings.Join(PlanCautions(p, sequence.Units{}, 24), "\n"))
	want := "danger  Never mix fixer\n        with bleach.\ncare    Soft.\nnote    Gloves."
	if got != want {
		t.Errorf("%q; expected %q", got, want)
	}
}

// Where the strip has no row for it, the limit that a plan passes stands on the wet line.
func TestStripSaysALimitThatIsPassed(t *testing.T) {
	for _, minute := range []int{3, 12, 20, 23} {
		l := limited(trays(), clock(minute, 0))
		for rows := 2; rows <= StripRows; rows++ {
			if view := ansi.Strip(Strip{l, 72, rows, ""}.View()); !strings.Contains(view, fmt.Sprintf("limit %d:00", minute)) {
				t.Errorf("a limit at %d minutes, %d rows:\n%s", minute, rows, view)
			}
		}
	}
}

// Rows of which the same is said are one; what differs, and what does not follow, stays.
func TestAlike(t *testing.T) {
	rows := [][]string{{"a", "7:30"}, {"b", "7:30"}, {"c", "7:40"}, {"d", "7:30"}}
	got := Alike(rows, func(places []int) string { return fmt.Sprint(places) })
	if want := "[[[0 1] 7:30] [c 7:40] [d 7:30]]"; fmt.Sprint(got) != want {
		t.Errorf("%v; want %s", got, want)
	}
}

// A name that is cut keeps its end, which tells it from others.
func TestNamesAreCutInside(t *testing.T) {
	table := Table{Width: 30, Selected: -1, Plain: true, Columns: []Column{{Title: "recipe", Named: true}, {Title: "wet", Right: true}},
		Rows: [][]string{{style.Value("Tern 125, eight sheets in hangers, 24 May"), "26:20"}, {"Tern 125, eight sheets in hangers, 17 May", "26:20"}}}
	view := ansi.Strip(table.View())
	for _, day := range []string{"…, 24 May", "…, 17 May"} {
		if !strings.Contains(view, day) {
			t.Errorf("%q is cut:\n%s", day, view)
		}
	}
}

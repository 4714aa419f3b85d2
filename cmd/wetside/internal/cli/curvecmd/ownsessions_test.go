package curvecmd

import (
	"bytes"
	"math"
	"regexp"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem/curve"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
)

// readSession is a session in the notebook whose two sheets were read: straight lines of the slope
// 1.2 (1 - exp(-0.1 t)), so much off.
func readSession(t *testing.T, day int, off float64) (readings string) {
	t.Helper()
	after := time.Duration(day) * 24 * time.Hour
	develop := sessiontest.Warmed(recipetest.Bath(sequence.Develop, 0))
	develop.Bath = "developer"
	r := sessiontest.Recipe(sequence.Hangers, 2, develop, recipetest.Bath(sequence.Fix, 5*recipetest.Minute))
	tablet, _ := curve.NominalTablet(21, 0.15)
	read, base := curve.Readings{Film: "Plover 80", Tablet: tablet}, curve.Density(0.1)
	for i, m := range []float64{6, 10} {
		sheet := time.Duration(m * float64(time.Minute))
		r.Steps[0].PullTimes = append(r.Steps[0].PullTimes, sheet)
		read.Add(sheet, i+1)
		read.Sheets[i].Base = &base
		for k, d := range tablet {
			density := base + curve.Density((1+off)*1.2*-math.Expm1(-0.1*m)*math.Max(0, 2.4-d))
			read.Sheets[i].Steps[k] = &density
		}
	}
	read.Session = sessiontest.Begin(t, journal.Default(), after, r, sequence.Conditions{}).Finish()
	readings = app.Densities().NewName(sessiontest.Evening.Add(after), "plover")
	if err := app.Densities().Save(readings, &read); err != nil {
		t.Fatal(err)
	}
	return readings
}

// Once enough of a person's sessions were read, they take the place of common practice, and the
// command says so; those that it evaluates together are not counted twice; what is stated stands.
func TestCurveGoesByOwnSessions(t *testing.T) {
	hometest.New(t)
	var files []string
	run := func(args ...string) (said string) {
		var out, complaints bytes.Buffer
		p := &app.Env{Out: &out, Err: &complaints}
		cmd := NewCurveCommand(p)
		cmd.SetArgs(append(args, "--target", "0.64"))
		if err := cmd.Execute(); err != nil {
			t.Fatalf("%v: %v %s", args, err, complaints.String())
		}
		return strings.Join(strings.Fields(regexp.MustCompile(`(?s)sessions differ by .*?\)`).FindString(out.String())), " ")
	}
	for day, off := range []float64{0.12, -0.12, 0.12, -0.12, 0.12, -0.12, 0.12} {
		files = append(files, readSession(t, day, off))
		if day != 1 {
			continue
		}
		if said := run(files[0]); !strings.Contains(said, "sessions differ by 5.0% of developing time (common practice") {
			t.Errorf("%d sessions: %s", day+1, said)
		}
	}
	if said := run(files[0]); !regexp.MustCompile(`by 1[0-4]\.\d% .*\(from 7 of your sessions, \d+\.\d to \d+\.\d%\)`).MatchString(said) {
		t.Errorf("seven sessions, 12 %% to either side: %s", said)
	}
	if said := run(files[0], files[1]); !strings.Contains(said, "from 5 of your sessions") || !strings.Contains(said, "corrected by the 2 here") {
		t.Errorf("two together: %s", said)
	}
	if said := run(files[0], "--session-scatter", "0.03"); !strings.Contains(said, "by 3.0% of developing time (as stated)") {
		t.Errorf("stated: %s", said)
	}
	if own := app.SessionScatter(); own == nil || own.Sessions != 7 || !(own.Gradient > 0.09 && own.Gradient < 0.15) {
		t.Errorf("for a plan: %+v", own)
	}
}

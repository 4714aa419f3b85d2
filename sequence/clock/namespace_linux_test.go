package clock

// The real clocks, shifted by time namespaces: sleep between two runs, and
// another boot by a bind-mounted boot id. WETSIDE_E2E=1 makes a missing tool a
// failure.

import (
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
)

// The test program is its own second process: with this set to a mark it
// resumes from that and tells what it found.
const resumeFrom = "WETSIDE_CLOCK_RESUME_FROM"

func TestMain(m *testing.M) {
	text := os.Getenv(resumeFrom)
	if text == "" {
		os.Exit(m.Run())
	}
	var anchor Mark
	if err := sequence.Unmarshal([]byte(text), &anchor); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	_, res := Resume(System(), anchor, 1)
	told, err := sequence.Marshal(res)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	fmt.Println(string(told))
}

// resumed resumes from anchor in a second process under a wrapping command.
func resumed(t *testing.T, anchor Mark, wrap ...string) Resumption {
	t.Helper()
	try := exec.Command(wrap[0], append(wrap[1:len(wrap):len(wrap)], "true")...)
	if out, err := try.CombinedOutput(); err != nil {
		if os.Getenv("WETSIDE_E2E") != "" {
			t.Fatalf("%v: %v: %s", wrap, err, out)
		}
		t.Skipf("%v does not work here: %v", wrap, err)
	}
	text, err := sequence.Marshal(anchor)
	if err != nil {
		t.Fatal(err)
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(wrap[0], append(wrap[1:len(wrap):len(wrap)], self)...)
	cmd.Env = append(os.Environ(), resumeFrom+"="+string(text))
	var stderr strings.Builder
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %v: %s", wrap, err, &stderr)
	}
	var res Resumption
	if err := sequence.Unmarshal(out, &res); err != nil {
		t.Fatalf("%s: %v", out, err)
	}
	return res
}

// apart is how far from one another two clocks that stand together may be read: somebody
// else may have the processor in between.
const apart = 10 * time.Second

func TestSleepBetweenRuns(t *testing.T) {
	for _, monotonic := range []string{"0", "900"} {
		start := time.Now()
		anchor := New(System(), 2*time.Minute, 1).Mark()
		res := resumed(t, anchor, "unshare", "-U", "-r", "-T", "--boottime", "1800", "--monotonic", monotonic)
		took := time.Since(start)
		least := 2*time.Minute + 1800*time.Second
		if res.Certainty != Exact || res.Now.Elapsed < least || res.Now.Elapsed > least+took+time.Millisecond {
			t.Errorf("monotonic %s: %+v; expected %v and up to %v more", monotonic, res, least, took)
		}
		slept := 1800 * time.Second
		if monotonic == "900" {
			slept = 900 * time.Second
		}
		if (res.Slept - slept).Abs() > apart {
			t.Errorf("monotonic %s: slept %v; expected %v", monotonic, res.Slept, slept)
		}
	}
}

func TestAnotherBootID(t *testing.T) {
	fake := t.TempDir() + "/boot_id"
	if err := os.WriteFile(fake, []byte("00000000-0000-4000-8000-0000000000ff\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	source := System()
	up := source.Read().Boottime
	// The new boot is five seconds old.
	shift := fmt.Sprint(-int(up.Seconds()) + 5)
	wrap := []string{"unshare", "-U", "-r", "-m", "-T", "--boottime", shift, "--monotonic", shift,
		"sh", "-c", `mount --bind "$0" ` + bootIDFile + ` && exec "$@"`, fake}

	start := time.Now()
	anchor := New(source, 2*time.Minute, 1).Mark()
	anchor.Wall = anchor.Wall.Add(-time.Minute) // a minute without power
	res := resumed(t, anchor, wrap...)
	truth, took := 3*time.Minute, time.Since(start)
	if res.Certainty != Estimated || res.Earliest > truth+took || res.Latest < truth || (res.Now.Elapsed-truth).Abs() > took+time.Second {
		t.Errorf("%+v; the truth is between %v and %v more", res, truth, took)
	}
	if res.Now.Boot != "00000000-0000-4000-8000-0000000000ff" || res.Earliest < 2*time.Minute+5*time.Second {
		t.Errorf("%+v; expected the other boot, 5 s old", res)
	}

	anchor.Wall = anchor.Wall.Add(time.Hour) // the battery clock is wrong
	res = resumed(t, anchor, wrap...)
	if res.Certainty != Unknown || res.Latest != Unbounded || res.Earliest > truth+time.Since(start) {
		t.Errorf("%+v; expected to know only the least", res)
	}
}

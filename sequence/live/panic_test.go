package live

// A panic of the loop is not the session's end, however long the process takes to die.

import (
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
)

// dying asks the test program to be the one that dies.
const dying = "WETSIDE_TEST_DYING"

// broken is a clock that panics in the loop.
type broken struct {
	clock.Source
	fail chan struct{}
}

func (b broken) Read() clock.Mark {
	select {
	case <-b.fail:
		panic(lingering{})
	default:
		return b.Source.Read()
	}
}

// lingering is a panic whose text is asked for when all that was deferred has been done;
// meanwhile others run.
type lingering struct{}

func (lingering) Error() string {
	time.Sleep(300 * time.Millisecond)
	return "the loop is broken"
}

func TestAPanicIsNotTheEnd(t *testing.T) {
	if os.Getenv(dying) != "" {
		die(t)
	}
	cmd := exec.Command(os.Args[0], "-test.run=^TestAPanicIsNotTheEnd$")
	cmd.Env = append(os.Environ(), dying+"=1")
	out, err := cmd.CombinedOutput()
	if err == nil || !strings.Contains(string(out), "panic: the loop is broken") {
		t.Fatalf("%v: %s", err, out)
	}
	if strings.Contains(string(out), "is over") {
		t.Errorf("the end was told: %.200s", out)
	}
}

// die says whoever believes that the session is over.
func die(t *testing.T) {
	source := broken{clock.System(), make(chan struct{})}
	s, err := Start(Options{Plan: tank(t), Clock: clock.New(source, 0, 1), FirstCommand: sequence.Begin{ID: "x"}})
	if err != nil {
		t.Fatal(err)
	}
	go func() {
		<-s.Ended()
		fmt.Println("the session is over")
	}()
	cursor := s.Log().From(0)
	go func() {
		for {
			if _, ok := cursor.Next(t.Context()); !ok {
				fmt.Println("the log is over")
				return
			}
		}
	}()
	close(source.fail)
	select {}
}

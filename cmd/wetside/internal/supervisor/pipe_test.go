package supervisor

import (
	"os"
	"strings"
	"testing"
)

func TestASessionIsOverForTheSupervisorOnce(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer r.Close()
	k := &Pipe{w: w}
	k.Session("first")
	k.Rehearsal("second")
	k.Over("first") // late
	k.Over("second")
	k.Over("second")
	w.Close()
	var a ChildState
	var heard []string
	buf := make([]byte, 1000)
	n, _ := r.Read(buf)
	for line := range strings.Lines(string(buf[:n])) {
		a = a.after(line)
		heard = append(heard, a.session)
	}
	if got := strings.Join(heard, ","); got != "first,second," {
		t.Errorf("heard %q; want first, second, none", got)
	}
}

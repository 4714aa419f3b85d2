package sequence

import (
	"testing"
	"time"
)

func TestLongTime(t *testing.T) {
	for d, want := range map[Elapsed]string{90 * time.Second: "1:30", 47 * time.Hour: "47:00:00", 48 * time.Hour: "2 days", 100 * time.Hour: "4 days"} {
		if got := FormatAge(d); got != want {
			t.Errorf("%v: %q; expected %q", d, got, want)
		}
	}
}

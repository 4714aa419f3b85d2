package thermometer

import (
	"errors"
	"testing"
	"time"
	"unicode"

	"example.org/wetside/chem"
)

// The texts are what Linux' w1_therm and hwmon drivers document (1-wire: two
// lines, checksum verdict and t= in thousandths; hwmon: thousandths alone).
func TestParse(t *testing.T) {
	for text, want := range map[string]chem.Celsius{
		"21.5\n": 21.5,
		"21562":  21.562,
		"-1250":  -1.25,
		"72 01 4b 46 7f ff 0e 10 57 : crc=57 YES\n72 01 4b 46 7f ff 0e 10 57 t=23125\n": 23.125,
		"200": 200,
	} {
		got, err := Parse(text)
		if err != nil || got != want {
			t.Errorf("Parse(%q) = %v, %v; expected %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "NaN", "Inf", "0,5", "t=", "00 : crc=00 NO\nt=23125"} {
		if got, err := Parse(text); err == nil {
			t.Errorf("Parse(%q) = %v; expected an error", text, got)
		}
	}
}

func at(s int) time.Duration { return time.Duration(s) * time.Second }

func TestSpikesAreNotBelievedUntilTheyInsist(t *testing.T) {
	var s Filter
	if f := s.Take(at(0), "20", nil); !f.Believed || f.T != 20 {
		t.Fatalf("first reading: %+v", f)
	}
	for i := 1; i < acceptAfter; i++ {
		if f := s.Take(at(i), "26", nil); f.Believed {
			t.Fatalf("spike %d was believed", i)
		}
	}
	if f := s.Take(at(acceptAfter), "26.1", nil); !f.Believed || f.T != 26.1 {
		t.Errorf("a value that insists: %+v; expected it believed", f)
	}
}

func TestASpikeOnceChangesNothing(t *testing.T) {
	var s Filter
	s.Take(at(0), "20", nil)
	if f := s.Take(at(1), "85", nil); f.Believed {
		t.Error("85 C was believed")
	}
	if f := s.Take(at(2), "20.1", nil); !f.Believed || f.Message != "" {
		t.Errorf("after one spike: %+v", f)
	}
}

func TestFirstReadingIsBelievedFrom0To60(t *testing.T) {
	for text, good := range map[string]bool{"0": true, "60": true, "-1": false, "61": false} {
		var s Filter
		if f := s.Take(0, text, nil); f.Believed != good {
			t.Errorf("first reading %s: believed %v, expected %v", text, f.Believed, good)
		}
	}
}

func TestDropoutIsToldOnceAndItsEndToo(t *testing.T) {
	var s Filter
	s.Take(at(0), "20", nil)
	told := 0
	for i := 1; i <= 60; i++ {
		f := s.Take(at(i), "", errors.New("no such file"))
		if f.Believed {
			t.Fatal("a dropout was believed")
		}
		if f.Message != "" {
			told++
			if i < 10 {
				t.Errorf("told after %d s already", i)
			}
		}
	}
	if told != 1 {
		t.Errorf("told %d times; expected once", told)
	}
	if f := s.Take(at(61), "21.5", nil); !f.Believed || f.Message == "" {
		t.Errorf("its return: %+v; expected believed and told", f)
	}
}

func TestStuckIsToldAndUsed(t *testing.T) {
	var s Filter
	told := 0
	for i := 0; i <= 1500; i++ {
		f := s.Take(at(i), "20.5", nil)
		if !f.Believed {
			t.Fatalf("at %d s a stuck value was not used", i)
		}
		if f.Message != "" {
			told++
		}
	}
	if told != 1 {
		t.Errorf("told %d times; expected once", told)
	}
}

// Whatever a file says, and in whatever order, nothing panics, what is believed is a
// temperature that a bath may have, and what is told can be shown.
func FuzzTake(f *testing.F) {
	for _, text := range []string{"21.5\n", "21562", "-1250", "crc=57 YES\n t=23125\n", "NaN", "1e308", "t=", "\x1b[2J", ""} {
		f.Add(text, "20.1", uint16(1000))
		f.Add("20.1", text, uint16(60000))
	}
	f.Fuzz(func(t *testing.T, a, b string, gap uint16) {
		var s Filter
		at := time.Duration(0)
		for i := range 24 {
			text, err := a, error(nil)
			switch i % 8 {
			case 2, 3, 4, 5, 6:
				text = b
			case 7:
				err = errors.New("gone")
			}
			found := s.Take(at, text, err)
			if found.Believed && !(found.T >= lowestFirst && found.T <= highestFirst) {
				t.Errorf("%q, %q: %v is believed", a, b, found.T)
			}
			for _, r := range found.Message {
				if !unicode.IsPrint(r) {
					t.Errorf("%q, %q: told %q", a, b, found.Message)
				}
			}
			at += time.Duration(gap) * time.Millisecond
		}
	})
}

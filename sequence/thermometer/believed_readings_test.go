package thermometer

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
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

// row gives a filter one reading a second and tells which were believed, and what was said when.
func row(s *Filter, from int, texts ...string) (believed int, said map[int]string) {
	said = map[int]string{}
	for i, text := range texts {
		f := s.Take(at(from+i), text, nil)
		if f.Believed {
			believed++
		}
		if f.Message != "" {
			said[from+i] = f.Message
		}
	}
	return believed, said
}

func times(n int, text string) []string { return slices.Repeat([]string{text}, n) }

// At least ten readings must agree, and exactly these ten do: with nine nothing is believed.
// The person is told within five seconds that it is doubted, and again that it is used.
func TestAJumpIsBelievedAfterTenReadings(t *testing.T) {
	for name, start := range map[string]func(*Filter){
		"after 20":           func(s *Filter) { s.Take(at(0), "20", nil) },
		"first, 20 expected": func(s *Filter) { s.Expected = &Expectation{T: 20, Low: 18, High: 24} },
	} {
		var s Filter
		start(&s)
		believed, said := row(&s, 1, times(9, "40")...)
		if believed > 0 || len(said) != 1 {
			t.Errorf("%s: of nine readings %d are believed, %d things told; expected 0 and 1", name, believed, len(said))
		}
		for when, text := range said {
			if when > 5 || !strings.Contains(text, "40 °C") {
				t.Errorf("%s: after %d s: %q", name, when, text)
			}
		}
		if f := s.Take(at(10), "40.1", nil); !f.Believed || f.T != 40.1 || !strings.Contains(f.Message, "10 readings") {
			t.Errorf("%s: the tenth: %+v", name, f)
		}
		if f := s.Take(at(11), "40.1", nil); !f.Believed || f.Message != "" {
			t.Errorf("%s: the one after: %+v", name, f)
		}
	}
}

// Odd readings that do not agree with each other are ten times nothing.
func TestOddReadingsMustAgree(t *testing.T) {
	s := Filter{Expected: &Expectation{T: 20}}
	texts := []string{}
	for i := range 30 {
		texts = append(texts, []string{"30", "40", "50"}[i%3])
	}
	if believed, said := row(&s, 0, texts...); believed > 0 || len(said) != 1 {
		t.Errorf("%d believed, %d things told; expected 0 and 1", believed, len(said))
	}
}

// A shorted line and a sensor that was just powered say what no repetition makes true.
func TestWhatIsNoMeasurementIsNeverBelieved(t *testing.T) {
	for _, text := range []string{"0", "85", "85000", "00 00 00 00 00 00 00 00 00 : crc=00 YES\n00 00 00 00 00 00 00 00 00 t=0\n", "-1", "61"} {
		for _, first := range []bool{true, false} {
			var s Filter
			if !first {
				s.Take(at(0), "20", nil)
			}
			believed, said := row(&s, 1, times(100, text)...)
			if believed > 0 || len(said) != 1 {
				t.Errorf("%q: %d believed, %d things told; expected 0 and 1", text, believed, len(said))
			}
			for when, words := range said {
				if when > 5 || strings.HasPrefix(text, "85") && !strings.Contains(words, resetSays) {
					t.Errorf("%q: told after %d s: %q", text, when, words)
				}
			}
			if f := s.Take(at(102), "20.1", nil); !f.Believed || f.Message == "" {
				t.Errorf("after %q: %+v; expected believed and told", text, f)
			}
		}
	}
}

// A first reading is measured by what was reckoned and by the recipe's range.
func TestTheFirstReadingIsMeasuredByTheRecipe(t *testing.T) {
	for text, good := range map[string]bool{"20": true, "24.5": true, "15": true, "14.9": false, "27": true, "28.5": false, "59": false, "5": false} {
		s := Filter{Expected: &Expectation{T: 20, Low: 18, High: 28}}
		if f := s.Take(0, text, nil); f.Believed != good {
			t.Errorf("first reading %s: believed %v, expected %v", text, f.Believed, good)
		}
	}
}

// What the person read is believed at once, and the sensor by it: with it from the next
// reading on, against it never.
func TestThePersonConfirms(t *testing.T) {
	s := Filter{Expected: &Expectation{T: 20}}
	row(&s, 0, times(3, "30")...)
	s.Confirm(at(3), 30.4)
	if f := s.Take(at(4), "30", nil); !f.Believed {
		t.Errorf("confirmed, and not believed: %+v", f)
	}
	s = Filter{}
	row(&s, 0, times(20, "40")...)
	s.Confirm(at(20), 20)
	if believed, said := row(&s, 21, times(200, "40")...); believed > 0 || len(said) != 1 {
		t.Errorf("contradicted: %d believed, %d things told; expected 0 and 1", believed, len(said))
	}
	if f := s.Take(at(221), "20.5", nil); !f.Believed {
		t.Errorf("agreeing again: %+v", f)
	}
}

// No bath moves steadily as fast as a sensor that is carried into another: step by step is no
// way around the rule. A bath that warms by 3 C a minute is followed.
func TestASteadyRunIsNotABath(t *testing.T) {
	for perSecond, good := range map[float64]bool{1.4: false, 0.3: false, 0.05: true} {
		var s Filter
		believed := true
		for i := range 60 {
			believed = s.Take(at(i), fmt.Sprint(15+perSecond*float64(i)), nil).Believed && believed
		}
		if believed != good {
			t.Errorf("%v C a second: all believed %v, expected %v", perSecond, believed, good)
		}
	}
}

// While nothing is read a bath may move, but not anywhere.
func TestAfterALongSilence(t *testing.T) {
	for text, good := range map[string]bool{"24": true, "16": true, "26": false} {
		var s Filter
		s.Take(at(0), "20", nil)
		if f := s.Take(at(3600), text, nil); f.Believed != good {
			t.Errorf("20, an hour later %s: believed %v, expected %v", text, f.Believed, good)
		}
	}
}

func TestASpikeOnceChangesNothing(t *testing.T) {
	var s Filter
	s.Take(at(0), "20", nil)
	if f := s.Take(at(1), "45", nil); f.Believed {
		t.Error("45 C was believed")
	}
	if f := s.Take(at(2), "20.1", nil); !f.Believed || f.Message != "" {
		t.Errorf("after one spike: %+v", f)
	}
}

// A jacket is measured as the bath that it tells of; what the line says, as the line says it.
func TestTheOffsetIsTheBaths(t *testing.T) {
	s := Filter{Offset: 2, Expected: &Expectation{T: 24}}
	if f := s.Take(at(0), "20", nil); !f.Believed || f.T != 22 {
		t.Errorf("%+v; expected 22 believed", f)
	}
	if f := s.Take(at(1), "0", nil); f.Believed {
		t.Error("a shorted line was believed")
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
			if told++; i < 3 || i > 5 {
				t.Errorf("told after %d s", i)
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
	believed, said := row(&s, 0, times(1501, "20.5")...)
	if believed != 1501 || len(said) != 1 || said[600] == "" {
		t.Errorf("%d of 1501 believed, told %v; expected all, and once after ten minutes", believed, said)
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
			if found.Believed && !(found.T >= sequence.LowestBath && found.T <= sequence.HighestBath) {
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

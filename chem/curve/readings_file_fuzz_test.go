package curve

import (
	"reflect"
	"testing"
)

// Whatever is in a file of readings, it is refused or read; what is read is written and
// read back the same, and can be drawn.
func FuzzReadReadings(f *testing.F) {
	whole := typedTest()
	f.Add(whole.Text())
	f.Add([]byte("tablet,5m\nbase,\n0.05,0,5\n"))
	f.Add([]byte("# film: a\n# sheets: 1 2 3\ntablet,5m,5m\n3.05,\n0.05,-0.1,6\n"))
	f.Add([]byte("# errors 1: 0.002 - 0.01\n# errors 2: 1 2 3\n# errors of mine: 3\ntablet,5m,6m\nbase,0.1,\n3.05,\n0.05,0.3,6\n"))
	f.Add([]byte("# errors 1: 0.2 9 -1\n# errors 1: nan 0.00001 1e-300\ntablet,5m\nbase,0.1\n3.05,0.2\n0.05,0.3\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := ReadReadings("x", data)
		if err != nil {
			return
		}
		for k := range r.Sheets {
			r.Doubtful(k, defaultReadingError)
			if c, ok := r.Curve(k); ok && c.Interpolant() == nil {
				t.Errorf("%+v cannot be drawn", c)
			}
		}
		again, err := ReadReadings("x", r.Text())
		if err != nil {
			t.Fatalf("%v of what was written:\n%s", err, r.Text())
		}
		for k := range r.Sheets { // times are kept to the millisecond, names without what no line can hold
			r.Sheets[k].Time, again.Sheets[k].Time = 0, 0
		}
		if !reflect.DeepEqual(again.Remarks, r.Remarks) || !reflect.DeepEqual(again.Sheets, r.Sheets) || !reflect.DeepEqual(again.Tablet, r.Tablet) {
			t.Errorf("read back as %+v; expected %+v", again, r)
		}
	})
}

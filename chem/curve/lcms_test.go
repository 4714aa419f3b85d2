package curve

// CGATS text against liblcms2, an independent reader of the same files.

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// lcmsReads gives the densities of texts as liblcms2 reads them, nil where it
// refuses one. Where it is not there the test is skipped, or fails under
// WETSIDE_E2E=1.
func lcmsReads(t *testing.T, texts [][]byte) (columns [][]float64) {
	t.Helper()
	missing := t.Skip
	if os.Getenv("WETSIDE_E2E") == "1" {
		missing = t.Fatal
	}
	python, err := exec.LookPath("python3")
	if err != nil {
		missing("python3 is not there: CGATS text is not compared with liblcms2")
	}
	if err := exec.Command(python, "-c", `import ctypes; ctypes.CDLL("liblcms2.so.2")`).Run(); err != nil {
		missing("liblcms2 is not there: CGATS text is not compared with it")
	}
	in, err := json.Marshal(texts) // byte slices become base64
	if err != nil {
		t.Fatal(err)
	}
	script := exec.Command(python, "testdata/lcms.py")
	script.Stdin = bytes.NewReader(in)
	out, err := script.Output()
	if err != nil {
		t.Fatalf("lcms.py: %v", err)
	}
	if err := json.Unmarshal(out, &columns); err != nil || len(columns) != len(texts) {
		t.Fatalf("lcms.py: %d columns, %v; expected %d", len(columns), err, len(texts))
	}
	return columns
}

func TestCGATSAcceptedByLCMS(t *testing.T) {
	var names []string
	var texts [][]byte
	for name, file := range sound {
		names, texts = append(names, name), append(texts, []byte(file))
	}
	for i, column := range lcmsReads(t, texts) {
		if names[i] == "format on one line" { // liblcms2 finds no columns in it
			if len(column) != 0 {
				t.Errorf("%s: liblcms2 reads %v; expected nothing", names[i], column)
			}
			continue
		}
		slices.Sort(column) // the three densities, in whatever order
		if !slices.Equal(column, []float64{0.10, 0.56, 1.20}) {
			t.Errorf("%s: liblcms2 reads %v; expected the three densities", names[i], column)
		}
	}
}

func TestPloverAsLCMSReadsIt(t *testing.T) {
	data := testFile(t, "plover-200.cgats")
	f, err := ReadCGATS("plover-200.cgats", data, Options{Channel: Visual})
	if err != nil {
		t.Fatal(err)
	}
	column := lcmsReads(t, [][]byte{data})[0]
	slices.Reverse(column) // the file runs from most exposure to least
	for i, r := range f.Curves[0].Readings {
		if len(column) != 21 || float64(r.Density) != column[i] {
			t.Fatalf("reading %d: %v; liblcms2 %v", i, r, column)
		}
	}
}

// What liblcms2 (2.14) lets pass, and why it is refused here.
var lcmsAccepts = map[string]string{
	"decimal comma":         "it reads 0",
	"NaN":                   "it reads 0",
	"value missing":         "it takes the next sample's number for a density",
	"open quote":            "it takes sample numbers for densities",
	"count is no number":    "3.0 is no count",
	"no end":                "the rest of the file may be lost",
	"gap":                   "equal steps would be wrong from there on",
	"sample twice":          "one of them is wrong",
	"keyword without value": "the value may be lost",
	"other channel":         "it does not look for densities",
	"no sample names":       "it does not look for samples",
	"two tables":            "one would be ignored",
	"no identification":     "the format asks for it",
	"density falls":         "it does not look at densities",
}

func TestRefusalsAgainstLCMS(t *testing.T) {
	var names []string
	var texts [][]byte
	for _, c := range refusals {
		if name, ok := strings.CutPrefix(c.name, "CGATS: "); ok {
			names, texts = append(names, name), append(texts, []byte(c.file))
		}
	}
	for i, column := range lcmsReads(t, texts) {
		if why, ok := lcmsAccepts[names[i]]; ok != (column != nil) {
			t.Errorf("%s: liblcms2 reads %v; expected it to let it pass: %v (%s)", names[i], column, ok, why)
		}
	}
}

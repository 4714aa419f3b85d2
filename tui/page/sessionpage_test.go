package page

// Sessions as pages: the scale that both lines share, worked out by hand, and
// texts from outside.

import (
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/chem/curve"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/planning"
	"example.org/wetside/tui/timeline"
)

const mins = time.Minute

// sample is a plan of 10:00 in the developer and 10:00 in the fixer, and a session
// in which the developer took 20:00, with 40:00 of wet time allowed.
func sample(t *testing.T) *SessionPage {
	t.Helper()
	step := func(k sequence.Kind) sequence.Step {
		return sequence.Step{Name: string(k), Kind: k, Time: 10 * mins, RoomLight: sequence.Dark, Agitate: sequence.Agitation{Mode: sequence.Still}}
	}
	r := sequence.Recipe{Title: "Plover 80 at Saltmarsh harbour",
		Film:  sequence.Film{Name: "Plover 80", Sensitivity: sequence.Pan, WetWarning: 3 * mins, WetLimit: sequence.WetLimit{All: 40 * mins}},
		Load:  sequence.Load{Vessel: sequence.Hangers, Sheets: 1, Size: sequence.Size{Name: "4x5in", Width: 4, Height: 5}},
		Steps: []sequence.Step{step(sequence.Develop), step(sequence.Fix)}}
	p, err := planning.Resolve(r, sequence.Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	used, limit := 0.75, 40*mins
	return &SessionPage{Title: r.Title, ID: "2026-11-25T1912-plover-80", Status: "done", When: "25 November 2026 19:12 to 19:42",
		Plan: &p, At: 30 * mins, LimitAt: &limit, Wet: []SheetWetTime{{Sheet: 1, Total: 30 * mins, Vessels: "hangers", Used: &used}},
		Passages:  []sequence.Passage{{Step: 0, Sheet: 1, In: 0, Out: 20 * mins}, {Step: 1, Sheet: 1, In: 20 * mins, Out: 30 * mins}},
		Developed: []engine.Development{{Step: 0, Sheet: 1, Done: 20 * mins, Of: 10 * mins}}}
}

// The limit lies a third beyond the 30:00 that the session took, which is more than
// a quarter: it stands off the line. The plan's 20:00 are two thirds of 61 columns.
func TestBothLinesOnOneScale(t *testing.T) {
	got := sessionLines(sample(t), 61)
	want := []string{
		"planned",
		"develop             fix",
		"┃━━━━━━━━━━━━━━━━━━━┃━━━━━━━━━━━━━━━━━━━┃", // 0, 20 and 40 of 60
		"0:00                10:00           20:00",
		"actual",
		"develop                                 fix",
		"┃━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━━┃━━━━━━━━━━━━━━━━━━━┃", // 0, 40 and 60
		"0:00                                    20:00           30:00",
		"                                         wet limit at 40:00 ▶",
	}
	if !slices.Equal(got, want) {
		t.Errorf("drawn:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// The mark stands where the session says, on the line where it is near, and nowhere
// where no limit is known.
func TestWhereTheWetLimitStands(t *testing.T) {
	s := sample(t)
	for limit, beyond := range map[time.Duration]bool{39 * mins: true, 36 * mins: false, 25 * mins: false} {
		s.LimitAt = &limit
		_, _, scale := s.timelines()
		if _, is := scale.Span(); scale.Limit == nil || *scale.Limit != limit || is != beyond || limitMark(scale) != "wet limit at "+clock(limit) {
			t.Errorf("limit %v: %v %v %q; want beyond %v", limit, scale.Limit, is, limitMark(scale), beyond)
		}
	}
	s.LimitAt = nil
	if _, _, scale := s.timelines(); limitMark(scale) != "" {
		t.Errorf("no limit is known, yet %q", limitMark(scale))
	}
	s.Passages = nil // no film was in: the plan's, 40:00
	if _, _, scale := s.timelines(); limitMark(scale) != "wet limit at 40:00" {
		t.Errorf("nothing was wet, and %q", limitMark(scale))
	}
}

// Each sheet's time stands on the page, what it comes to at the recipe's temperature, and
// how the developer was mixed and moved; as text and as HTML.
func TestEachSheetsDevelopment(t *testing.T) {
	s := sample(t)
	if got := SessionText(s, 80); !strings.Contains(got, "sheet 1, develop: 20:00\n") {
		t.Errorf("no equivalent is known, and yet:\n%s", got)
	}
	st := &s.Plan.Steps[0]
	st.TimeByTemperature, st.Bath = &sequence.Temperature{At: 20, Coefficient: 2.2}, "developer"
	s.Plan.Recipe.Baths = []sequence.Bath{{ID: "developer", Parts: []chem.Part{{Name: "A", Parts: 1}, {Name: "water", Parts: 60}}}}
	s.Developed[0].Done = 21 * mins
	for kind, page := range map[string]string{"text": SessionText(s, 80), "HTML": SessionHTML(s)} {
		for _, want := range []string{"sheet 1, develop: 20:00, equivalent to 21:00 at 20 °C", "develop: A 1 + water 60; agitation none"} {
			if !strings.Contains(page, want) {
				t.Errorf("%s: %q is missing", kind, want)
			}
		}
	}
}

func TestTheTextOfASession(t *testing.T) {
	s := sample(t)
	warm := chem.Celsius(22.8)
	s.Readings = []sequence.Event{{At: 19 * mins, Kind: sequence.ReadingTaken, Temperature: &warm, Source: "hand"}}
	s.Missed = []sequence.Cue{{At: 9 * mins, Kind: sequence.CueAgitate, Step: "develop"}}
	s.Suggestions = []string{"Read the bath."}
	got := SessionText(s, 80)
	for _, want := range []string{
		"2026-11-25T1912-plover-80: done, 25 November 2026 19:12 to 19:42\n",
		"\ndevelop     0:00     20:00    20:00  20:00               10:00  200%\n",
		"\nWet time\n  Sheet 1: 30:00 in hangers, 75% of limit\n",
		"\nTemperatures\n  19:00 Developer reads 22.8 °C (hand)\n",
		"\nCues not given\n  9:00 agitate, film in develop\n",
		"\nWhat this record suggests\n  Read the bath.\n",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in\n%s", want, got)
		}
	}
	if strings.Contains(got, "Notes") {
		t.Errorf("a section with nothing in it:\n%s", got)
	}
}

// The page holds the time line and the curves of the readings, needs no other file, and
// what a name of readings holds stays text.
func TestThePageHasTheCurves(t *testing.T) {
	s := sample(t)
	f := curve.Family{Name: "a<script>alert(1)</script>&.csv", Scale: curve.Relative, Curves: []curve.Curve{{Time: 5 * mins}, {Time: 10 * mins}}}
	for i, slope := range []float64{0.5, 0.8} {
		for k := range 21 {
			x := 0.15*float64(k) - 3
			f.Curves[i].Readings = append(f.Curves[i].Readings, curve.Reading{LogH: curve.LogH(x), Density: curve.Density(0.1 + slope*max(0, x+2.5))})
		}
	}
	r, err := curve.Evaluate(f, curve.Request{})
	if err != nil {
		t.Fatal(err)
	}
	s.Densities, s.Curves, s.Record = []string{"a line"}, []CurveFamily{{f, r}}, s.ID+".jsonl"
	s.Plan.Recipe.Steps[0].Growth = &sequence.Growth{From: "session 2026-11-20T1900-plover-80, readings p.csv"}
	got := SessionHTML(s)
	for _, c := range []struct {
		textAnchor string
		n          int
	}{{"<svg", 2}, {"</svg>", 2}, {"<script", 0}, {"<?xml", 0}, {"src=", 0}, {"href=", 0}, {"url(", 0}, {"@import", 0},
		{"average gradient 0.50", 1}, {"average gradient 0.80", 1}, {s.ID + ".jsonl", 1}, {"session 2026-11-20T1900-plover-80, readings p.csv", 1}} {
		if n := strings.Count(got, c.textAnchor); n != c.n {
			t.Errorf("%q %d times; expected %d", c.textAnchor, n, c.n)
		}
	}
	body := got[strings.Index(got, "<body>"):strings.Index(got, "</html>")]
	d := xml.NewDecoder(strings.NewReader(strings.ReplaceAll(body, "<br>", "<br/>")))
	for {
		if _, err := d.Token(); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatalf("%v in\n%s", err, got)
		}
	}
}

// Whatever has not happened, or is not known, a page can be made at any width.
func TestPagesOfWhatIsIncomplete(t *testing.T) {
	still := sample(t)
	still.Passages = []sequence.Passage{{Step: 0, Sheet: 1, In: 0, Out: sequence.Never}}
	still.At = 3 * mins
	dry := sample(t)
	dry.Passages, dry.Wet, dry.At = nil, nil, -5*time.Second
	early := sample(t)
	early.Passages[0].In = -2 * mins
	for name, s := range map[string]*SessionPage{"still in": still, "dry": dry, "before the first sheet": early, "unreadable": {ID: "x", Problem: "x.jsonl:1: damaged"}} {
		for _, width := range []int{40, 80, 100} {
			for _, line := range strings.Split(SessionText(s, width), "\n") {
				if n := len([]rune(line)); n > width {
					t.Errorf("%s at %d: %d columns: %q", name, width, n, line)
				}
			}
		}
		if text := SessionHTML(s); !strings.HasSuffix(text, "</html>\n") {
			t.Errorf("%s: the file is cut short", name)
		}
	}
	two := sample(t)
	two.Plan.Sheets = 2
	if rows := two.steps(); rows[0].FirstOut != "20:00" || rows[0].LastOut != "" {
		t.Errorf("one of two sheets is out: %+v", rows[0])
	}
	if text := SessionText(still, 80); !strings.Contains(text, "\ndevelop     0:00                     3:00                10:00  200%\n") {
		t.Errorf("still in the developer:\n%s", text)
	}
}

// Titles, names and notes come from files of others: none becomes markup, in the
// page or in the picture.
func TestHostileTextsInHTML(t *testing.T) {
	const hostile = `</title></style></svg><script>alert(1)</script><img src=x onerror=alert(1)>"' & javascript:`
	s := sample(t)
	s.Title, s.ID, s.When, s.Problem = hostile, hostile, hostile, hostile
	s.Plan.Recipe.Film.Name, s.Plan.Recipe.Load.Size.Name = hostile, hostile
	s.Plan.Steps[0].Name, s.Plan.Steps[0].RoomLight = hostile, hostile
	s.Notes = []sequence.Event{{Kind: sequence.Noted, Text: hostile + "\x1b[2J\u202e"}}
	s.NotesAfter = []LateNote{{When: hostile, Text: hostile}}
	s.Suggestions = []string{hostile}
	s.Missed = []sequence.Cue{{Step: hostile, Kind: hostile}}
	got := SessionHTML(s)
	for _, never := range []string{"<script", "<img", "\x1b", "\u202e"} {
		if strings.Contains(got, never) {
			t.Errorf("%q stands in the page", never)
		}
	}
	for tag, want := range map[string]int{"<title>": 1 + 4, "</title>": 1 + 4, "</style>": 1, "</svg>": 1, "<h1>": 1} {
		if n := strings.Count(got, tag); n != want {
			t.Errorf("%d times %s; want %d", n, tag, want)
		}
	}
	if !strings.Contains(got, "&lt;script&gt;alert(1)&lt;/script&gt;") {
		t.Error("the title is lost")
	}
	for _, outside := range []string{"http:", "https:", "url(", "src=", "@import"} {
		if strings.Contains(strings.ReplaceAll(got, "img src=x", ""), outside) {
			t.Errorf("the page needs %q", outside)
		}
	}
}

// The picture is well-formed, planned above actual, the limit on it.
func TestThePicture(t *testing.T) {
	s := sample(t)
	at := 36 * mins
	s.LimitAt = &at
	page := SessionHTML(s)
	from, to := strings.Index(page, "<svg"), strings.Index(page, "</svg>")
	d := xml.NewDecoder(strings.NewReader(page[from : to+len("</svg>")]))
	var rects []map[string]string
	limit := map[string]string{}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("%v in %s", err, page[from:to])
		}
		e, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		attrs := map[string]string{}
		for _, a := range e.Attr {
			attrs[a.Name.Local] = a.Value
		}
		switch e.Name.Local {
		case "rect":
			rects = append(rects, attrs)
		case "line":
			limit = attrs
		}
	}
	// 36:00 are 960 units, from 20 on
	want := [][2]string{{"20.0", "266.7"}, {"286.7", "266.7"}, {"20.0", "533.3"}, {"553.3", "266.7"}}
	if len(rects) != len(want) {
		t.Fatalf("%d bars; want %d", len(rects), len(want))
	}
	for i, r := range rects {
		if r["x"] != want[i][0] || r["width"] != want[i][1] || r["class"] != "dark" {
			t.Errorf("bar %d: %v; want %v", i, r, want[i])
		}
	}
	if upper, lower := height(t, rects[0]), height(t, rects[2]); upper >= lower || limit["x1"] != "980.0" {
		t.Errorf("planned at %s, actual at %s, limit %v", rects[0]["y"], rects[2]["y"], limit)
	}
	at = 4 * 60 * mins
	if far := SessionHTML(s); strings.Contains(far, "<line") || !strings.Contains(far, "wet limit at 4:00:00 ▶</text>") {
		t.Error("a limit that is far off is drawn on the line")
	}
	for _, want := range []string{"@media print", "planned</text>", "actual</text>", "wet limit at 36:00</text>"} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is missing", want)
		}
	}
}

// height is how far down a bar begins.
func height(t *testing.T, bar map[string]string) float64 {
	t.Helper()
	y, err := strconv.ParseFloat(bar["y"], 64)
	if err != nil {
		t.Fatal(err)
	}
	return y
}

// A step's name stands whole over it with its time beneath, or neither does; no two of a row meet.
func TestNamesAndTimesComeTogether(t *testing.T) {
	var l timeline.Timeline
	at := time.Duration(0)
	for name, k := range []float64{1, 6, 0.5, 5, 0.5, 2, 10, 1} {
		long := time.Duration(k * float64(mins))
		l.Segments = append(l.Segments, timeline.Segment{Name: "a step called " + string(rune('a'+name)), From: at, To: at + long})
		at += long
	}
	d := &svgTimeline{scale: l}
	d.line("planned", l, 50)
	over := map[string][]string{}
	for _, text := range regexp.MustCompile(`x="(.*?)" .*anchor="start">(.*)</text>`).FindAllStringSubmatch(d.texts.String(), -1)[1:] {
		over[text[1]] = append(over[text[1]], text[2])
	}
	for x, pair := range over {
		if len(pair) != 2 || !strings.HasPrefix(pair[0], "a step called ") || len(pair[0]) != 15 || !strings.Contains(pair[1], ":") {
			t.Errorf("at %s: %q; expected a name and a time", x, pair)
		}
	}
	if len(over) != 3 { // develop, fix and wash are long enough; a name of 15 letters takes 104 of 960 units, 2:49 of 26:00
		t.Errorf("%d steps are named: %v", len(over), over)
	}
}

// Sheets that are alike are told in one line.
func TestSheetsThatAreAlike(t *testing.T) {
	s := sample(t)
	s.Wet = append(s.Wet, s.Wet[0], s.Wet[0])
	s.Wet[1].Sheet, s.Wet[2].Sheet, s.Wet[2].Total = 2, 3, 31*mins
	s.Passages = append(s.Passages, sequence.Passage{Step: 0, Sheet: 2, In: 0, Out: 20 * mins})
	s.Developed = append(s.Developed, engine.Development{Step: 0, Sheet: 2, Done: 20 * mins, Of: 10 * mins})
	got := SessionText(s, 80)
	for _, want := range []string{"Sheets 1–2: 30:00 in hangers, 75% of limit\n", "Sheet 3: 31:00", "sheets 1–2, develop: 20:00\n"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in\n%s", want, got)
		}
	}
}

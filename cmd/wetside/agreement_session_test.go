package main

// A session at any moment, whatever was done wrong, and its record: screen, voice, plain mode,
// alarm, notebook.

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/sequence/engine"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/recipetest"
	"example.org/wetside/sequence/sessiontest"
	"example.org/wetside/tui/cue"
	"example.org/wetside/tui/say"
	"example.org/wetside/tui/screen"
	"example.org/wetside/tui/screen/run"
	"example.org/wetside/tui/screen/runtest"
	"example.org/wetside/tui/screen/strips"
)

// deed is what a person does after a while.
type deed struct {
	after sequence.Elapsed
	do    sequence.Command
}

// anyDeeds draws what is done, much of it by mistake.
func anyDeeds(t *rapid.T) []deed {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) deed {
		d := deed{after: sequence.Elapsed(rapid.IntRange(0, 150_000).Draw(t, "pause ms")) * time.Millisecond}
		if rapid.IntRange(0, 2).Draw(t, "quick") == 0 {
			d.after %= 12 * time.Second
		}
		d.do = rapid.SampledFrom([]sequence.Command{sequence.Wake{}, sequence.Wake{}, sequence.Wake{}, sequence.MoveOn{}, sequence.MoveOn{},
			sequence.Undo{}, sequence.Hold{}, sequence.EndHold{}, sequence.Pull{}, sequence.MarkLate{Sheet: 1}, sequence.MarkLate{Sheet: 2},
			sequence.SetSheetAside{Sheet: 1}, sequence.SetSheetAside{Sheet: 3}, sequence.TakeReading{T: 18, Source: sequence.ByHand},
			sequence.TakeReading{T: 23.4, Source: sequence.ByHand}, sequence.EndSession{}}).Draw(t, "deed")
		return d
	}), 1, 14).Draw(t, "deeds")
}

// evening is a session in a moment of its own, with what plain mode has written of it.
type evening struct {
	s     *runtest.Session
	now   time.Time
	plain *running.PlainLines
	told  engine.State // as far as plain mode has it
	n     int          // events that plain mode had
	hands string       // its last line of them
}

const lead = 10 * time.Second

func begin(t teller, p *sequence.Plan) *evening {
	t.Helper()
	state, err := engine.NewState(p)
	if err != nil {
		t.Fatalf("%v", err)
	}
	e := &evening{now: sessiontest.Evening, told: state, plain: running.NewPlainLines()}
	e.s = &runtest.Session{Clock: func() time.Time { return e.now }, Start: e.now, Lead: lead, State: state, Speed: 1,
		SoundState: "sound: loudspeaker", Ident: "2026-11-25T1912-plover-80"}
	e.s.Give(sequence.Begin{ID: e.s.Ident})
	return e
}

// then does something after a while.
func (e *evening) then(d deed) {
	e.now = e.now.Add(d.after)
	e.s.Do(d.do)
	e.s.Give(sequence.Wake{})
	for ; e.n < len(e.s.Happened); e.n++ {
		event := e.s.Happened[e.n]
		e.handsUpTo(event.At - 1)
		e.told = engine.Apply(e.told, event)
		e.keepHands(e.plain.Of(e.told, event, sequence.Units{}))
	}
	e.handsUpTo(e.s.Snapshot().Now)
}

// handsUpTo has plain mode say what the hands do from when they change by themselves.
func (e *evening) handsUpTo(now sequence.Elapsed) {
	for at := e.plain.Changes(); at <= now; at = e.plain.Changes() {
		e.keepHands(e.plain.Hands(e.told, at))
	}
}

func (e *evening) keepHands(text string) {
	for line := range strings.SplitSeq(text, "\n") {
		if strings.Contains(line, "hands: ") {
			e.hands = line
		}
	}
}

func TestEverySurfaceOfASessionAgrees(t *testing.T) {
	if ownProcess(t) {
		return
	}
	homeOfTheirOwn(t)
	rapid.Check(t, func(t *rapid.T) {
		p := drawnPlan(t)
		sessionAgrees(t, p, anyDeeds(t))
	})
}

// homeOfTheirOwn keeps the notebook of a test apart.
func homeOfTheirOwn(t *testing.T) {
	t.Helper()
	home := t.TempDir()
	for _, name := range []string{"HOME", "XDG_STATE_HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_RUNTIME_DIR"} {
		t.Setenv(name, filepath.Join(home, name))
	}
}

// sessionAgrees lives a session, compares at each of its moments, and then its record.
func sessionAgrees(t teller, p *sequence.Plan, deeds []deed) {
	t.Helper()
	e := begin(t, p)
	for _, d := range deeds {
		e.then(d)
		momentAgrees(t, p, e)
	}
	recordAgrees(t, p, e)
}

var handWords = map[string]sequence.Doing{"LOAD": sequence.Loading, "SHUFFLE": sequence.Shuffling, "AGITATE": sequence.Agitating,
	"STAND": sequence.Standing, "WASH": sequence.Standing, "DRY": sequence.Standing, "DRAIN": sequence.Draining, "TRANSFER": sequence.Transfer, "PULL": sequence.Pulling,
	"POUR": sequence.Pouring, "REVERSE": sequence.Reversing}

var firstRow = regexp.MustCompile(`^([A-Z]+)(?: (\d+)( s)?)?  (-?\d+:\d\d(?::\d\d)?) (.*)`)

// momentAgrees compares what screen, voice, plain mode and alarm say at one moment.
func momentAgrees(t teller, p *sequence.Plan, e *evening) {
	t.Helper()
	l := e.s.Snapshot()
	m := run.New(screen.Env{Now: e.s.Clock}, e.s, false)
	small, large := ansi.Strip(m.View(200, 5)), ansi.Strip(m.View(230, 60))
	spoken := listen(cue.StatePhrase(p, l))
	top := firstRow.FindStringSubmatch(small)
	if top == nil {
		t.Fatalf("no word in %q", small)
	}
	handsAgree(t, e, l, top, spoken)
	clocksAgree(t, l, top, spoken)
	wetNowAgrees(t, p, l, large, spoken)
	limitNowAgrees(t, e, l, large)
	if of := regexp.MustCompile(`(?m)^developed +(\d+)%`).FindStringSubmatch(large); spoken.percent >= 0 && (of == nil || of[1] != strconv.Itoa(spoken.percent)) {
		t.Fatalf("the screen says developed %v, the voice %d%%", of, spoken.percent)
	}
}

// handsAgree compares what the hands do, and until when.
func handsAgree(t teller, e *evening, l engine.Snapshot, top []string, spoken spokenState) {
	t.Helper()
	word := handWords[top[1]]
	if word != spoken.hands {
		t.Fatalf("at %v the hands: the screen says %s, the voice %s", l.Now, top[1], spoken.hands)
	}
	if word == sequence.Pulling && top[2] != strconv.Itoa(spoken.sheet) {
		t.Fatalf("at %v the screen pulls %q, the voice sheet %d", l.Now, top[2], spoken.sheet)
	}
	if word == "" {
		return
	}
	plain := regexp.MustCompile(`hands: (\S+)(?: until ` + clockText + `)?`).FindStringSubmatch(e.hands)
	if plain == nil || sequence.Doing(plain[1]) != word {
		t.Fatalf("at %v the hands: the screen says %s, plain mode %q: %+v\n%s", l.Now, top[1], e.hands, l.Hands, recipetest.KindsOf(e.s.Happened))
	}
	if top[3] != "" { // both in whole seconds, the screen counting from the second that the moment lies in
		n, _ := strconv.Atoi(top[2])
		until := strips.ShownSecond(l.Now) + sequence.Elapsed(n)*time.Second
		if plain[2] == "" || readClock(plain[2]) != until {
			t.Fatalf("at %v the screen agitates until %v, plain mode %q %+v\n%s", l.Now, until, e.hands, l.Hands, recipetest.KindsOf(e.s.Happened))
		}
	}
}

// clocksAgree compares the clock with the time left, or overdue, that is said. The screen shows
// the rounded moment less the second that goes on, so that clock and countdown add up; the voice
// rounds what is really left down: up to two seconds less, from ten minutes on up to a minute.
func clocksAgree(t teller, l engine.Snapshot, top []string, spoken spokenState) {
	t.Helper()
	shown := readClock(top[4])
	switch {
	case strings.HasPrefix(top[5], "until"):
		if spoken.left == nil || !saidOf(*spoken.left, shown, 2*time.Second) {
			t.Fatalf("at %v the clock shows %v, the voice says %v left", l.Now, shown, spoken.left)
		}
	case spoken.overdue != nil:
		if (*spoken.overdue+shown).Abs() > 2*time.Second && *spoken.overdue < 10*time.Minute {
			t.Fatalf("at %v the clock shows %v, the voice says %v overdue", l.Now, shown, *spoken.overdue)
		}
	}
}

// saidOf reports whether spoken words can be of a time: rounded down, to seconds or to minutes.
func saidOf(words, d, slack sequence.Elapsed) bool {
	if words >= 10*time.Minute {
		slack += time.Minute
	}
	return words <= d && d-words <= slack
}

var wetRow = regexp.MustCompile(`(?m)^wet +` + clockText + `, (\d+)% of limit(?:; at the end (\d+)%, ` + clockText + ` (in hand|too long))?(?:; worst sheet (\d+))?`)

// wetNowAgrees compares the wet time on the screen with the time that the voice says is left.
func wetNowAgrees(t teller, p *sequence.Plan, l engine.Snapshot, large string, spoken spokenState) {
	t.Helper()
	wet := wetRow.FindStringSubmatch(large)
	if wet == nil || l.Over != "" {
		return
	}
	limit, _ := p.Limits.For(p.Vessel)
	percent, _ := strconv.Atoi(wet[2])
	if spoken.over && percent < 100 || !spoken.over && spoken.wet != nil && percent > 100 {
		t.Fatalf("at %v: %s; the voice says over: %v", l.Now, wet[0], spoken.over)
	}
	if spoken.wet != nil { // the share is rounded up, the voice down: between this per cent and the last
		most := sequence.Elapsed(float64(limit) * float64(101-percent) / 100)
		if *spoken.wet > most+time.Second || *spoken.wet < most-limit/100-time.Second && *spoken.wet < 10*time.Minute {
			t.Fatalf("at %v: %s; the voice says %v left of %v", l.Now, wet[0], *spoken.wet, limit)
		}
		if p.Limits.All > 0 && !saidOf(*spoken.wet, limit-readClock(wet[1])+time.Second, 2*time.Second) {
			t.Fatalf("at %v: %s; the voice says %v left of %v", l.Now, wet[0], *spoken.wet, limit)
		}
	}
	if spoken.worst > 0 && wet[6] != strconv.Itoa(spoken.worst) {
		t.Fatalf("at %v: %s; the voice says sheet %d", l.Now, wet[0], spoken.worst)
	}
	if spoken.over || spoken.wet == nil || wet[4] == "" {
		return
	}
	switch end, tooLong := readClock(wet[4]), wet[5] == "too long"; {
	case spoken.atEnd == nil && tooLong && end > time.Second,
		spoken.atEnd != nil && (!tooLong || !saidOf(-*spoken.atEnd, end+time.Second, 2*time.Second)):
		t.Fatalf("at %v: %s; the voice says %v at the end", l.Now, wet[0], spoken.atEnd)
	}
}

// limitNowAgrees compares the limit's mark with the alarm and all else that says the moment.
func limitNowAgrees(t teller, e *evening, l engine.Snapshot, large string) {
	t.Helper()
	var all []sequence.Elapsed
	for _, pattern := range []string{"limit ", "wet limit is at "} {
		all = append(all, clocksAfter(large, pattern)...)
	}
	for _, m := range regexp.MustCompile(clockText+`  wet limit(?: near)?`).FindAllStringSubmatch(large, -1) {
		if !strings.HasSuffix(m[0], "near") {
			all = append(all, readClock(m[1]))
		}
	}
	at := l.Wet.LimitAt
	for _, c := range e.s.State.Ahead(l.Now, math.MaxInt64) {
		if c.Kind == sequence.CueWetLimit && (at == nil || !recipetest.Near(c.At, *at)) {
			t.Fatalf("at %v the alarm comes at %v; the limit is %v\n%s", l.Now, c.At, at, recipetest.KindsOf(e.s.Happened))
		}
	}
	for _, passed := range recipetest.EventsOf(e.s.Happened, sequence.WetPassed) {
		if at != nil && !e.mended() && !recipetest.Near(passed.At, *at) {
			t.Fatalf("the alarm came at %v; at %v the limit is %v", passed.At, l.Now, *at)
		}
	}
	// A session all before the first sheet's moment has no width.
	if len(all) == 0 && at != nil && l.Over == "" && l.Began && l.End > 0 {
		t.Fatalf("at %v no limit is shown, it is %v:\n%s", l.Now, *at, large)
	}
	for _, shown := range all {
		if at == nil || shown != at.Round(time.Second) {
			t.Fatalf("at %v a limit of %v is shown, it is %v:\n%s", l.Now, shown, at, large)
		}
	}
}

// mended reports whether what was recorded of film was changed afterwards: an alarm that came
// stands, and the limit is that of the sheets as they are known to lie now.
func (e *evening) mended() bool {
	return slices.ContainsFunc(e.s.Happened, func(h sequence.Event) bool {
		return h.Kind == sequence.Undone || h.Kind == sequence.LateReported || h.Kind == sequence.SetAside
	})
}

// kept is the session's record in the notebook's folder.
func kept(t teller, p *sequence.Plan, e *evening) journal.Store {
	t.Helper()
	store := journal.Default()
	store.Disk = sessiontest.QuickDisk{}
	for _, folder := range store.Folders {
		if err := os.RemoveAll(folder); err != nil {
			t.Fatalf("%v", err)
		}
	}
	var w *journal.Writer
	for i, event := range e.s.Happened {
		r := journal.Record{Seq: i, Event: event, Clock: clock.Mark{Elapsed: event.At, Wall: sessiontest.Evening.Add(lead + event.At)}}
		var err error
		if i == 0 {
			r.Plan = p
			w, err = store.Create(e.s.Ident, r)
		} else {
			err = w.Append(r)
		}
		if err != nil {
			t.Fatalf("%v", err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatalf("%v", err)
	}
	return store
}

// wetside runs a command in this process, and is what it prints.
func wetside(t teller, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	if status := cli.Run(&app.Env{In: strings.NewReader(""), Out: &out, Err: &errs, Clock: clock.System()}, args); status != 0 {
		t.Fatalf("%v: %d, %s", args, status, errs.String())
	}
	return out.String()
}

// recordJSON is what the comparison needs of notebook ID --json.
type recordJSON struct {
	Steps []struct {
		Name    string
		Planned struct {
			Start float64 `json:"start_s"`
			Time  float64 `json:"time_s"`
		}
		Actual *struct {
			Start float64 `json:"start_s"`
		}
		Sheets []struct {
			Sheet     int
			Out       *float64 `json:"out_s"`
			Time      float64  `json:"time_s"`
			Developed *float64 `json:"development_percent"`
		}
	}
	Wet wetJSON
}

// recordAgrees compares the notebook's page, its HTML and its JSON with each other and with the
// summary of the session.
func recordAgrees(t teller, p *sequence.Plan, e *evening) {
	t.Helper()
	store := kept(t, p, e)
	file := filepath.Join(store.Folders[0], "page.html")
	wetside(t, "notebook", e.s.Ident, "--html", file)
	written, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v", err)
	}
	var want recordJSON
	if err := json.Unmarshal([]byte(wetside(t, "notebook", e.s.Ident, "--json")), &want); err != nil {
		t.Fatalf("%v", err)
	}
	text := wetside(t, "notebook", e.s.Ident)
	for name, got := range map[string]string{"page": text, "HTML": string(written)} {
		if len(want.Wet.Sheets) > 0 {
			limitAgrees(t, name, flat(got), want.Wet.LimitAt)
		}
		sheetsAgree(t, name, flat(got), want.Wet)
	}
	developmentAgrees(t, text, string(written), want)
	developedInTheRun(t, p, e.s.Snapshot(), want)
	s, err := notebook.Open(store, e.s.Ident)
	if err != nil {
		t.Fatalf("%v", err)
	}
	if l := e.s.Snapshot(); l.Over != "" {
		resultAgrees(t, "summary", say.Outcome(p, l, e.s.State.Developments()), say.RecordResult(&s), want.Wet)
		if at := l.Wet.LimitAt; (at == nil) != (want.Wet.LimitAt == nil) || at != nil && !recipetest.Near(*at, ofSeconds(*want.Wet.LimitAt)) {
			t.Fatalf("the summary's limit is %v, the record's %s", at, orNull(want.Wet.LimitAt))
		}
	}
}

// sheetsAgree compares each sheet's wet time and its share of the limit; sheets in a row that are
// alike may be told in one.
func sheetsAgree(t teller, name, text string, want wetJSON) {
	t.Helper()
	got := regexp.MustCompile(`(?i)sheets? (\d[\d–, ]*): `+clockText+` in `).FindAllStringSubmatchIndex(text, -1)
	told := 0
	for i, g := range got {
		end := len(text)
		if i+1 < len(got) {
			end = got[i+1][0]
		}
		used := percents(text[g[0]:end])
		for _, sheet := range sheetNumbers(text[g[2]:g[3]]) {
			if told >= len(want.Sheets) {
				t.Fatalf("%s: more than the %d sheets of the JSON in %q", name, len(want.Sheets), text)
			}
			w := want.Sheets[told]
			if sheet != w.Sheet || readClock(text[g[4]:g[5]]) != shown(w.Total) || (len(used) > 0) != (w.Used != nil) ||
				w.Used != nil && used[0] != wholePercent(*w.Used) {
				t.Fatalf("%s: %q; JSON sheet %d, %v, %v", name, text[g[0]:end], w.Sheet, ofSeconds(w.Total), w.Used)
			}
			told++
		}
	}
	if told != len(want.Sheets) {
		t.Fatalf("%s: wet times of %d sheets; JSON %v", name, told, want.Sheets)
	}
}

// sheetNumbers are those of "1–3, 8".
func sheetNumbers(text string) (list []int) {
	for part := range strings.SplitSeq(text, ", ") {
		from, to, spans := strings.Cut(part, "–")
		first, _ := strconv.Atoi(from)
		last := first
		if spans {
			last, _ = strconv.Atoi(to)
		}
		for n := first; n <= last; n++ {
			list = append(list, n)
		}
	}
	return list
}

// developmentAgrees compares the steps' times and how far each developed, rounded to the
// nearest per cent.
func developmentAgrees(t teller, text, written string, want recordJSON) {
	t.Helper()
	table := cells(written)
	for i, st := range want.Steps {
		var given []string
		var percent []float64
		for _, y := range st.Sheets {
			given = append(given, sequence.FormatElapsed(ofSeconds(y.Time)))
			if y.Developed != nil {
				percent = append(percent, *y.Developed)
			}
		}
		c := table[i]
		last := c[len(c)-3:] // planned time, given time, developed; a column less stands before them where film leaves together
		if readClock(c[1]) != shown(st.Planned.Start) || readClock(last[0]) != shown(st.Planned.Time) || st.Actual != nil && readClock(c[2]) != shown(st.Actual.Start) {
			t.Fatalf("HTML: %v; JSON %+v", c, st)
		}
		for _, end := range regexp.MustCompile(`\d+:[\d:]+`).FindAllString(last[1], -1) {
			if !slices.Contains(given, end) {
				t.Fatalf("HTML: %s given in %s; JSON %v", last[1], st.Name, given)
			}
		}
		line := regexp.MustCompile(`(?m)^` + st.Name + ` .*?(\d+)(?:(?: to |–)(\d+))? ?%`).FindStringSubmatch(text)
		cell := regexp.MustCompile(`^(\d+)(?:(?: to |–)(\d+))? ?%`).FindStringSubmatch(last[2])
		if (line != nil) != (len(percent) > 0) || (cell != nil) != (len(percent) > 0) || line != nil && !slices.Equal(line[1:], cell[1:]) {
			t.Fatalf("developed %v on the page, %v in HTML; JSON %v", line, cell, percent)
		}
		for k := 1; cell != nil && k < len(cell); k++ {
			n, err := strconv.Atoi(cell[k])
			if err == nil && !slices.ContainsFunc(percent, func(x float64) bool { return math.Abs(x-float64(n)) <= 0.5+1e-9 }) {
				t.Fatalf("developed %v; JSON %v", cell[1:], percent)
			}
		}
	}
}

// developedInTheRun compares how far each sheet with a time of its own developed, as the run says
// it, with the record.
func developedInTheRun(t teller, p *sequence.Plan, l engine.Snapshot, want recordJSON) {
	t.Helper()
	off := say.NotAsMeant(p, l.Sheets)
	for i, st := range want.Steps {
		for _, y := range st.Sheets {
			if y.Developed == nil || y.Out == nil || !p.OwnTimes(i) && !p.Steps[i].StaggeredEntry() || l.Sheets[y.Sheet-1].Aside {
				continue
			}
			said := regexp.MustCompile(`(?i)sheet ` + strconv.Itoa(y.Sheet) + `(?: \([^)]*\))?, (\d+)%`).FindStringSubmatch(off)
			if far := math.Abs(*y.Developed-100) > 0.5+1e-6; far && said == nil || said != nil && said[1] != strconv.Itoa(sequence.PercentDeveloped(*y.Developed/100)) {
				t.Fatalf("the run says %q; the record says that sheet %d has %v%%", off, y.Sheet, *y.Developed)
			}
		}
	}
}

// resultAgrees compares the summary of a session with what its record says came of it.
func resultAgrees(t teller, name, summary, record string, want wetJSON) {
	t.Helper()
	for _, text := range []string{summary, record} {
		for _, got := range clocksAfter(text, "(?i)wet ") {
			if got != shown(want.Total) {
				t.Fatalf("%q, and %q; JSON wet for %v", summary, record, ofSeconds(want.Total))
			}
		}
		for _, got := range percents(text) {
			if want.Used == nil || got != wholePercent(*want.Used) {
				t.Fatalf("%q, and %q; JSON used %v", summary, record, want.Used)
			}
		}
	}
	if a, b := clocksAfter(summary, "after "), clocksAfter(record, "after "); !slices.Equal(a, b) {
		t.Fatalf("%q, and %q", summary, record)
	}
	if a, b := strings.Contains(summary, "set aside"), strings.Contains(record, "set aside"); a != b || strings.Contains(summary+record, "; ;") {
		t.Fatalf("%q, and %q", summary, record)
	}
	a, b := allPercents(summary), allPercents(record)
	if !slices.Equal(a, b) {
		t.Fatalf("%q, and %q", summary, record)
	}
}

func allPercents(text string) []string {
	return regexp.MustCompile(`\d+%`).FindAllString(text, -1)
}

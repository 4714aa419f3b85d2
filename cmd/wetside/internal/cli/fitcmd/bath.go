package fitcmd

// wetside fit bath: where a bath settles and how fast, from readings of it.

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/sequence/plainfile"
	"example.org/wetside/tui/say"
)

// driftFitJSON is a fitted bath for a script.
type driftFitJSON struct {
	Settle     chem.Celsius  `json:"settles_at_c"`
	SettleLow  *float64      `json:"settles_at_low_c"` // null, as the other bounds, where the readings contradict the model
	SettleHigh *float64      `json:"settles_at_high_c"`
	Tau        time.Duration `json:"time_constant_s"`
	TauLow     *float64      `json:"time_constant_low_s"`
	TauHigh    *float64      `json:"time_constant_high_s"` // null where the readings do not bound it
	Confidence float64       `json:"confidence"`
	Residual   float64       `json:"residual_c"`
	PerError   *float64      `json:"settles_at_per_error"` // by how many times a reading's error that may be off; null where the time constant is fitted too

	Doubt *chem.DriftDoubt `json:"contradicted_by"` // "correlated" or "room-moves"; null where nothing does
}

// readBathReadings are those in a file, or those of a session in the notebook.
func readBathReadings(p *app.Env, from string) ([]chem.Point, error) {
	data, err := plainfile.Read(from, app.MaxTableFile)
	if errors.Is(err, fs.ErrNotExist) {
		if s, broken := notebook.Open(journal.Default(), from); broken == nil {
			return readingsOfSession(s.Readings), nil
		}
		return nil, fmt.Errorf("%s: no such file, and no such session in the notebook; expected readings of a bath", from)
	}
	if err != nil {
		return nil, err
	}
	return parseBathReadings(from, bytes.NewReader(chem.PlainCSV(data)), p.Settings.Habits)
}

// readingsOfSession is what was read in a session, in order of when it was; of two readings
// of one moment the later corrects.
func readingsOfSession(events []sequence.Event) []chem.Point {
	var list []chem.Point
	for _, e := range events {
		at := e.At
		if e.Since != nil {
			at = *e.Since
		}
		list = slices.DeleteFunc(list, func(q chem.Point) bool { return q.At == at })
		list = append(list, chem.Point{At: at, T: *e.Temperature})
	}
	sort.Slice(list, func(i, j int) bool { return list[i].At < list[j].At })
	return list
}

// runFitSettle fits where a bath settles whose time constant is known.
func runFitSettle(p *app.Env, file, known string, readings []chem.Point, asJSON bool) error {
	tau, err := chem.ParseDuration(known)
	if err != nil || tau <= 0 {
		return app.Usagef("--time-constant: %q; expected a duration above zero, such as 45m", known)
	}
	t, err := chem.FitSettle(readings, tau)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	d := driftFitJSON{Settle: t.Drift.Settle, Tau: tau, Confidence: t.Confidence, Residual: t.Residual, PerError: &t.PerError}
	h, within := p.Settings.Habits, ""
	if t.Confidence > 0 {
		d.SettleLow, d.SettleHigh = &t.Settle.Low, &t.Settle.High
		within = fmt.Sprintf(" (%s to %s, with %.0f%% confidence)", say.Degrees(chem.Celsius(t.Settle.Low), h), say.Degrees(chem.Celsius(t.Settle.High), h), 100*t.Confidence)
	}
	if asJSON {
		return p.WriteJSON(d)
	}
	_, err = fmt.Fprintf(p.Out, "settles at %s%s, with the time constant that is given: %s\n"+
		"a reading that is off by %s moves that by %s: a longer time between the readings, less\n"+
		"for the plan: --settles-at %s --time-constant %s\n",
		say.Temperature(d.Settle, h), within, minutesText(tau.Seconds()), say.Difference(0.1, h), say.Difference(chem.Celsius(0.1*t.PerError), h), say.Degrees(d.Settle, h), minutesText(tau.Seconds()))
	return err
}

// runFitBath fits the drift of a bath to readings of it; tau is its time constant as typed, "" where that is fitted.
func runFitBath(p *app.Env, file, tau string, asJSON bool) error {
	readings, err := readBathReadings(p, file)
	if err != nil {
		return err
	}
	if tau != "" {
		return runFitSettle(p, file, tau, readings, asJSON)
	}
	t, err := chem.FitDrift(readings)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	d := driftFitJSON{Settle: t.Drift.Settle, Tau: t.Drift.Tau, Confidence: t.Confidence, Residual: t.Residual}
	if t.Doubt != chem.NoDoubt {
		d.Doubt = &t.Doubt
	} else {
		d.SettleLow, d.SettleHigh, d.TauLow = &t.Settle.Low, &t.Settle.High, &t.Tau.Low
	}
	if t.Doubt == chem.NoDoubt && !math.IsInf(t.Tau.High, 1) {
		d.TauHigh = &t.Tau.High
	}
	switch {
	case asJSON:
		return p.WriteJSON(d)
	case d.Doubt != nil:
		return printDoubtfulBath(p, d)
	}
	h, high := p.Settings.Habits, "no bound"
	if d.TauHigh != nil {
		high = minutesText(*d.TauHigh)
	}
	_, err = fmt.Fprintf(p.Out, "settles at %s (%s to %s), time constant %s (%s to %s), with %.0f%% confidence\n"+
		"for the plan: --settles-at %s --time-constant %s\n",
		say.Temperature(d.Settle, h), say.Degrees(chem.Celsius(*d.SettleLow), h), say.Degrees(chem.Celsius(*d.SettleHigh), h), minutesText(d.Tau.Seconds()), minutesText(*d.TauLow), high, 100*d.Confidence,
		say.Degrees(d.Settle, h), minutesText(d.Tau.Seconds()))
	return err
}

// printDoubtfulBath says what the readings contradict, and gives no interval.
func printDoubtfulBath(p *app.Env, d driftFitJSON) error {
	why := "its errors go with their neighbours: a thermometer that lags, or a bath that was stirred or moved"
	if *d.Doubt == chem.RoomMoves {
		why = "what it settles towards moves meanwhile: a room that warms or cools, or water about it that was changed"
	}
	h := p.Settings.Habits
	_, err := fmt.Fprintf(p.Out, "The readings contradict a bath that drifts evenly towards one temperature: %s.\n"+
		"The nearest such bath settles at %s with a time constant of %s; how far that holds cannot be said, so no interval\n"+
		"is given. Measure again while the room is steady, or plan for shorter with readings as they come.\n",
		why, say.Temperature(d.Settle, h), minutesText(d.Tau.Seconds()))
	return err
}

func minutesText(s float64) string { return strconv.FormatFloat(math.Round(s/60), 'f', -1, 64) + "m" }

// parseBathReadings reads lines of a time and a temperature; # begins a comment, and a
// first line without a number is a heading.
func parseBathReadings(name string, in io.Reader, h sequence.Units) ([]chem.Point, error) {
	r := csv.NewReader(in)
	r.Comment, r.FieldsPerRecord, r.TrimLeadingSpace = '#', 2, true
	var list []chem.Point
	var clock trialClock
	for first := true; ; first = false {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			list, err = clock.settle(list)
			if err != nil {
				err = fmt.Errorf("%s: %w", name, err)
			}
			return list, err
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %s; expected lines of a time and a temperature", name, csvFault(err))
		}
		at, errAt := flags.TimeOrSeconds(row[0])
		t, errT := h.ParseTemperature(row[1])
		if err := errors.Join(errAt, errT); err != nil {
			if first && errAt != nil && errT != nil {
				clock.heading = strings.ToLower(row[0])
				continue
			}
			line, _ := r.FieldPos(0)
			return nil, fmt.Errorf("%s:%d: %v; expected a time and a temperature", name, line, joinLines(err))
		}
		if len(list) == maxBathReadings {
			return nil, fmt.Errorf("%s: over %d readings; expected fewer, such as every tenth line", name, maxBathReadings)
		}
		clock.all = append(clock.all, strings.Count(row[0], ":") == 1)
		list = append(list, chem.Point{At: at, T: t})
	}
}

// trialClock is what the times of a log may mean: 12:05 is twelve minutes and five
// seconds, or five past twelve.
type trialClock struct {
	heading string // of their column, in small letters
	all     []bool // whether each is written so
}

// shortestLog is the least time between readings that a hand takes of a bath; nearer ones
// are taken for hours and minutes, or asked about (our own rule).
const shortestLog = 30 * time.Second

// settle makes hours and minutes of times whose heading says that they are ("h:mm",
// "clock", "time of day"), leaves those that it calls "m:ss" or that lie a hand's time
// apart, and asks about others.
func (c trialClock) settle(list []chem.Point) ([]chem.Point, error) {
	if len(list) < 2 || slices.Contains(c.all, false) {
		return list, nil
	}
	says := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(c.heading, w) })
	}
	switch {
	case says("h:mm", "hh:mm", "hour", "clock", "time of day"):
		return inHours(list), nil
	case says("m:ss", "mm:ss", "min"):
		return list, nil
	}
	var apart []time.Duration
	for i := 1; i < len(list); i++ {
		apart = append(apart, (list[i].At - list[i-1].At).Abs())
	}
	slices.Sort(apart)
	if apart[len(apart)/2] >= shortestLog {
		return list, nil
	}
	return nil, fmt.Errorf("are its times hours and minutes, or minutes and seconds? As minutes and seconds they lie %s apart; expected a heading that says so, h:mm,temperature or m:ss,temperature",
		sequence.FormatElapsed(apart[len(apart)/2]))
}

// inHours reads times that were taken for minutes and seconds as hours and minutes; past
// midnight they go on.
func inHours(list []chem.Point) []chem.Point {
	var day time.Duration
	for i := range list {
		list[i].At = list[i].At*60 + day
		if i > 0 && list[i].At < list[i-1].At {
			day += 24 * time.Hour
			list[i].At += 24 * time.Hour
		}
	}
	return list
}

// csvFault is what the CSV library found, in words.
func csvFault(err error) string {
	var at *csv.ParseError
	switch {
	case errors.Is(err, io.EOF):
		return "nothing in it"
	case !errors.As(err, &at):
		return err.Error()
	case errors.Is(err, csv.ErrFieldCount):
		return fmt.Sprintf("line %d: not two columns", at.Line)
	}
	return fmt.Sprintf("line %d: a stray or unclosed quotation mark", at.Line)
}

func joinLines(err error) string { return strings.ReplaceAll(err.Error(), "\n", ", ") }

package main

// The usual slips at each command: the status, and a message that says what is wrong and what was
// expected, in a person's words.

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/hometest"
	"example.org/wetside/sequence/journal"
)

// slip is a command line that cannot be carried out. REHEARSAL stands for the id of one.
type slip struct {
	line   string
	status int
	says   string // a part of the message
}

var slips = []slip{
	// a word that is missing, one too many, one that is none
	{`plan`, 2, `RECIPE is missing; expected wetside plan RECIPE`},
	{`run`, 2, `RECIPE is missing`},
	{`mix`, 2, `RECIPE|MIXTURE is missing`},
	{`curve`, 2, `FILE is missing`},
	{`scan`, 2, `PICTURE is missing`},
	{`film-test plover-tray`, 2, `--sheets N is missing`},
	{`expose`, 2, `--metered DURATION is missing`},
	{`holders add`, 2, `HOLDER is missing`},
	{`holders add 3A`, 2, `--film NAME is missing`},
	{`bottles use fixer`, 2, `--sheets N is missing`},
	{`bottles stock A`, 2, `VOLUME is missing`},
	{`bottles swap fixer`, 2, `SECOND is missing`},
	{`temper --to 20`, 2, `--volume VOLUME is missing`},
	{`fit bath`, 2, `FILE is missing`},
	{`check`, 2, `RECIPE|FILE is missing`},
	{`notebook a b c`, 2, `"c" is one word too many; expected wetside notebook [SESSION [OTHER]]`},
	{`resume a b`, 2, `"b" is one word too many; expected wetside resume [SESSION]`},
	{`config now`, 2, `"now" is one word too many`},
	{`frob`, 2, `unknown command "frob"`},
	{`bottles opne x`, 2, `did you mean open?`},
	{`plan tern-hangers --tmp 22`, 2, `did you mean --temp?`},
	{`plan tern-hangers -t 22`, 2, `unknown option -t`},
	{`plan tern-hangers --temp`, 2, `--temp T[@D] is missing`},
	{`help nothing`, 2, `expected one of start,`},

	// a decimal comma, no unit, a wrong unit, no number
	{`plan tern-hangers --temp 22,5`, 2, `"22,5" has a decimal comma; expected a point, "22.5"`},
	{`plan tern-hangers --temp warm`, 2, `cannot read "warm"; expected 20, 20C or 68F`},
	{`plan tern-hangers --temp 295K`, 2, `cannot read "295K"; expected 20, 20C or 68F`},
	{`plan tern-hangers --temp 22@5`, 2, `"5" has no unit`},
	{`plan tern-hangers --wet-limit 15`, 2, `"15" has no unit; expected 8m30s`},
	{`plan tern-hangers --sheets four`, 2, `expected 1 to 200`},
	{`plan tern-hangers --factor 1,1`, 2, `expected 0.1 to 10`},
	{`mix plover-tray --volume 1,5l`, 2, `expected a point, "1.5l"`},
	{`mix plover-tray --volume 1.5`, 2, `"1.5" has no unit; expected 1l, 250ml or 8floz`},
	{`mix plover-tray --volume 2kg`, 2, `cannot read "2kg"`},
	{`mix plover-tray --tray 8x10in --depth 12`, 2, `"12" has no unit; expected 12mm`},
	{`curve d.csv --target 0,58`, 2, `expected a number with a point for decimals`},
	{`curve d.csv --target 58`, 2, `such as 0.58`},
	{`expose --metered 4`, 2, `"4" has no unit`},
	{`expose --metered 1/0s`, 2, `expected 1/2s, 1/125, 4s or 1m30s`},
	{`expose --metered 4s --filter 1,5`, 2, `a point for decimals`},
	{`film-test plover-tray --sheets 4 --guess 9`, 2, `"9" has no unit`},
	{`holders add 3B --film Tern --range seven`, 2, `a point for decimals`},
	{`holders add 3B --film Tern --development N+9`, 2, `expected N, N-1, N+1 or a gradient such as 0.62`},
	{`holders group --paper 0`, 2, `expected log ranges such as 1.05 and 0.4`},
	{`notebook --since monday`, 2, `expected a day such as 2026-11-25`},
	{`fit coefficient 10m@18,7@22`, 2, `"7" has no unit`},
	{`wash --carry-over 30 --volume 1l --changes 3`, 2, `"30" has no unit`},

	// names that nothing has
	{`plan tern-hanger`, 1, `there is none of that name; did you mean "tern-hangers"?`},
	{`plan nosuch`, 1, `or a file that ends in .toml`},
	{`check folder`, 1, `or a file that ends in .toml`},
	{`edit nosuch`, 1, `wetside new nosuch makes it`},
	{`notebook nosuch`, 1, `session "nosuch": not found`},
	{`resume nosuch`, 1, `session "nosuch": not found`},
	{`bottles retire nosuch`, 1, `none is open; wetside bottles open opens one`},
	{`holders drop 99`, 1, `no sheet "99" waits`},
	{`plan tern-hangers --vessel bucket`, 1, `expected one of tray,`},
	{`film-test plover-tray --sheets 4 --vessel drum`, 2, `hangers, single, cradle or tray`},
	{`mix plover-tray --bath soup`, 1, `expected one of developer, stop, fixer`},
	{`run tern-hangers --plain --sound loud`, 2, `expected auto, pulse, exec, device, wav:FILE or off`},
	{`curve d.csv --session REHEARSAL`, 1, `no sheet of the session was to be developed for 5:00`},
	{`resume REHEARSAL --plain`, 1, `this session is over; expected one that is open`},

	// files: not there, a folder, empty, of another kind, there already
	{`plan nosuch.toml`, 1, `nosuch.toml: no such file`},
	{`plan folder.toml`, 1, `a folder; expected a file`},
	{`plan empty.toml`, 1, "wetside: empty.toml: load: missing; expected [load]"},
	{`curve nosuch.csv`, 1, `nosuch.csv: no such file`},
	{`curve folder`, 1, `folder: a folder; expected a file`},
	{`curve empty`, 1, `no header; expected log_h or tablet`},
	{`curve wrong.csv`, 1, `first column "a"; expected log_h or tablet`},
	{`curve comma.csv`, 1, `a decimal comma makes two cells of one number`},
	{`curve d.csv --picture there.svg`, 1, `is there already; expected a new name, or --force`},
	{`curve d.csv --picture x.png`, 2, `name the file .svg`},
	{`scan nosuch.png --tablet tablet.csv`, 1, `nosuch.png: no such file`},
	{`scan d.csv --tablet d.csv`, 1, `expected tablet`},
	{`scan folder --tablet tablet.csv`, 1, `a folder; expected a file`},
	{`fit bath empty`, 1, `readings: 0; expected at least 5`},
	{`fit bath d.csv`, 1, `not two columns; expected lines of a time and a temperature`},
	{`fit coefficient 10m`, 1, `10m: no such file; expected a file, or times as typed`},
	{`fit reciprocity empty`, 1, `nothing in it; expected a heading: metered,needed`},
	{`fit reciprocity wrong.csv`, 1, `expected metered first`},
	{`holders import folder`, 1, `a folder; expected a file`},
	{`holders import empty`, 1, `nothing in it; expected a heading: holder,side,film`},
	{`holders import wrong.csv`, 1, `column "a"; expected some of holder`},
	{`film-test plover-tray --sheets 4 --write there.toml`, 1, `is there already`},
	{`film-test plover-tray --sheets 4 --write none/there.toml`, 1, `there is no such folder`},
	{`plan tern-hangers --wall folder`, 2, `ends in .html or .txt`},
	{`plan tern-hangers --wall folder.html`, 1, `a folder; expected the name of a file`},
	{`plan tern-hangers --wall none/x.html`, 1, `there is no such folder`},
	{`notebook --csv folder`, 1, `a folder; expected the name of a file`},

	// what a newcomer types for something that is called otherwise, or in another place
	{`list`, 2, `wetside alone lists the recipes, wetside notebook the sessions`},
	{`recipes`, 2, `wetside plan RECIPE plans one`},
	{`show plover-tray`, 2, `wetside plan RECIPE shows a recipe`},
	{`rehearse plover-tray`, 2, `wetside run RECIPE --rehearse 30 rehearses it`},
	{`start plover-tray`, 2, `wetside run RECIPE begins a session`},
	{`bottles close fixer`, 2, `wetside bottles retire BOTTLE`},
	{`bottles add plover-tray`, 2, `wetside bottles open RECIPE`},
	{`holders remove 3A`, 2, `wetside holders drop HOLDER`},
	{`run tern-hangers --rehearsal 30`, 2, `did you mean --rehearse?`},
	{`run tern-hangers --dark --plain`, 2, `--dark goes with --rehearse`},
	{`run tern-hangers --rehearse fast --plain`, 2, `how many times as fast, 0.1 to 10000, or moves`},
	{`run tern-hangers --plain --sound heard.wav`, 2, `wav:FILE or off`},
	{`run tern-hangers --plain --rehearse 600 --sound wav:none/heard.wav`, 2, `none: there is no such folder`},
	{`run tern-hangers --plain --voice loud`, 2, `expected off, sparse or full`},
	{`cues --wav heard.wav`, 2, `expected a folder, such as sounds`},
	{`cues --wav`, 2, `--wav DIR is missing`},
	{`resume yesterday`, 1, `wetside notebook lists them`},
	{`plan plover`, 1, `expected one of plover-cradle, plover-film-test,`},
	{`film-test Plover --sheets 4`, 1, `expected one of plover-cradle, plover-film-test,`},
	{`plan tern-hangers.toml`, 1, `tern-hangers.toml: no such file; the recipe of that name has no ending: tern-hangers`},
	{`plan d.csv`, 1, `a file, but no recipe by its name; expected one of its kind, a file that ends in .toml`},
	{`plan tern-hangers 24`, 2, `"24" is one word too many`},
	{`plan tern-hangers --temp 75`, 1, `75 °C; expected 0–60 °C`},
	{`plan tern-hangers --wet-limit 20min`, 2, `expected minutes as m: "20m"`},
	{`plan tern-hangers --development N+1`, 1, `the recipe has one development only; expected none`},
	{`expose 4s`, 2, `4s is a time; expected --metered 4s`},
	{`expose --metered 4s --exponent 1.3`, 1, `expected above 0 and at most 1`},
	{`film-test plover-tray --sheets 4 --times 5m,7m`, 2, `unknown option --times`},
	{`bottles open plover-tray --keeps 30`, 2, `expected days such as 30d, or a time such as 2h`},
	{`temper --to 50 --volume 1l --hot 45 --cold 12`, 1, `expected a temperature between them`},
	{`mix 1+50`, 2, `expected --volume, or a vessel with its depth`},
	{`fit coefficient 10m@18`, 1, `developing times: 1; expected two at least`},
	{`notebook --since yesterday`, 2, `expected a day such as 2026-11-25`},
	{`config temperature F`, 2, `"temperature" is one word too many`},

	// options that do not fit together
	{`plan tern-hangers --settles-at 19`, 2, `--time-constant is missing`},
	{`run tern-hangers --json`, 2, `--json goes with --plain`},
	{`mix plover-tray --within 2`, 2, `--within goes with --graduate`},
	{`expose --metered 4s --extension 300`, 2, `--focal is missing`},
}

// ofTheMachine is what no person wrote: a library's words, a type, a list in brackets.
var ofTheMachine = regexp.MustCompile(`strconv|invalid syntax|no such file or directory|is a directory|file exists|\bEOF\b|wrong number of fields|` +
	`\*?\w+\.[A-Z]\w+\{|\bint\b|\bfloat64\b|\bnil\b|%!|\[\w+ \w+( \w+)*\]|record on line|open \S+: `)

func TestSlipsAreAnsweredInWords(t *testing.T) {
	if ownProcess(t) {
		return
	}
	layOutSlips(t)
	store := journal.Default()
	id := store.IDs()[0]
	for _, c := range slips {
		line := strings.ReplaceAll(c.line, "REHEARSAL", id)
		s := runVirtually(t, nil, strings.Fields(line)...)
		said := s.err.String()
		switch {
		case s.status != c.status:
			t.Errorf("%s: status %d; expected %d: %s", line, s.status, c.status, said)
		case !strings.HasPrefix(said, "wetside: ") || !strings.Contains(said, c.says):
			t.Errorf("%s: %q; expected %q", line, said, c.says)
		case c.status == app.ExitUsage && !strings.Contains(said, "\nhint: wetside "):
			t.Errorf("%s: no hint: %q", line, said)
		}
		if found := ofTheMachine.FindString(strings.ReplaceAll(said, "[SESSION [OTHER]]", "")); found != "" {
			t.Errorf("%s: %q in %q", line, found, said)
		}
	}
}

// layOutSlips is a folder with files of the wrong kind, and a rehearsal that is over.
func layOutSlips(t *testing.T) {
	t.Helper()
	densities, err := os.ReadFile("../../chem/curve/testdata/plover-200.csv")
	tablet, err2 := os.ReadFile("../../chem/scan/testdata/tablet.csv")
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	hometest.New(t)
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{
		"empty": "", "empty.toml": "", "there.svg": "x", "there.toml": "x", "wrong.csv": "a,b\n1,2\n",
		"comma.csv": "log_h,5m\n-3,0.1\n-2,0,5\n", "d.csv": string(densities), "tablet.csv": string(tablet),
	} {
		put(t, name, []byte(text))
	}
	for _, name := range []string{"folder", "folder.toml", "folder.html"} {
		if err := os.Mkdir(name, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	if s := runVirtually(t, nil, "run", "tern-hangers", "--plain", "--rehearse", "600", "--sound", "off"); s.status != app.ExitOK {
		t.Fatalf("no rehearsal: %s", &s.err)
	}
}

// Package doctor is what wetside ready looks at: disk, clock, sleep, screen and sound of this
// laptop, and the questions about the room.
//
// Start with Run. It changes no setting of the computer; lamps that it tries out are put back.
package doctor

// wetside ready: this laptop and this room, looked at before film is opened.

import (
	"fmt"
	"os"
	"strings"

	"example.org/wetside/cmd/wetside/internal/app"
)

// Level is how a check came out.
type Level string

// The verdicts: nothing to do; something to see to; not fit for film.
const (
	LevelOK   Level = "ok"
	LevelCare Level = "care"
	LevelNo   Level = "no"
)

// finding is one line of the page.
type finding struct {
	Check string `json:"check"`
	Level Level  `json:"level"`
	Text  string `json:"text"`
	Do    string `json:"do"` // what to do; "" where there is nothing
}

// report is the page.
type report struct {
	Cautions []string  `json:"cautions"`
	Checks   []finding `json:"checks"`
}

// cautionsBeforeFilm are the cautions that no check can take away.
var cautionsBeforeFilm = []string{
	"A black screen still glows: through a black panel a backlight can fog a fast film at arm's length in seconds.",
	"Cover the laptop, or check that its panel is dark, or leave it outside the room and lead the switch and the loudspeaker in.",
	"Do not trust a closed lid that was not tried out: it suspends most laptops, and then you hear nothing more.",
	"Red on a panel is not a tested safelight.",
	"Electricity and water: the laptop on the dry side, behind a residual-current device; wet hands touch one switch only.",
}

// Run checks one thing after the other; each line is written as it is known. Who is
// the person that can be asked; nil for nobody.
func Run(p *app.Env, spec string, who *Prompter, asJSON bool) error {
	page := report{Cautions: cautionsBeforeFilm}
	show := func(list ...finding) {
		page.Checks = append(page.Checks, list...)
		for _, f := range list {
			if !asJSON {
				fmt.Fprint(p.Out, app.CleanPage(f.text(p.Width())))
			}
		}
	}
	if !asJSON {
		printCautions(p)
	}
	show(checkSettings(p)...)
	show(checkFar(os.Getenv)...)
	if err := checkSound(p, spec, who, show); err != nil {
		return err
	}
	if who.gone() {
		return app.ErrReported
	}
	show(checkScreen(who)...)
	show(checkSleepAndPower(p.KeepAwake)...)
	show(CheckLamps(app.LampsFolder)...)
	show(checkDisk(), checkClock(p.Clock.Read(), p.Settings.Habits))
	if show(checkSwitch(p, who)); who.gone() {
		return app.ErrReported
	}
	if asJSON {
		if err := p.WriteJSON(page); err != nil {
			return err
		}
	} else {
		printSummary(p, page.Checks)
	}
	for _, f := range page.Checks {
		if f.Level == LevelNo {
			return app.ErrReported
		}
	}
	return nil
}

func printCautions(p *app.Env) {
	fmt.Fprint(p.Out, "Before film is opened\n\n")
	for _, text := range cautionsBeforeFilm {
		fmt.Fprint(p.Out, hangingIndent("  ! ", text, p.Width()))
	}
	fmt.Fprint(p.Out, "\nThis laptop\n\n")
}

// text is a finding as it is read: level, check, text, and what to do beneath.
func (f finding) text(width int) string {
	text := hangingIndent(fmt.Sprintf("  %-4s  %-9s ", f.Level, f.Check), f.Text, width)
	if f.Do != "" {
		text += hangingIndent(strings.Repeat(" ", 18)+"-> ", f.Do, width)
	}
	return text
}

// hangingIndent breaks a text behind a label; its further lines stand under the first.
func hangingIndent(label, text string, width int) string {
	var b strings.Builder
	indent := len([]rune(label))
	at := indent
	b.WriteString(label)
	for i, word := range strings.Fields(text) {
		long := len([]rune(word))
		switch {
		case i == 0:
		case at+1+long > max(width, indent+20):
			b.WriteString("\n" + strings.Repeat(" ", indent))
			at = indent
		default:
			b.WriteByte(' ')
			at++
		}
		b.WriteString(word)
		at += long
	}
	return b.String() + "\n"
}

// printSummary ends the page with how many lines want something.
func printSummary(p *app.Env, list []finding) {
	count := map[Level]int{}
	for _, f := range list {
		count[f.Level]++
	}
	said := "see to what needs care"
	switch {
	case count[LevelNo] > 0:
		said = "not ready for film"
	case count[LevelCare] == 0:
		said = "ready"
	}
	fmt.Fprintf(p.Out, "\n%d ok, %d care, %d no: %s\n", count[LevelOK], count[LevelCare], count[LevelNo], said)
}

// checkSettings tells of settings that cannot be read: the switch and the sound
// would not be those that the person set.
func checkSettings(p *app.Env) []finding {
	if p.SettingsErr == nil {
		return nil
	}
	return []finding{{"settings", LevelNo, p.SettingsErr.Error(), "wetside config says what is wrong"}}
}

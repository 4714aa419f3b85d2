package main

// wetside ready: this laptop and this room, looked at before film is opened.

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
)

// verdict is how a check came out.
type verdict string

// The verdicts: nothing to do; something to see to; not fit for film.
const (
	ok   verdict = "ok"
	care verdict = "care"
	no   verdict = "no"
)

// finding is one line of the page.
type finding struct {
	Check string  `json:"check"`
	Level verdict `json:"level"`
	Text  string  `json:"text"`
	Do    *string `json:"do"` // what to do; null where there is nothing
}

// found is a finding; what to do is left out where it is "".
func found(check string, level verdict, text, do string) finding {
	f := finding{Check: check, Level: level, Text: text}
	if do != "" {
		f.Do = &do
	}
	return f
}

// readiness is the page.
type readiness struct {
	Cautions []string  `json:"cautions"`
	Checks   []finding `json:"checks"`
}

// beforeFilm are the cautions that no check can take away.
var beforeFilm = []string{
	"A black screen still glows: through a black panel a backlight can fog a fast film at arm's length in seconds.",
	"Cover the laptop, or measure that its panel is off, or leave it outside the room and lead the switch and the loudspeaker in.",
	"Do not trust a closed lid that was not tried out: it suspends most laptops, and then nothing is said any more.",
	"Red on a panel is not a tested safelight.",
	"Electricity and water: the laptop on the dry side, behind a residual-current device; wet hands touch one switch only.",
}

func (p *program) ready() *cobra.Command {
	var spec string
	var plain, asJSON bool
	cmd := &cobra.Command{
		Use:   "ready",
		Short: "check this laptop and this room before film is opened",
		Long: "Looks at sound, screen, sleep, lid, lamps, disk and clock; each line ok, care or no, with\n" +
			"what to do. On a terminal it plays sounds and asks what you heard, makes the screen black\n" +
			"for a moment, and has you press your switch. Exit status 1 where a line is no.",
		Example: "  wetside ready\n  wetside ready --plain\n  wetside ready --json",
		Args:    words(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if !cmd.Flags().Changed("sound") && p.settings.Sound != "" {
				spec = p.settings.Sound
			}
			var who *person
			if tty, terminal := p.terminal(); terminal && !plain && !asJSON {
				who = &person{in: p.in, out: p.out, tty: tty, width: p.width()}
			}
			return p.look(spec, who, asJSON)
		},
	}
	cmd.Flags().BoolVar(&plain, "plain", false, "ask nothing and play nothing")
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON; asks nothing")
	cmd.Flags().StringVar(&spec, "sound", "auto", "auto, pulse, exec, device or off")
	return cmd
}

// look checks one thing after the other; each line is written as it is known. Who is
// the person that can be asked; nil for nobody.
func (p *program) look(spec string, who *person, asJSON bool) error {
	page := readiness{Cautions: beforeFilm}
	show := func(list ...finding) {
		page.Checks = append(page.Checks, list...)
		for _, f := range list {
			if !asJSON {
				fmt.Fprint(p.out, cleaned(f.line(p.width())))
			}
		}
	}
	if !asJSON {
		p.cautionFirst()
	}
	show(p.settingsReady()...)
	if err := p.soundReady(spec, who, show); err != nil {
		return err
	}
	if who.gone() {
		return errFound
	}
	show(screenReady(who)...)
	show(awakeReady(p.keepAwake)...)
	show(lampsReady(sysClass)...)
	show(diskReady(), clockReady(p.source.Read(), p.settings.Habits))
	if show(p.switchReady(who)); who.gone() {
		return errFound
	}
	if asJSON {
		if err := p.json(page); err != nil {
			return err
		}
	} else {
		p.sumUp(page.Checks)
	}
	for _, f := range page.Checks {
		if f.Level == no {
			return errFound
		}
	}
	return nil
}

func (p *program) cautionFirst() {
	fmt.Fprint(p.out, "Before film is opened\n\n")
	for _, text := range beforeFilm {
		fmt.Fprint(p.out, hanging("  ! ", text, p.width()))
	}
	fmt.Fprint(p.out, "\nThis laptop\n\n")
}

// line is a finding as it is read: level, check, text, and what to do beneath.
func (f finding) line(width int) string {
	text := hanging(fmt.Sprintf("  %-4s  %-9s ", f.Level, f.Check), f.Text, width)
	if f.Do != nil {
		text += hanging(strings.Repeat(" ", 18)+"-> ", *f.Do, width)
	}
	return text
}

// hanging breaks a text behind a label; its further lines stand under the first.
func hanging(label, text string, width int) string {
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

// sumUp ends the page with how many lines want something.
func (p *program) sumUp(list []finding) {
	count := map[verdict]int{}
	for _, f := range list {
		count[f.Level]++
	}
	said := "see to what needs care"
	switch {
	case count[no] > 0:
		said = "not ready for film"
	case count[care] == 0:
		said = "ready"
	}
	fmt.Fprintf(p.out, "\n%d ok, %d care, %d no: %s\n", count[ok], count[care], count[no], said)
}

// settingsReady tells of settings that cannot be read: the switch and the sound
// would not be those that the person set.
func (p *program) settingsReady() []finding {
	if p.unsettled == nil {
		return nil
	}
	return []finding{found("settings", no, p.unsettled.Error(), "wetside config says what is wrong")}
}

package flags

// The flags of a session: sound, rehearsal, countdown.

import (
	"io"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence"
)

// RunFlags is how a session is carried out, as typed.
type RunFlags struct {
	Plain, JSON bool
	running.SoundOptions
	Countdown   string
	Rehearse    string
	InDark      bool
	Danger      bool // the plan's dangers are accepted
	Thermometer running.Thermometer
}

func (m *RunFlags) Add(cmd *cobra.Command, usual settings.Settings) {
	f := cmd.Flags()
	f.BoolVar(&m.Plain, "plain", false, "lines in place of screens; commands are read from standard input")
	f.BoolVar(&m.JSON, "json", false, "with --plain: print one JSON object a line")
	f.StringVar(&m.Sink, "sound", usual.Sound, "`OUT`: where sound goes: auto, pulse, exec, device, wav:FILE or off")
	f.StringVar((*string)(&m.Voice), "voice", usual.Voice, "`HOW`: how much is said: off, sparse or full")
}

// AddThermometer adds the thermometer's.
func (m *RunFlags) AddThermometer(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&m.Thermometer.File, "thermometer", "", "`FILE`: a thermometer that is a file, read once a second")
	f.StringVar(&m.Thermometer.HangsIn, "sensor-in", "developer", "`WHERE`: where that thermometer hangs: developer, jacket or room")
	f.StringVar(&m.Thermometer.JacketOffset, "jacket-offset", "", "`DIFFERENCE`: with --sensor-in jacket: by how many °C the developer is warmer than its jacket")
	Needs(cmd, "sensor-in", "thermometer")
	Needs(cmd, "jacket-offset", "thermometer")
}

// Parse reads the flags; countdown is the screens' where none is typed.
func (m *RunFlags) Parse(usual time.Duration) (practice running.Rehearsal, countdown time.Duration, err error) {
	if err := m.SoundOptions.Check(); err != nil {
		return practice, 0, err
	}
	if countdown = usual; m.Plain {
		countdown = 0
	}
	if practice, err = m.rehearsal(); err != nil {
		return practice, 0, err
	}
	switch m.Countdown {
	case "":
	case "0", "0s":
		countdown = 0
	default:
		if countdown, err = chem.ParseDuration(m.Countdown); err != nil {
			return practice, 0, app.Usagef("--countdown: %v", err)
		}
	}
	if m.Countdown != "" && !m.Plain && practice.Factor > 0 && !practice.MovesOnly && !practice.InDark {
		return practice, 0, app.Usagef("--countdown: a rehearsal on the screens begins at once; expected --dark, --plain or --rehearse moves too")
	}
	return practice, countdown, nil
}

// rehearsal reads how the session is rehearsed, if it is.
func (m *RunFlags) rehearsal() (r running.Rehearsal, err error) {
	switch m.Rehearse {
	case "":
		return r, nil
	case "moves":
		return running.Rehearsal{Factor: 1, MovesOnly: true, InDark: m.InDark}, nil
	}
	factor, err := strconv.ParseFloat(m.Rehearse, 64)
	if err != nil || !sequence.IsRehearsalSpeed(factor) {
		return r, app.Usagef("--rehearse: %q; expected how many times as fast, %g to %d, or moves", m.Rehearse,
			sequence.MinRehearsalSpeed, sequence.MaxRehearsalSpeed)
	}
	return running.Rehearsal{Factor: factor, InDark: m.InDark}, nil
}

// CheckTerminal refuses to write lines onto a lit terminal beside open film.
func (m *RunFlags) CheckTerminal(plan *sequence.Plan, lit bool, out io.Writer) error {
	if _, shown := app.TerminalOf(out); !shown || lit || !plan.HasDark() {
		return nil
	}
	return app.Usagef("--plain would light this terminal in a dark step; send its output elsewhere (--plain > log.txt), or rehearse")
}

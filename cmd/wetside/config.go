package main

// The person's settings: read once, before the command line; and wetside config,
// which shows them.

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/recipes"
	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence"
	"example.org/wetside/tui"
)

// settle reads the settings. What is wrong with them is kept for the command.
func (p *program) settle() {
	p.settings, p.unsettled = settings.Read(settings.Path(), tui.Taken())
}

// heedless are the commands that go on where the settings cannot be read: those
// that film may be waiting for, and those that do not need them.
var heedless = []string{"resume", "check", "ready", "edit", "config", "help", "completion", cobra.ShellCompRequestCmd, cobra.ShellCompNoDescRequestCmd}

// settled refuses a command whose units and sound would not be those that the person
// set. A session that was cut off is taken up all the same, and it is said.
func (p *program) settled(cmd *cobra.Command, _ []string) error {
	if p.unsettled == nil {
		return nil
	}
	for c := cmd; c != nil; c = c.Parent() {
		for _, name := range heedless {
			if c.Name() == name {
				if name == "resume" {
					p.complain(p.unsettled)
				}
				return nil
			}
		}
	}
	p.complain(p.unsettled)
	fmt.Fprintln(p.err, "hint: the settings must be right, or out of the way, before anything else is done")
	return errFound
}

func (p *program) config() *cobra.Command {
	var write bool
	cmd := &cobra.Command{
		Use:   "config",
		Short: "where the settings lie, and what is in force",
		Long: "Says where the settings lie, what is wrong with them, and what is in force.\n" +
			"--write makes the file, each setting with its comment; one that is there is\n" +
			"never written over.",
		Example: "  wetside config\n  wetside config --write",
		Args:    words(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error {
			path := settings.Path()
			if path == "" {
				return errors.New("settings: there is no home folder to keep them in; expected XDG_CONFIG_HOME or HOME")
			}
			if write {
				return p.writeConfig(path)
			}
			return p.showConfig(path)
		},
	}
	cmd.Flags().BoolVar(&write, "write", false, "make the file, commented; never over one that is there")
	return cmd
}

func (p *program) writeConfig(path string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("settings: %w", err)
	}
	if err := writeNew(path, settings.Commented); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("%s: is there already, and stays as it is", recipes.Clean(path))
		}
		return fmt.Errorf("settings: %w", err)
	}
	_, err := fmt.Fprintln(p.out, recipes.Clean(path))
	return err
}

func (p *program) showConfig(path string) error {
	if p.unsettled != nil {
		p.complain(p.unsettled)
		return errFound
	}
	s, where := p.settings, "not there: what follows holds where nothing is said (wetside config --write makes it)"
	if s.Present {
		where = "in force"
	}
	fmt.Fprintf(p.out, "%s: %s\n\n", recipes.Clean(path), where)
	for _, row := range [][2]string{
		{"temperature", string(rune(s.Habits.Scale()))},
		{"volume", either(s.Habits.FluidOunces, "floz", "ml")},
		{"clock", either(s.Habits.TwelveHours, "12h", "24h")},
		{"palette", either(s.White, "white", "red")},
		{"voice", s.Voice},
		{"sound.out", s.Sound},
		{"sound.volume", strconv.Itoa(s.Volume)},
		{"keys.big", strings.Join(settings.Names(s.Big), ", ")},
		{"keys.menu", strings.Join(settings.Names(s.Menu), ", ")},
		{"limits.lead", chem.FormatDuration(s.Lead)},
		{"limits.rehearse", strconv.FormatFloat(s.Speed, 'f', -1, 64)},
		{"limits.wet_limit", limitWords(s)},
	} {
		fmt.Fprintf(p.out, "%-18s%s\n", row[0], row[1])
	}
	return nil
}

func either(second bool, is, otherwise string) string {
	if second {
		return is
	}
	return otherwise
}

// limitWords is the person's own wet limit for films that state none.
func limitWords(s settings.Settings) string {
	if s.Wet.All > 0 {
		return chem.FormatDuration(s.Wet.All)
	}
	var list []string
	for _, v := range sequence.Vessels {
		if d, ok := s.Wet.ByVessel[v]; ok {
			list = append(list, string(v)+" "+chem.FormatDuration(d))
		}
	}
	if len(list) == 0 {
		return "none"
	}
	return strings.Join(list, ", ")
}

package cli

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
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/recipes/settings"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
)

func newConfigCommand(p *app.Env) *cobra.Command {
	var write bool
	cmd := &cobra.Command{
		Use:   "config",
		Short: "show where the settings lie, and which hold now",
		Long: "Shows where the settings lie, what is wrong with them, and which hold now. --write makes\n" +
			"the file, each setting with its comment; an existing one is never written over.",
		Example: "  wetside config\n  wetside config --write",
		Args:    flags.UsageArgs(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error {
			path := settings.Path()
			if path == "" {
				return errors.New("settings: there is no home folder to keep them in; expected XDG_CONFIG_HOME or HOME")
			}
			if write {
				return runConfigWrite(p, path)
			}
			return printConfig(p, path)
		},
	}
	cmd.Flags().BoolVar(&write, "write", false, "make the file, with comments, unless there is one")
	return cmd
}

func runConfigWrite(p *app.Env, path string) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("settings: %w", err)
	}
	if err := app.WriteNewFile(path, settings.Example); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return fmt.Errorf("%s: is there already, and stays as it is", safetext.Clean(path))
		}
		return fmt.Errorf("settings: %w", err)
	}
	_, err := fmt.Fprintln(p.Out, safetext.Clean(path))
	return err
}

func printConfig(p *app.Env, path string) error {
	if p.SettingsErr != nil {
		p.PrintError(p.SettingsErr)
		return app.ErrReported
	}
	s, where := p.Settings, "not there; these settings hold (wetside config --write makes the file)"
	if s.FileFound {
		where = "in force"
	}
	fmt.Fprintf(p.Out, "%s: %s\n\n", safetext.Clean(path), where)
	for _, row := range [][2]string{
		{"temperature", string(rune(s.Habits.Scale()))},
		{"volume", either(s.Habits.FluidOunces, "floz", "ml")},
		{"clock", either(s.Habits.TwelveHours, "12h", "24h")},
		{"palette", either(s.RedDesk, "red", "white")},
		{"glyphs", s.Glyphs},
		{"voice", s.Voice},
		{"sound.out", s.Sound},
		{"sound.volume", strconv.Itoa(s.Volume)},
		{"keys.big", strings.Join(settings.KeyNames(s.BigKeys), ", ")},
		{"keys.menu", strings.Join(settings.KeyNames(s.MenuKeys), ", ")},
		{"limits.countdown", chem.FormatDuration(s.Countdown)},
		{"limits.rehearse", strconv.FormatFloat(s.RehearsalSpeed, 'f', -1, 64)},
		{"limits.wet_limit", wetLimitText(s)},
		{"thermometers", say.Thermometers(s.OwnThermometers(), s.Habits)},
	} {
		fmt.Fprintf(p.Out, "%-18s%s\n", row[0], row[1])
	}
	return nil
}

func either(second bool, is, otherwise string) string {
	if second {
		return is
	}
	return otherwise
}

// wetLimitText is the person's own wet limit for films that state none.
func wetLimitText(s settings.Settings) string {
	if s.WetLimit.All > 0 {
		return chem.FormatDuration(s.WetLimit.All)
	}
	var list []string
	for _, v := range sequence.Vessels {
		if d, ok := s.WetLimit.ByVessel[v]; ok {
			list = append(list, string(v)+" "+chem.FormatDuration(d))
		}
	}
	if len(list) == 0 {
		return "none"
	}
	return strings.Join(list, ", ")
}

package cli

// wetside cues: each sound, with its name and what it asks for.

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/cmd/wetside/internal/running"
	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
)

func newCuesCommand(p *app.Env) *cobra.Command {
	var dir, spec string
	var out flags.Output
	cmd := &cobra.Command{
		Use:   "cues",
		Short: "play each sound with its name, or write it to a file",
		Long: "Plays each sound with its name and what it means, so that you know them in the dark; or\n" +
			"writes each to a file with --wav.",
		Example: "  wetside cues\n  wetside cues --wav sounds",
		Args:    flags.UsageArgs(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if dir != "" {
				return writeCues(p, dir, out.Check)
			}
			if cmd.Flags().Changed("sound") {
				if err := out.MakeWay(running.SoundFile(spec)); err != nil {
					return err
				}
			}
			return runCues(p, spec)
		},
	}
	cmd.Flags().StringVar(&dir, "wav", "", "`DIR`: write each to a file in this folder instead")
	cmd.Flags().StringVar(&spec, "sound", p.Settings.Sound, "`OUT`: where sound goes: auto, pulse, exec, device, wav:FILE or off")
	out.Add(cmd, "wav", "sound")
	flags.Excludes(cmd, "wav", "sound")
	return cmd
}

// writeCues writes a file for each sound; who names a file wants all of them in one.
func writeCues(p *app.Env, dir string, mayWrite func(string) error) error {
	if strings.HasSuffix(strings.ToLower(dir), ".wav") {
		return app.Usagef("--wav %s: each sound has a file of its own; expected a folder, such as sounds (all in one file: --sound wav:%s)", dir, dir)
	}
	if err := cue.WriteFiles(dir, mayWrite); err != nil {
		return err
	}
	_, err := fmt.Fprintf(p.Out, "%d sounds are in %s; %s says what each means\n", len(cue.Kinds()), dir, cue.Legend)
	return err
}

func runCues(p *app.Env, spec string) error {
	out, err := running.OpenSound(p, spec, clock.New(p.Clock, 0, 1))
	if err != nil {
		return err
	}
	defer out.Close()
	fmt.Fprintln(p.Out, out.Sink.State())
	for _, kind := range cue.Kinds() {
		if _, err := fmt.Fprintf(p.Out, "%-13s %s\n", kind, cue.Describe(kind)); err != nil {
			return err
		}
		out.Ear.Play(kind)
		time.Sleep(cue.Length(kind) + running.AfterCue)
	}
	return nil
}

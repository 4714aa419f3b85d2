package main

// wetside cues: each sound, with its name and what it asks for.

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"example.org/wetside/sequence/clock"
	"example.org/wetside/tui/cue"
)

func (p *program) cues() *cobra.Command {
	var dir, spec string
	cmd := &cobra.Command{
		Use:     "cues",
		Short:   "play each cue with its name, or write it to a file",
		Example: "  wetside cues\n  wetside cues --wav sounds",
		Args:    words(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error {
			if dir != "" {
				return cue.WriteFiles(dir)
			}
			return p.playCues(spec)
		},
	}
	cmd.Flags().StringVar(&dir, "wav", "", "write each to a file in `DIR` instead")
	cmd.Flags().StringVar(&spec, "sound", p.settings.Sound, "auto, pulse, exec, device, wav:FILE or off")
	return cmd
}

// between is the quiet after each cue.
const between = 700 * time.Millisecond

func (p *program) playCues(spec string) error {
	out, err := p.openSound(spec, clock.New(p.source, 0, 1))
	if err != nil {
		return err
	}
	defer out.close()
	fmt.Fprintln(p.out, out.sink.State())
	for _, kind := range cue.Kinds() {
		if _, err := fmt.Fprintf(p.out, "%-13s %s\n", kind, cue.Describe(kind)); err != nil {
			return err
		}
		out.ear.Play(kind)
		time.Sleep(cue.Length(kind) + between)
	}
	return nil
}

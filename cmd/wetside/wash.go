package main

// wetside wash: what fill and dump leaves of the fixer.

import (
	"fmt"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
)

// washed is what wash says to a script.
type washed struct {
	Changes int     `json:"changes"`
	Residue float64 `json:"residue"`
}

func (p *program) wash() *cobra.Command {
	var carry, volume string
	var changes int
	var residue float64
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "wash",
		Short: "what is left after so many changes of water, or how many it takes",
		Example: "  wetside wash --carry-over 10ml --volume 500ml --changes 3\n" +
			"  wetside wash --carry-over 10ml --volume 500ml --residue 0.0001",
		Args: words(cobra.NoArgs),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if cmd.Flags().Changed("changes") == cmd.Flags().Changed("residue") {
				return usage("expected one of --changes and --residue")
			}
			c, err := millilitres("carry-over", carry)
			if err != nil {
				return err
			}
			v, err := millilitres("volume", volume)
			if err != nil {
				return err
			}
			if cmd.Flags().Changed("residue") {
				if changes, err = chem.Changes(c, v, residue); err != nil {
					return err
				}
			}
			left, err := chem.Residue(c, v, changes)
			if err != nil {
				return err
			}
			return p.showWash(washed{changes, left}, v, asJSON)
		},
	}
	f := cmd.Flags()
	f.StringVar(&carry, "carry-over", "", "what stays in film and vessel at a change, `V`")
	f.StringVar(&volume, "volume", "", "of one filling, with the carry-over in it, `V`")
	f.IntVar(&changes, "changes", 0, "how many fillings, `N`")
	f.Float64Var(&residue, "residue", 0, "the fraction of the fixer that may be left, `X`")
	f.BoolVar(&asJSON, "json", false, "as JSON")
	return cmd
}

func (p *program) showWash(w washed, v chem.Millilitres, asJSON bool) error {
	if asJSON {
		return p.json(w)
	}
	_, err := fmt.Fprintf(p.out, "%d changes leave %.3g of the fixer, with %.4g l of water\n"+
		"A lower bound: the gelatin gives up its fixer in minutes, not at once; let each change stand.\n",
		w.Changes, w.Residue, float64(w.Changes)*float64(v)/1000)
	return err
}

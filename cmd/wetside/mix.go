package main

// wetside mix: how much of each part makes a bath.

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

// mixture is what mix says to a script.
type mixture struct {
	Parts []chem.Amount    `json:"parts"`
	Total chem.Millilitres `json:"total_ml"`
}

func (p *program) mix() *cobra.Command {
	var volume, bath, graduate string
	var asJSON bool
	cmd := &cobra.Command{
		Use:   `mix RECIPE|"A 1 + B 2 + water 60"`,
		Short: "how much of each part makes a bath",
		Long: "How much of each part makes a volume: of the parts typed, or of a recipe's bath\n" +
			"(the first developer unless --bath names another; its own volume unless --volume\n" +
			"says otherwise). With --graduate, to the nearest mark, and the error that makes.",
		Example: "  wetside mix \"A 1 + B 2 + water 60\" --volume 1.5l\n" +
			"  wetside mix plover-tray --graduate 1ml",
		Args: words(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			parts, v, cautions, err := whatToMix(args[0], bath, volume)
			if err != nil {
				return err
			}
			amounts, err := chem.Mix(parts, v)
			if err != nil {
				return err
			}
			if asJSON {
				return p.json(mixture{amounts, v})
			}
			return p.showMix(parts, amounts, v, graduate, cautions)
		},
	}
	cmd.Flags().StringVar(&volume, "volume", "", "of the whole bath, `V`")
	cmd.Flags().StringVar(&bath, "bath", "", "`ID` of the recipe's bath")
	cmd.Flags().StringVar(&graduate, "graduate", "", "measure with a graduate marked every `V`")
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	return cmd
}

// whatToMix finds parts and volume in what was typed.
func whatToMix(what, bath, volume string) ([]chem.Part, chem.Millilitres, []string, error) {
	var v chem.Millilitres
	if volume != "" {
		var err error
		if v, err = chem.ParseMillilitres(volume); err != nil {
			return nil, 0, nil, usage("--volume: %v", err)
		}
	}
	if strings.Contains(what, "+") {
		parts, err := chem.ParseParts(what)
		if err == nil && v == 0 {
			err = usage("parts make no volume by themselves; expected --volume")
		}
		return parts, v, nil, err
	}
	r, err := recipes.Find(what, ownRecipes())
	if err != nil {
		return nil, 0, nil, err
	}
	b, err := bathOf(r, bath)
	if err != nil {
		return nil, 0, nil, err
	}
	if v == 0 {
		v = b.Volume
	}
	if v == 0 {
		return nil, 0, nil, usage("the recipe gives no volume for %q; expected --volume", b.ID)
	}
	return b.Parts, v, b.Cautions, nil
}

// bathOf is the bath named, or that of the first developing step.
func bathOf(r sequence.Recipe, id string) (sequence.Bath, error) {
	if id == "" {
		for _, st := range r.Steps {
			if st.Kind == sequence.Develop && st.Bath != "" {
				id = st.Bath
				break
			}
		}
	}
	var known []string
	for _, b := range r.Baths {
		if b.ID == id && len(b.Parts) > 0 {
			return b, nil
		}
		if len(b.Parts) > 0 {
			known = append(known, b.ID)
		}
	}
	return sequence.Bath{}, fmt.Errorf("bath %q: the recipe says no parts for it; expected one of %q", id, known)
}

func (p *program) showMix(parts []chem.Part, amounts []chem.Amount, v chem.Millilitres, graduate string, cautions []string) error {
	for _, a := range amounts {
		fmt.Fprintf(p.out, "%10s  %s", fmt.Sprintf("%.1f ml", float64(a.Volume)), recipes.Clean(a.Name))
		if err := p.measured(a, graduate); err != nil {
			return err
		}
		fmt.Fprintln(p.out)
	}
	fmt.Fprintf(p.out, "%10s  in all\n", fmt.Sprintf("%.1f ml", float64(v)))
	if graduate != "" {
		g, err := chem.ParseMillilitres(graduate)
		if err != nil {
			return usage("--graduate: %v", err)
		}
		least, err := chem.Graduate(g).LeastMix(parts, measuredWithin)
		if err != nil {
			return err
		}
		fmt.Fprintf(p.out, "make at least %.0f ml to measure every part within %.0f %% on this graduate\n", float64(least), 100*measuredWithin)
	}
	for _, c := range cautions {
		fmt.Fprintf(p.out, "caution: %s\n", recipes.Clean(c))
	}
	_, err := fmt.Fprintln(p.out, mixingCaution)
	return err
}

const (
	measuredWithin = 0.02 // a fair error for one part (our own rule)
	mixingCaution  = "caution: gloves and goggles; powders under extraction; acid into water, slowly.\n" +
		"The maker's safety data sheet and local codes come first."
)

// measured says what a graduate makes of an amount.
func (p *program) measured(a chem.Amount, graduate string) error {
	if graduate == "" {
		return nil
	}
	g, err := chem.ParseMillilitres(graduate)
	if err != nil {
		return usage("--graduate: %v", err)
	}
	mark, off, err := chem.Graduate(g).Round(a.Volume)
	if err != nil {
		return err
	}
	fmt.Fprintf(p.out, ", measured as %.4g ml (%+.1f %%)", float64(mark), 100*off)
	return nil
}

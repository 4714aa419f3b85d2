package cli

// wetside mix: how much of each part makes a bath.

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
	"example.org/wetside/recipes/safetext"
	"example.org/wetside/tui/say"
)

// mixJSON is what mix says to a script.
type mixJSON struct {
	Parts   []chem.Amount    `json:"parts"`
	Total   chem.Millilitres `json:"total_ml"`
	Solids  []chem.Weight    `json:"solids,omitzero"`
	InHand  []stockNeed      `json:"in_hand,omitzero"`
	Marks   []graduateMark   `json:"measured,omitzero"`    // with a graduate
	Least   chem.Millilitres `json:"least_ml,omitzero"`    // of the mix, to measure its smallest part well
	OnMarks chem.Millilitres `json:"on_marks_ml,omitzero"` // the least mix, no smaller, that lands on marks throughout
}

// stockNeed is one part in hand against what is needed of it.
type stockNeed struct {
	Name  string           `json:"name"`
	Need  chem.Millilitres `json:"need_ml"`
	Have  chem.Millilitres `json:"have_ml"`
	Makes chem.Millilitres `json:"makes_ml"` // the largest volume of the mix that it suffices for
}

// mixFlags are the words of mix, and what they come to.
type mixFlags struct {
	volume, bath, graduate, within string
	vessel                         flags.VesselFlags
	have                           []string
	asJSON                         bool

	parsed       chem.Mixture
	whole        chem.Millilitres
	graduateStep chem.Graduate
	errorLimit   float64 // per cent
	hardest      string  // the part that says how large the mix must be
	hazards      []string
}

func newMixCommand(p *app.Env) *cobra.Command {
	var m mixFlags
	cmd := &cobra.Command{
		Use:   "mix RECIPE|MIXTURE",
		Short: "say how much of each part makes a bath",
		Long: "Says how much of each part makes a bath, its cautions first: a recipe's bath (the first\n" +
			"developer unless --bath names another), or a MIXTURE as typed: in parts (\"A 1 + B 3 +\n" +
			"water 80\", 1+49), in volumes or per cent that add up (\"A 40% + water 60%\"), from one\n" +
			"strength to another (\"acid 99.5% to 28%\"), or in grams (\"metol 2g/l + sulphite 100g/l\").\n\n" +
			"The volume may be given by the vessel: --tray, --tank or --drum with --depth. --have\n" +
			"compares with the stock in hand. --graduate rounds to its nearest mark, says the error\n" +
			"that this makes, and proposes the next volume that lands on the marks.",
		Example: "  wetside mix \"A 1 + B 3 + water 80\" --volume 1.5l --have \"A 40ml\"\n" +
			"  wetside mix plover-tray --tray 8x10in --depth 30mm --graduate 1ml",
		Args: flags.UsageArgs(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error { return runMix(p, &m, args[0]) },
	}
	f := cmd.Flags()
	f.StringVar(&m.volume, "volume", "", "`VOLUME`: the whole bath (default: the recipe's)")
	m.vessel.Add(cmd)
	f.StringVar(&m.bath, "bath", "", "`ID`: which bath of the recipe")
	f.StringArrayVar(&m.have, "have", nil, "`\"A 40ml\"`: stock in hand; give it once for each part")
	f.StringVar(&m.graduate, "graduate", "", "`VOLUME`: the graduate has a mark every VOLUME")
	f.StringVar(&m.within, "within", "", "`P`: with --graduate: the error allowed, per cent (default 2)")
	f.BoolVar(&m.asJSON, "json", false, "print JSON")
	flags.Excludes(cmd, "volume", "depth", "tray", "tank", "drum")
	cmd.MarkFlagsMutuallyExclusive("tray", "tank", "drum")
	flags.Needs(cmd, "depth", "tray", "tank", "drum")
	for _, vessel := range []string{"tray", "tank", "drum"} {
		flags.Needs(cmd, vessel, "depth")
	}
	flags.Needs(cmd, "within", "graduate")
	return cmd
}

func runMix(p *app.Env, m *mixFlags, what string) error {
	if err := m.parse(what); err != nil {
		return err
	}
	out := mixJSON{Parts: []chem.Amount{}, Total: m.whole}
	var err error
	if len(m.parsed.Solids) > 0 {
		out.Solids, err = chem.Weigh(m.parsed.Solids, m.whole)
	} else {
		out.Parts, err = chem.Mix(m.parsed.Parts, m.whole)
	}
	if err != nil {
		return err
	}
	if out.InHand, err = m.compareStock(out.Parts); err != nil {
		return err
	}
	if err = m.roundToMarks(&out); err != nil {
		return err
	}
	if m.asJSON {
		err = p.WriteJSON(out)
	} else {
		err = printMix(p, m, out)
	}
	if err == nil && slices.ContainsFunc(out.InHand, func(s stockNeed) bool { return s.Have < s.Need }) {
		return app.ErrReported
	}
	return err
}

// parse finds out what is to be mixed, and how much.
func (m *mixFlags) parse(what string) error {
	volume, err := m.vessel.Volume()
	if err != nil {
		return err
	}
	if m.volume != "" {
		if volume, err = flags.Volume("volume", m.volume); err != nil {
			return err
		}
		if volume == 0 {
			return app.Usagef("--volume: 0 ml; expected above zero")
		}
	}
	m.whole = volume
	if err := m.parseGraduate(); err != nil {
		return err
	}
	if strings.ContainsAny(what, "+%") || strings.Contains(what, "g/l") || isColonRatio(what) {
		return m.parseTyped(what)
	}
	r, err := app.FindPlainRecipe(what)
	if err != nil {
		return err
	}
	b, err := flags.BathOf(r, m.bath)
	if err != nil {
		return err
	}
	if m.whole == 0 {
		m.whole = b.Volume
	}
	if m.whole == 0 {
		return app.Usagef("the recipe gives no volume for %q; expected --volume, or a vessel with its depth", b.ID)
	}
	m.parsed.Parts, m.hazards = b.Parts, say.HazardsIn(&r, &b)
	return nil
}

func (m *mixFlags) parseTyped(what string) (err error) {
	if m.bath != "" {
		return app.Usagef("--bath goes with a recipe")
	}
	if m.parsed, err = chem.ParseMix(what); err != nil {
		return err
	}
	if m.whole == 0 {
		m.whole = m.parsed.Total
	}
	if m.whole == 0 {
		return app.Usagef("what is typed makes no volume by itself; expected --volume, or a vessel with its depth")
	}
	named := m.parsed.Parts
	for _, s := range m.parsed.Solids {
		named = append(named, chem.Part{Name: s.Name})
	}
	m.hazards = say.HazardsOfParts(named)
	return m.parsed.CheckTotal(m.whole)
}

// compareStock compares the stock in hand with what is needed.
func (m *mixFlags) compareStock(amounts []chem.Amount) ([]stockNeed, error) {
	if len(m.have) > 0 && len(amounts) == 0 {
		return nil, app.Usagef("--have goes with parts by volume")
	}
	var list []stockNeed
	for _, text := range m.have {
		h, err := chem.ParseStock(text)
		if err != nil {
			return nil, app.Usagef("--have: %v", err)
		}
		makes, err := h.MaxVolume(m.parsed.Parts)
		if err != nil {
			return nil, err
		}
		for _, a := range amounts {
			if a.Name == h.Name {
				list = append(list, stockNeed{h.Name, a.Volume, h.Volume, makes})
			}
		}
	}
	return list, nil
}

// printMix says the dangers first, then what to measure out and in which order.
func printMix(p *app.Env, m *mixFlags, out mixJSON) error {
	if m.vessel.TooShallow {
		fmt.Fprintln(p.Out, "caution: a tray wants half an inch (13 mm) of bath at least (US Army SS0509 p. 18), for a stack 25 to 35 mm")
	}
	for _, h := range m.hazards {
		fmt.Fprintf(p.Out, "caution: %s\n", safetext.Clean(h))
	}
	for _, c := range say.Workplace() {
		fmt.Fprintf(p.Out, "caution: %s\n", c)
	}
	var solids []string
	for _, w := range out.Solids {
		solids = append(solids, w.Name)
	}
	if order, dry := say.DryOrder(solids); dry {
		fmt.Fprintf(p.Out, "order: %s\n", safetext.Clean(order))
	} else if len(m.parsed.Parts) > 0 {
		fmt.Fprintf(p.Out, "order: %s\n", safetext.Clean(say.MixingOrder(m.parsed.Parts)))
	} else {
		fmt.Fprintln(p.Out, "order: three quarters of the water, then each solid as it stands here, the next once it has dissolved; water to the mark")
	}
	for _, w := range out.Solids {
		fmt.Fprintf(p.Out, "%11s  %s\n", fmt.Sprintf("%.2f g", w.Grams), safetext.Clean(w.Name))
	}
	for i, a := range out.Parts {
		fmt.Fprintf(p.Out, "%11s  %s%s\n", say.VolumeInColumn(a.Volume, p.Settings.Habits), safetext.Clean(a.Name), measuredText(p, out.Marks, i))
	}
	fmt.Fprintf(p.Out, "%11s  total\n", say.VolumeInColumn(m.whole, p.Settings.Habits))
	for _, s := range out.InHand {
		enough := "enough"
		if s.Have < s.Need {
			enough = "SHORT: it makes " + say.Volume(s.Makes, p.Settings.Habits)
		}
		fmt.Fprintf(p.Out, "%s: %s needed, %s in hand, %s\n", safetext.Clean(s.Name), say.Volume(s.Need, p.Settings.Habits), say.Volume(s.Have, p.Settings.Habits), enough)
	}
	return printLeast(p, m, out)
}

// isColonRatio reports whether what is typed is numbers with colons between: 1:49, which some
// read as one in 49.
func isColonRatio(what string) bool {
	return strings.Contains(what, ":") && strings.Trim(what, "0123456789.: ") == ""
}

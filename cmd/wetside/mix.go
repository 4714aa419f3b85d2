package main

// wetside mix: how much of each part makes a bath.

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/chem"
	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
)

// mixture is what mix says to a script.
type mixture struct {
	Parts  []chem.Amount    `json:"parts"`
	Total  chem.Millilitres `json:"total_ml"`
	Solids []chem.Weight    `json:"solids,omitzero"`
	InHand []stock          `json:"in_hand,omitzero"`
}

// stock is one part in hand against what is needed of it.
type stock struct {
	Name  string           `json:"name"`
	Need  chem.Millilitres `json:"need_ml"`
	Have  chem.Millilitres `json:"have_ml"`
	Makes chem.Millilitres `json:"makes_ml"` // the largest volume of the mix that it suffices for
}

// toMix are the words of mix, and what they come to.
type toMix struct {
	volume, bath, graduate, within string
	filled                         filling
	have                           []string
	asJSON                         bool

	mix     chem.Typed
	v       chem.Millilitres
	hazards []string
}

func (p *program) mix() *cobra.Command {
	var m toMix
	cmd := &cobra.Command{
		Use:   `mix RECIPE|"A 1 + B 2 + water 60"`,
		Short: "how much of each part makes a bath",
		Long: "How much of each part makes a volume: of a recipe's bath (the first developer unless\n" +
			"--bath names another; its own volume unless something else says it), or of what is\n" +
			"typed: in parts (\"A 1 + B 2 + water 60\", 1+49), in volumes or per cent that add up\n" +
			"(\"A 40% + water 60%\"), from one strength to another (\"acid 99.5% to 28%\"), or in\n" +
			"grams (\"metol 2g/l + sulphite 100g/l\"). The volume may be told by the vessel: --tray,\n" +
			"--tank or --drum with --depth. --have compares with the stock in hand; --graduate\n" +
			"rounds to its nearest mark and says the error that makes.",
		Example: "  wetside mix \"A 1 + B 2 + water 60\" --volume 1.5l --have \"A 40ml\"\n" +
			"  wetside mix plover-tray --tray 8x10in --depth 30mm --graduate 1ml",
		Args: words(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error { return p.mixNow(&m, args[0]) },
	}
	f := cmd.Flags()
	f.StringVar(&m.volume, "volume", "", "of the whole bath, `V`")
	m.filled.flags(cmd)
	f.StringVar(&m.bath, "bath", "", "`ID` of the recipe's bath")
	f.StringArrayVar(&m.have, "have", nil, "stock in hand, `\"A 40ml\"`; may be given for each part")
	f.StringVar(&m.graduate, "graduate", "", "measure with a graduate marked every `V`")
	f.StringVar(&m.within, "within", "2", "with --graduate: the error allowed, per cent, `P`")
	f.BoolVar(&m.asJSON, "json", false, "as JSON")
	return cmd
}

func (p *program) mixNow(m *toMix, what string) error {
	if err := m.read(what); err != nil {
		return err
	}
	out := mixture{Parts: []chem.Amount{}, Total: m.v}
	var err error
	if len(m.mix.Solids) > 0 {
		out.Solids, err = chem.Weigh(m.mix.Solids, m.v)
	} else {
		out.Parts, err = chem.Mix(m.mix.Parts, m.v)
	}
	if err != nil {
		return err
	}
	if out.InHand, err = m.inHand(out.Parts); err != nil {
		return err
	}
	if m.asJSON {
		err = p.json(out)
	} else {
		err = p.showMix(m, out)
	}
	if err == nil && slices.ContainsFunc(out.InHand, func(s stock) bool { return s.Have < s.Need }) {
		return errFound
	}
	return err
}

// read finds out what is to be mixed, and how much.
func (m *toMix) read(what string) error {
	volume, err := m.filled.volume()
	if err != nil {
		return err
	}
	if m.volume != "" {
		if volume != 0 {
			return usage("expected one of --volume and a vessel with its depth")
		}
		if volume, err = millilitres("volume", m.volume); err != nil {
			return err
		}
		if volume == 0 {
			return usage("--volume: 0 ml; expected above zero")
		}
	}
	m.v = volume
	if strings.ContainsAny(what, "+%") || strings.Contains(what, "g/l") {
		return m.typed(what)
	}
	r, err := recipeOf(what)
	if err != nil {
		return err
	}
	b, err := bathOf(r, m.bath)
	if err != nil {
		return err
	}
	if m.v == 0 {
		m.v = b.Volume
	}
	if m.v == 0 {
		return usage("the recipe gives no volume for %q; expected --volume, or a vessel with its depth", b.ID)
	}
	m.mix.Parts, m.hazards = b.Parts, r.Hazards(&b)
	return nil
}

func (m *toMix) typed(what string) (err error) {
	if m.bath != "" {
		return usage("--bath goes with a recipe")
	}
	if m.mix, err = chem.ParseMix(what); err != nil {
		return err
	}
	if m.v == 0 {
		m.v = m.mix.Total
	}
	if m.v == 0 {
		return usage("what is typed makes no volume by itself; expected --volume, or a vessel with its depth")
	}
	named := m.mix.Parts
	for _, s := range m.mix.Solids {
		named = append(named, chem.Part{Name: s.Name})
	}
	m.hazards = sequence.HazardsOf(named)
	return m.mix.Fits(m.v)
}

// inHand compares the stock in hand with what is needed.
func (m *toMix) inHand(amounts []chem.Amount) ([]stock, error) {
	if len(m.have) > 0 && len(amounts) == 0 {
		return nil, usage("--have goes with parts by volume")
	}
	var list []stock
	for _, text := range m.have {
		h, err := chem.ParseInHand(text)
		if err != nil {
			return nil, usage("--have: %v", err)
		}
		makes, err := h.Suffices(m.mix.Parts)
		if err != nil {
			return nil, err
		}
		for _, a := range amounts {
			if a.Name == h.Name {
				list = append(list, stock{h.Name, a.Volume, h.Volume, makes})
			}
		}
	}
	return list, nil
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

// showMix says the dangers first, then what to measure out and in which order.
func (p *program) showMix(m *toMix, out mixture) error {
	if m.filled.shallow {
		fmt.Fprintln(p.out, "caution: a tray wants half an inch (13 mm) of bath at least (US Army SS0509 p. 18), for a stack 25 to 35 mm")
	}
	for _, h := range m.hazards {
		fmt.Fprintf(p.out, "caution: %s\n", recipes.Clean(h))
	}
	if len(m.mix.Parts) > 0 {
		fmt.Fprintf(p.out, "order: %s\n", recipes.Clean(sequence.MixingOrder(m.mix.Parts)))
	} else {
		fmt.Fprintln(p.out, "order: three quarters of the water, then each solid as it stands here, the next once it has dissolved; water to the mark")
	}
	for _, w := range out.Solids {
		fmt.Fprintf(p.out, "%11s  %s\n", fmt.Sprintf("%.2f g", w.Grams), recipes.Clean(w.Name))
	}
	for _, a := range out.Parts {
		fmt.Fprintf(p.out, "%11s  %s", p.settings.Habits.Amount(a.Volume), recipes.Clean(a.Name))
		if err := p.measured(a, m.graduate); err != nil {
			return err
		}
		fmt.Fprintln(p.out)
	}
	fmt.Fprintf(p.out, "%11s  in all\n", p.settings.Habits.Amount(m.v))
	for _, s := range out.InHand {
		enough := "enough"
		if s.Have < s.Need {
			enough = "SHORT: it makes " + p.settings.Habits.Short(s.Makes)
		}
		fmt.Fprintf(p.out, "%s: %s needed, %s in hand, %s\n", recipes.Clean(s.Name), p.settings.Habits.Short(s.Need), p.settings.Habits.Short(s.Have), enough)
	}
	return p.least(m)
}

// least says how large the mix must be for the graduate.
func (p *program) least(m *toMix) error {
	if m.graduate == "" || len(m.mix.Parts) == 0 {
		return nil
	}
	g, err := chem.ParseMillilitres(m.graduate)
	if err != nil {
		return usage("--graduate: %v", err)
	}
	within, err := strconv.ParseFloat(strings.TrimSuffix(m.within, "%"), 64)
	if err != nil || !(within > 0 && within < 100) {
		return usage("--within: %q; expected a percentage above 0 and below 100", m.within)
	}
	least, part, err := chem.Graduate(g).LeastMix(m.mix.Parts, within/100)
	if err != nil {
		return err
	}
	head := "make at least"
	if m.v >= least {
		head = "enough: it takes"
	}
	_, err = fmt.Fprintf(p.out, "%s %s to measure %s within %.3g %% on this graduate\n", head, p.settings.Habits.Volume(least), recipes.Clean(part), within)
	return err
}

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
	fmt.Fprintf(p.out, ", measured as %s (%+.1f %%)", p.settings.Habits.Mark(mark), 100*off)
	return nil
}

// filling is a vessel and how deep it is filled, as typed.
type filling struct {
	tray, tank, drum, depth string
	shallow                 bool // too little to cover film that is moved
}

func (f *filling) flags(cmd *cobra.Command) {
	fs := cmd.Flags()
	fs.StringVar(&f.tray, "tray", "", "fill a tray of `AxB` inside (8x10in, 20x25cm); with --depth")
	fs.StringVar(&f.tank, "tank", "", "fill a tank with a footprint of `AxB` inside; with --depth")
	fs.StringVar(&f.drum, "drum", "", "fill a lying drum, `WIDTHxLENGTH` inside; with --depth")
	fs.StringVar(&f.depth, "depth", "", "how deep the bath is, `L` (12mm, 2.5cm, 0.5in)")
}

// volume is what the vessel takes; 0 where none was typed.
func (f *filling) volume() (chem.Millilitres, error) {
	given := 0
	for _, s := range []string{f.tray, f.tank, f.drum} {
		if s != "" {
			given++
		}
	}
	switch {
	case given == 0 && f.depth == "":
		return 0, nil
	case given != 1 || f.depth == "":
		return 0, usage("expected one of --tray, --tank and --drum together with --depth")
	}
	depth, err := chem.ParseLength(f.depth)
	if err != nil {
		return 0, usage("--depth: %v", err)
	}
	a, b, err := chem.ParseSides(f.tray + f.tank + f.drum)
	if err != nil {
		return 0, usageError{err}
	}
	if f.drum != "" {
		return chem.Lying(a, b, depth)
	}
	f.shallow = f.tray != "" && depth < chem.LeastDepth-1e-9
	return chem.Box(a, b, depth)
}

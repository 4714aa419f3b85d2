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
	Marks  []marked         `json:"measured,omitzero"` // with a graduate
	Least  chem.Millilitres `json:"least_ml,omitzero"` // of the mix, to measure its smallest part well
}

// marked is what a graduate makes of a part.
type marked struct {
	Name string           `json:"name"`
	Mark chem.Millilitres `json:"ml"`
	Off  float64          `json:"error"` // a fraction of the volume wanted
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
	g       chem.Graduate
	allowed float64 // per cent
	hardest string  // the part that says how large the mix must be
	hazards []string
}

func (p *program) mix() *cobra.Command {
	var m toMix
	cmd := &cobra.Command{
		Use:   `mix RECIPE|"A 1 + B 3 + water 80"`,
		Short: "how much of each part makes a bath",
		Long: "How much of each part makes a volume: of a recipe's bath (the first developer unless\n" +
			"--bath names another; its own volume unless something else says it), or of what is\n" +
			"typed: in parts (\"A 1 + B 3 + water 80\", 1+49), in volumes or per cent that add up\n" +
			"(\"A 40% + water 60%\"), from one strength to another (\"acid 99.5% to 28%\"), or in\n" +
			"grams (\"metol 2g/l + sulphite 100g/l\"). The volume may be told by the vessel: --tray,\n" +
			"--tank or --drum with --depth. --have compares with the stock in hand; --graduate\n" +
			"rounds to its nearest mark and says the error that makes.",
		Example: "  wetside mix \"A 1 + B 3 + water 80\" --volume 1.5l --have \"A 40ml\"\n" +
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
	f.StringVar(&m.within, "within", "", "with --graduate: the error allowed, per cent, `P`; usually 2")
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
	if err = m.marks(&out); err != nil {
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
		if volume, err = millilitres("volume", m.volume); err != nil {
			return err
		}
		if volume == 0 {
			return usage("--volume: 0 ml; expected above zero")
		}
	}
	m.v = volume
	if err := m.measuring(); err != nil {
		return err
	}
	if strings.ContainsAny(what, "+%") || strings.Contains(what, "g/l") || ratio(what) {
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
	for _, c := range sequence.Workplace() {
		fmt.Fprintf(p.out, "caution: %s\n", c)
	}
	var solids []string
	for _, w := range out.Solids {
		solids = append(solids, w.Name)
	}
	if order, dry := sequence.DryOrder(solids); dry {
		fmt.Fprintf(p.out, "order: %s\n", recipes.Clean(order))
	} else if len(m.mix.Parts) > 0 {
		fmt.Fprintf(p.out, "order: %s\n", recipes.Clean(sequence.MixingOrder(m.mix.Parts)))
	} else {
		fmt.Fprintln(p.out, "order: three quarters of the water, then each solid as it stands here, the next once it has dissolved; water to the mark")
	}
	for _, w := range out.Solids {
		fmt.Fprintf(p.out, "%11s  %s\n", fmt.Sprintf("%.2f g", w.Grams), recipes.Clean(w.Name))
	}
	for i, a := range out.Parts {
		fmt.Fprintf(p.out, "%11s  %s%s\n", p.settings.Habits.Amount(a.Volume), recipes.Clean(a.Name), p.measured(out.Marks, i))
	}
	fmt.Fprintf(p.out, "%11s  in all\n", p.settings.Habits.Amount(m.v))
	for _, s := range out.InHand {
		enough := "enough"
		if s.Have < s.Need {
			enough = "SHORT: it makes " + p.settings.Habits.Short(s.Makes)
		}
		fmt.Fprintf(p.out, "%s: %s needed, %s in hand, %s\n", recipes.Clean(s.Name), p.settings.Habits.Short(s.Need), p.settings.Habits.Short(s.Have), enough)
	}
	return p.least(m, out.Least)
}

// measuring reads the graduate, and how far off it may be.
func (m *toMix) measuring() error {
	if m.graduate == "" {
		return nil
	}
	g, err := millilitres("graduate", m.graduate)
	if err != nil {
		return err
	}
	if g == 0 {
		return usage("--graduate: 0 ml; expected what lies between two of its marks, above zero")
	}
	m.g, m.allowed = chem.Graduate(g), 2
	if m.within != "" {
		m.allowed, err = strconv.ParseFloat(strings.TrimSuffix(m.within, "%"), 64)
		if err != nil || !(m.allowed > 0 && m.allowed < 100) {
			return usage("--within: %q; expected a percentage above 0 and below 100", m.within)
		}
	}
	return nil
}

// marks finds what the graduate makes of each part, and how large the mix must be.
func (m *toMix) marks(out *mixture) (err error) {
	if m.g == 0 {
		return nil
	}
	if len(out.Parts) == 0 {
		return usage("--graduate goes with parts by volume")
	}
	for _, a := range out.Parts {
		mark, off, err := m.g.Round(a.Volume)
		if err != nil {
			return err
		}
		out.Marks = append(out.Marks, marked{a.Name, mark, off})
	}
	out.Least, m.hardest, err = m.g.LeastMix(m.mix.Parts, m.allowed/100)
	return err
}

// least says how large the mix must be for the graduate.
func (p *program) least(m *toMix, least chem.Millilitres) error {
	if m.g == 0 {
		return nil
	}
	head := "make at least"
	if m.v >= least {
		head = "enough: it takes"
	}
	_, err := fmt.Fprintf(p.out, "%s %s to measure %s within %.3g %% on this graduate\n", head, p.settings.Habits.Volume(least), recipes.Clean(m.hardest), m.allowed)
	return err
}

// measured says what the graduate makes of part i; "" without one.
func (p *program) measured(marks []marked, i int) string {
	if len(marks) == 0 {
		return ""
	}
	return fmt.Sprintf(", measured as %s (%+.1f %%)", p.settings.Habits.Mark(marks[i].Mark), 100*marks[i].Off)
}

// ratio reports whether what is typed is numbers with colons between: 1:49, which some
// read as one in 49.
func ratio(what string) bool {
	return strings.Contains(what, ":") && strings.Trim(what, "0123456789.: ") == ""
}

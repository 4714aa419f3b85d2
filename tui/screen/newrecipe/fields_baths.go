package newrecipe

// The fields of what is mixed: the developer, and the parts and volume of any bath.

import (
	"cmp"
	"fmt"
	"math"
	"reflect"
	"slices"

	"example.org/wetside/chem"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/say"
)

// develop is the first developing step; nil where there is none.
func develop(r *sequence.Recipe) *sequence.Step { return stepOf(r, sequence.Develop) }

func stepOf(r *sequence.Recipe, k sequence.Kind) *sequence.Step {
	return first(r.Steps, func(s sequence.Step) bool { return s.Kind == k })
}

func stepNamed(r *sequence.Recipe, name string) *sequence.Step {
	return first(r.Steps, func(s sequence.Step) bool { return s.Name == name })
}

// bath is the bath of a name; nil where the recipe says nothing of it.
func bath(r *sequence.Recipe, id string) *sequence.Bath {
	return first(r.Baths, func(b sequence.Bath) bool { return b.ID == id && id != "" })
}

// first is the first of a list of which something holds; nil for none.
func first[T any](list []T, holds func(T) bool) *T {
	if i := slices.IndexFunc(list, holds); i >= 0 {
		return &list[i]
	}
	return nil
}

// read is the bath of a name, an empty one where the recipe says nothing of it.
func read(r *sequence.Recipe, id string) *sequence.Bath {
	if b := bath(r, id); b != nil {
		return b
	}
	return &sequence.Bath{ID: id}
}

// change changes the bath of a name. Of a developer of which the recipe says nothing one is
// made, as soon as something is said.
func change(r *sequence.Recipe, id, s string, put func(*sequence.Bath, string) error) error {
	if b := bath(r, id); b != nil {
		return put(b, s)
	}
	b := sequence.Bath{ID: id}
	if err := put(&b, s); err != nil || reflect.DeepEqual(b, sequence.Bath{ID: id}) {
		return err
	}
	r.Baths = append(r.Baths, b)
	if st := develop(r); st != nil && st.Bath == "" {
		st.Bath = id
	}
	return nil
}

// stepKey is how a fault names a key of the first step of a kind.
func (f *form) stepKey(k sequence.Kind, key string) string {
	i := slices.IndexFunc(f.r.Steps, func(s sequence.Step) bool { return s.Kind == k })
	return fmt.Sprintf("step %d %s", i+1, key)
}

func (f *form) bathKey(id, key string) string {
	i := slices.IndexFunc(f.r.Baths, func(b sequence.Bath) bool { return b.ID == id })
	return fmt.Sprintf("bath %d %s", i+1, key)
}

// developer is what the developer is made of and how far it goes.
func (f *form) developer() {
	st := develop(f.base)
	if st == nil {
		return
	}
	id := cmp.Or(st.Bath, "developer")
	in := func(get func(*sequence.Bath) string) func(*sequence.Recipe) string {
		return func(r *sequence.Recipe) string { return get(read(r, id)) }
	}
	to := func(put func(*sequence.Bath, string) error) func(*sequence.Recipe, string) error {
		return func(r *sequence.Recipe, s string) error { return change(r, id, s, put) }
	}
	f.add("Developer",
		f.parts(id, "mixed from", "A 1 + B 2 + water 60, or 1+3"),
		f.volume(id, "volume", "1.5l in an 8x10in tray, 4l in a tank"),
		field{id: "stock", label: "stock for a sheet", key: f.bathKey(id, "stock_per_sheet"), usual: "what the maker says for the area; empty where nothing is said",
			meaning: "The least of the first part that each sheet of 4x5in needs, however much water there is.",
			get:     in(func(b *sequence.Bath) string { return f.typedVolume(b.StockPerSheet) }),
			put:     to(func(b *sequence.Bath, s string) error { return parseVolume(s, &b.StockPerSheet) }),
			show:    in(func(b *sequence.Bath) string { return f.readVolume(b.StockPerSheet) })},
		field{id: "capacity", label: "sheets per litre", key: f.bathKey(id, "sheets_per_litre"), usual: "what the maker says",
			meaning: "How many sheets of 4x5in a litre develops before it is spent.",
			get:     in(func(b *sequence.Bath) string { return number(b.SheetsPerLitre) }),
			put:     to(func(b *sequence.Bath, s string) error { return parseNumber(s, &b.SheetsPerLitre) })},
		field{id: "life", label: "working life", key: f.bathKey(id, "tray_life"), usual: "1h for a two-part developer once mixed, 8h for others",
			meaning: "How long it works once it is mixed and stands open.",
			get:     in(func(b *sequence.Bath) string { return clock(b.WorkingLife) }),
			put:     to(func(b *sequence.Bath, s string) error { return parseTime(s, &b.WorkingLife) }),
			show:    in(func(b *sequence.Bath) string { return unlessZero(b.WorkingLife, say.Short) })},
		field{id: "one-shot", label: "used", choices: []choice{{"once", "once, then retired"}, {"again", "again"}}, usual: "once, where it is mixed from little stock",
			meaning: "Whether the bath serves one session or is kept for the next.",
			get: in(func(b *sequence.Bath) string {
				if b.OneShot {
					return "once"
				}
				return "again"
			}),
			put: to(func(b *sequence.Bath, s string) error { b.OneShot = s == "once"; return nil })})
}

// parts is what a bath is mixed from.
func (f *form) parts(id, label, usual string) field {
	return field{id: "parts:" + id, label: label, key: f.bathKey(id, "parts"), usual: usual,
		meaning: "Its parts by volume, each with its number. The plan works out how much of each is poured. Gloves, and the maker's safety data sheet first.",
		get: func(r *sequence.Recipe) string {
			if len(read(r, id).Parts) == 0 {
				return ""
			}
			return r.MixtureOf(&sequence.Step{Bath: id})
		},
		put: func(r *sequence.Recipe, s string) error { return change(r, id, s, putParts) }}
}

func putParts(b *sequence.Bath, s string) (err error) {
	if s == "" {
		b.Parts = nil
		return nil
	}
	parts, err := chem.ParseParts(s)
	if err == nil {
		b.Parts = parts
	}
	return err
}

func (f *form) volume(id, label, usual string) field {
	return field{id: "volume:" + id, label: label, key: f.bathKey(id, "volume"), usual: usual,
		meaning: "How much is mixed. In a tray a stack needs 25 to 35 mm of depth.",
		get:     func(r *sequence.Recipe) string { return f.typedVolume(read(r, id).Volume) },
		put: func(r *sequence.Recipe, s string) error {
			return change(r, id, s, func(b *sequence.Bath, s string) error { return parseVolume(s, &b.Volume) })
		},
		show: func(r *sequence.Recipe) string { return f.readVolume(read(r, id).Volume) }}
}

func (f *form) typedVolume(v chem.Millilitres) string {
	if f.units.FluidOunces {
		return unlessZero(v, chem.FormatFluidOunces)
	}
	return unlessZero(v, chem.FormatMillilitres)
}

func (f *form) readVolume(v chem.Millilitres) string {
	return unlessZero(v, func(v chem.Millilitres) string { return say.Volume(v, f.units) })
}

func parseVolume(s string, to *chem.Millilitres) error {
	return parse(s, to, chem.ParseMillilitres, math.SmallestNonzeroFloat64, "a volume such as 1.5l, 250ml or 8floz")
}

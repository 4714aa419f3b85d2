package curves

// What is aimed at: the fields that ask for it, and what they come to.

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/wetside/chem/curve"
	"example.org/wetside/chem/response"
	"example.org/wetside/sequence"
	"example.org/wetside/tui/form"
)

// The fields, by their labels. Which of them are asked for follows from the aim.
const (
	fieldAim       = "aim"
	fieldTarget    = "gradient wanted"
	fieldContrast  = "contrast index"
	fieldPaper     = "paper"
	fieldSubject   = "subject"
	fieldFlare     = "flare"
	fieldEnlarger  = "enlarger"
	fieldShadow    = "shadow density"
	fieldPlaced    = "shadow placed"
	fieldPublished = "published time"
	fieldSmoothing = "smoothing"
	fieldStart     = "new recipe from"
)

// The aims, in the order of their choices.
const (
	aimAverage = iota
	aimContrast
	aimPrint
)

// asked are the fields of each aim alone.
var asked = [][]string{
	aimAverage:  {fieldTarget, fieldPublished},
	aimContrast: {fieldContrast},
	aimPrint:    {fieldPaper, fieldSubject, fieldFlare, fieldEnlarger, fieldShadow, fieldPlaced},
}

// usualGradient and usualContrast are what is wanted until another is typed: a diffusion enlarger and a
// paper of log exposure range 1.05 (Stroebel et al., from memory; NAVEDTRA: 0.56 to 0.60 for most printing).
const (
	usualGradient = 0.58
	usualContrast = 0.58
)

// allFields are those of every aim, with what is usual in them.
func allFields() []form.Field {
	return []form.Field{
		{Label: fieldAim, Choices: []string{aimAverage: "average gradient", aimContrast: "contrast index", aimPrint: "print"},
			Means: "A gradient, a contrast index, or both ends of a print on your paper."},
		{Label: fieldTarget, Text: fmt.Sprintf("%.2f", usualGradient),
			Means: "The average gradient that prints well: 0.58 with a diffusion enlarger, 0.44 with a condenser. Or three numbers: the paper's log exposure scale, the subject's log range, and flare, such as 1.05 2.2 0.4."},
		{Label: fieldContrast, Text: fmt.Sprintf("%.2f", usualContrast), Means: "The contrast index: 0.56 to 0.60 for most printing, lower with a condenser."},
		{Label: fieldPaper, Text: "grade 2", Means: "From grade 0 to grade 5, or a log exposure range as measured: 1.05."},
		{Label: fieldSubject, Text: "2.2", Means: "From textured shadow to textured highlight: 2.2 in log10, or 7 stops."},
		{Label: fieldFlare, Text: "0.40", Means: "What flare takes from a subject of 2.2; what it does to yours follows."},
		{Label: fieldEnlarger, Choices: []string{string(sequence.Diffuse), string(sequence.Condenser)}, Means: "Diffuse for contact prints too; a condenser prints harder (common practice)."},
		{Label: fieldShadow, Text: "0.10", Means: "Where the shadow stands: its density over base plus fog."},
		{Label: fieldPlaced, Text: "-3.33", Unit: "stops", Means: "Where you place the metered shadow: an index has the speed point at −3.33."},
		{Label: fieldPublished, Usual: "none", Means: "A developing time from elsewhere, such as 9m: what it would do to this film, developed as it was here."},
		{Label: fieldSmoothing, Choices: []string{smoothByReadings: "as the readings scatter", smoothByStated: "by a reading error of 0.02", smoothNothing: "none"},
			Means: "Smoothing evens out what a densitometer scatters: by the error that the readings themselves show, or by one that is stated; without it the curve goes through every reading."},
	}
}

// aimForm is the fields that the aim chosen needs.
type aimForm struct {
	form.Form
	all []form.Field // of every aim
}

// ask shows the fields that the aim needs, with what they hold.
func (x *aimForm) ask() {
	at := x.Fields
	for i := range at {
		x.all[labelled(x.all, at[i].Label)] = at[i]
	}
	kind := max(0, x.all[0].Chosen)
	label := fieldAim
	if x.At < len(at) {
		label = at[x.At].Label
	}
	x.Fields, x.At = nil, 0
	for _, f := range x.all {
		if slices.Contains(asked[kind], f.Label) || !slices.ContainsFunc(asked, func(own []string) bool { return slices.Contains(own, f.Label) }) {
			if f.Label == label {
				x.At = len(x.Fields)
			}
			x.Fields = append(x.Fields, f)
		}
	}
}

func labelled(list []form.Field, label string) int {
	return slices.IndexFunc(list, func(f form.Field) bool { return f.Label == label })
}

// field is a field that is asked for, else what it held when it was.
func (x *aimForm) field(label string) *form.Field {
	if i := labelled(x.Fields, label); i >= 0 {
		return &x.Fields[i]
	}
	return &x.all[labelled(x.all, label)]
}

// aim reads the fields, and writes beside each what is wrong with it. An average gradient is left to wanted.
func (x *aimForm) aim() (a sequence.Aim, ok bool) {
	ok = true
	read := func(label string, of func(text string) (float64, error)) float64 {
		f := x.field(label)
		v, err := of(f.Value())
		if f.Fault = ""; err != nil {
			f.Fault, ok = err.Error(), false
		}
		return v
	}
	switch x.field(fieldAim).Chosen {
	case aimContrast:
		a.Contrast = read(fieldContrast, form.NumberIn(0.1, 3, "0.56"))
	case aimPrint:
		a.Print = &sequence.PrintAim{
			Paper: read(fieldPaper, paperRange), Subject: read(fieldSubject, subjectRange),
			Flare: read(fieldFlare, form.NumberIn(0, 1.5, "0.40")), Shadow: read(fieldShadow, form.NumberIn(0.02, 1, "0.10")),
			Placed: read(fieldPlaced, placedStops), Enlarger: sequence.Enlarger(x.field(fieldEnlarger).Value()),
		}
	default:
		read(fieldTarget, func(text string) (float64, error) {
			w, err := wantedOf(text)
			if err != nil {
				return 0, err
			}
			a.Average, err = w.Gradient()
			return a.Average, err
		})
	}
	return a, ok
}

// unread is the label of a field of the aim that cannot be read; "" for none.
func (x *aimForm) unread() string {
	for _, f := range x.Fields {
		if f.Fault != "" && f.Label != fieldPublished {
			return f.Label
		}
	}
	return ""
}

// paperRange reads a grade, or a log exposure range.
func paperRange(text string) (float64, error) {
	grade, graded := strings.CutPrefix(text, "grade")
	if !graded {
		return form.NumberIn(0.3, 3, "1.05, or grade 2")(text)
	}
	g, err := form.Number(strings.TrimSpace(grade), "grade 2")
	if err != nil {
		return 0, err
	}
	return response.GradeRange(g)
}

// subjectRange reads a log range, or stops.
func subjectRange(text string) (float64, error) {
	long, stops := strings.CutSuffix(text, "stops")
	v, err := form.Number(strings.TrimSpace(long), "2.2, or 7 stops")
	if stops {
		v *= math.Log10(2)
	}
	if err == nil && !(v > 0 && v <= 6) {
		err = fmt.Errorf("expected a log range such as 2.2, or 7 stops")
	}
	return v, err
}

// placedStops reads stops from the metered tone. What the form shows of the usual place is rounded.
func placedStops(text string) (float64, error) {
	v, err := form.NumberIn(-8, 3, "-3")(strings.Replace(text, "−", "-", 1))
	if math.Abs(v-sequence.UsualPlaced) < 0.005 {
		v = sequence.UsualPlaced
	}
	return v, err
}

// wantedOf reads a gradient, or what a print wants in three numbers.
func wantedOf(line string) (curve.PrintConditions, error) {
	var w curve.PrintConditions
	var x []float64
	for _, word := range strings.Fields(line) {
		v, err := form.Number(word, "0.58, or three such as 1.05 2.2 0.4")
		if err != nil {
			return w, err
		}
		x = append(x, v)
	}
	switch len(x) {
	case 1:
		w = curve.PrintConditionsFor(x[0])
	case 3:
		w = curve.PrintConditions{Paper: curve.LogH(x[0]), Subject: curve.LogH(x[1]), Flare: curve.LogH(x[2])}
	default:
		return w, fmt.Errorf("%d numbers; expected 0.58, or three such as 1.05 2.2 0.4", len(x))
	}
	_, err := w.Gradient()
	return w, err
}

package recipes

// A recipe as a whole: its title and what it is about, then section after section.

import "example.org/wetside/sequence"

// recipe reads the whole file.
func (r *reader) recipe(top table) sequence.Recipe {
	top.refuseOthers(topKeys)
	var out sequence.Recipe
	const title = "a text, such as the film and how it is handled"
	out.Title, _ = top.lookup("title").require(title).text(120, false)
	out.About, _ = top.lookup("about").text(1000, true)
	out.Film = readFilm(top.lookup("film"))
	out.Load = readLoad(top.lookup("load"))
	out.Baths = readBaths(top.lookup("bath"))
	steps := readSteps(top.lookup("step"))
	check(top, &out, steps)
	for _, s := range steps {
		out.Steps = append(out.Steps, s.Step)
	}
	return out
}

package screen

// Film that may lie open before a screen: nothing leads from it to white light before that was said.

// OpenFilm is what is known of it.
type OpenFilm struct {
	May    bool // it may lie open
	warned bool // that was said to the last key, which would have led to white light
}

// Warning is what is said of it; "" where none can lie open.
func (f OpenFilm) Warning() string {
	if !f.May {
		return ""
	}
	return "Film may lie open: cover it before there is white light."
}

// Left does what leads to white light; where film may lie open it is said first, and the same key once
// more does it.
func (f OpenFilm) Left(then Action, key string) (OpenFilm, Action) {
	if f.May && !f.warned {
		f.warned = true
		return f, Message{Text: f.Warning() + " " + key + " once more goes on.", Fault: true}
	}
	return f, then
}

// After is what is known behind a key: a warning holds for the very next one.
func (f OpenFilm) After(before OpenFilm) OpenFilm {
	f.warned = f.warned && !before.warned
	return f
}

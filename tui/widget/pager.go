package widget

// How far a key moves in a list.

// Move is where the cursor of a list of n rows goes by a key, by how many a page has; false for a
// key that moves none.
func Move(at, n int, key string, page int) (int, bool) {
	page = max(1, page-1) // a row is seen again
	by, ok := map[string]int{"up": -1, "k": -1, "down": 1, "j": 1, "pgup": -page, "pgdown": page, "home": -n, "end": n}[key]
	return max(0, min(at+by, n-1)), ok
}

// Pager is a list's window as it was last drawn: pgup and pgdn go on by what it shows.
type Pager struct{ shown int }

// Draw draws a list's table, and keeps how much of it there was room for.
func (p *Pager) Draw(t Table) string {
	_, p.shown = t.Shown()
	return t.View()
}

// Move is where the list's cursor goes by a key.
func (p *Pager) Move(at, n int, key string) (int, bool) { return Move(at, n, key, p.shown) }

package recipes

// A recipe's file changed where the recipe differs and left as it is everywhere else:
// comments, order and the person's own spacing stay.

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"sort"
	"strings"

	"example.org/wetside/sequence"
)

// errOwnLayout is why a sound file cannot be changed key by key.
var errOwnLayout = errors.New("the file is laid out in a way of its own; expected [film], [load], [[bath]] and [[step]] with one key a line")

// Rewrite is the source of a recipe changed so that it reads as the recipe given. It errs
// where the source is not sound, the recipe breaks a rule (Faults, of the file as it would
// be), or the file is laid out in such a way that its keys cannot be changed one by one.
func Rewrite(name string, source []byte, to sequence.Recipe) ([]byte, error) {
	source = bytes.TrimPrefix(source, []byte("\xef\xbb\xbf"))
	if !bytes.HasSuffix(source, []byte("\n")) {
		source = append(bytes.Clone(source), '\n')
	}
	from, err := Read(name, source)
	if err != nil {
		return nil, err
	}
	want, err := Read(name, Write(to))
	if err != nil {
		return nil, err
	}
	w := &rewriter{src: source, root: positions(source), was: blocks(from), to: blocks(want)}
	text, err := w.text()
	if err != nil {
		return nil, err
	}
	if got, err := Read(name, text); err != nil || !reflect.DeepEqual(got, want) {
		return nil, errOwnLayout
	}
	return text, nil
}

// edit replaces a piece of the source.
type edit struct {
	from, to int
	text     string
}

type rewriter struct {
	src     []byte
	root    *node
	was, to []block
	edits   []edit
}

// text is the source with every edit made.
func (w *rewriter) text() ([]byte, error) {
	same := func(a, b block) bool { return a.head == b.head && a.id == b.id }
	nth := map[string]int{}
	nodes := make([]*node, len(w.was))
	for i, b := range w.was {
		if nodes[i] = w.node(b.head, nth[b.head]); nodes[i] == nil {
			return nil, errOwnLayout
		}
		nth[b.head]++
		if !slices.ContainsFunc(w.to, func(c block) bool { return same(b, c) }) {
			w.remove(nodes[i])
		}
	}
	for i, b := range w.to {
		k := slices.IndexFunc(w.was, func(c block) bool { return same(b, c) })
		if k >= 0 {
			w.change(w.was[k], b, nodes[k])
			continue
		}
		for j := i - 1; k < 0; j-- { // the top of the file is in both
			k = slices.IndexFunc(w.was, func(c block) bool { return same(w.to[j], c) })
		}
		w.insert(b, nodes[k])
	}
	sort.SliceStable(w.edits, func(i, j int) bool { return w.edits[i].from < w.edits[j].from })
	var out []byte
	done := 0
	for _, e := range w.edits {
		if e.from < done {
			return nil, errOwnLayout
		}
		out = append(append(out, w.src[done:e.from]...), e.text...)
		done = e.to
	}
	return append(out, w.src[done:]...), nil
}

// node is the table that the n-th heading of its kind opens; nil where there is none.
func (w *rewriter) node(head string, n int) *node {
	if head == "" {
		return w.root
	}
	name := strings.Trim(head, "[]")
	found := w.root.child(name)
	if strings.HasPrefix(head, "[[") {
		found = found.item(n)
	}
	if found == nil || !bytes.HasPrefix(w.src[found.from:], []byte("[")) {
		return nil
	}
	return found
}

// change makes the keys of one table those of another.
func (w *rewriter) change(was, to block, n *node) {
	for _, key := range to.keys {
		old := n.child(key)
		switch {
		case was.vals[key] == to.vals[key]: // or a default that the file does not state
		case old != nil:
			w.edits = append(w.edits, edit{old.value, old.to, to.vals[key]})
		default:
			end := w.lineEnd(w.end(n))
			w.edits = append(w.edits, edit{end, end, w.line(n, key, to.vals[key])})
		}
	}
	for _, key := range was.keys {
		old := n.child(key)
		if _, kept := to.vals[key]; !kept && old != nil {
			w.edits = append(w.edits, edit{w.lineStart(old.from), w.lineEnd(old.to), ""})
		}
	}
}

// line is a key as the keys beside it are spaced.
func (w *rewriter) line(n *node, key, value string) string {
	width := 0
	for _, k := range n.keys() {
		if c := n.child(k); c.value > 0 {
			width = max(width, bytes.IndexByte(w.src[c.from:], '='))
		}
	}
	return fmt.Sprintf("%-*s= %s\n", max(width, len(key)+1), key, value)
}

// insert puts a new table behind one of the source.
func (w *rewriter) insert(b block, n *node) {
	end := w.lineEnd(w.end(n))
	w.edits = append(w.edits, edit{end, end, b.text()})
}

// remove takes a table away, with the comment lines that stand directly above it.
func (w *rewriter) remove(n *node) {
	from, to := w.lineStart(n.from), w.lineEnd(w.end(n))
	for from > 0 {
		above := w.lineStart(from - 1)
		if w.src[above] != '#' {
			break
		}
		from = above
	}
	if to < len(w.src) && w.src[to] == '\n' {
		to++
	}
	w.edits = append(w.edits, edit{from, to, ""})
}

// end is where the last key of a table ends; that of its heading where it has none.
func (w *rewriter) end(n *node) int {
	end := n.to
	for _, k := range n.keys() {
		if c := n.child(k); c.value > 0 {
			end = max(end, c.to)
		}
	}
	return end
}

func (w *rewriter) lineStart(i int) int { return bytes.LastIndexByte(w.src[:i], '\n') + 1 }

// lineEnd is behind the line's last character.
func (w *rewriter) lineEnd(i int) int {
	if n := bytes.IndexByte(w.src[i:], '\n'); n >= 0 {
		return i + n + 1
	}
	return len(w.src)
}

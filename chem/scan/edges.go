package scan

// Edges between patches along one row, and chains of them at equal distances: what a strip
// looks like before anything is known of it.

import "math"

const (
	edgeReach = 3    // cells on each side of an edge
	leastEdge = 0.02 // density between neighbours that makes an edge
)

// edge is a jump of density along a row.
type edge struct {
	at   float64 // between cells
	jump float64 // rising to the right
}

// edgesOf are the jumps of a row: the places where the means of a few cells on both sides
// differ most.
func edgesOf(row []float32, into []edge) []edge {
	into = into[:0]
	jump := func(x int) float64 {
		var a, b float32
		for i := range edgeReach {
			a, b = a+row[x-1-i], b+row[x+i]
		}
		return float64(b-a) / edgeReach
	}
	before, now := 0.0, 0.0
	for x := edgeReach; x+edgeReach < len(row); x++ {
		next := jump(x)
		if a := math.Abs(now); a >= leastEdge && a > math.Abs(before) && a >= math.Abs(next) {
			l, r := math.Abs(before), math.Abs(next)
			shift := 0.0
			if d := l - 2*a + r; d < 0 {
				shift = 0.5 * (l - r) / d
			}
			into = append(into, edge{float64(x-1) + shift, now})
		}
		before, now = now, next
	}
	return into
}

// chain is edges of one sign at equal distances.
type chain struct {
	first, pitch float64
	rising       bool
	count        int // edges that are there
	span         int // pitches from the first to the last
}

func (c chain) last() float64 { return c.first + float64(c.span)*c.pitch }

// weight counts the edges that are there less those that are missing: noise makes chains of half
// the pitch with gaps.
func (c chain) weight() int { return 2*c.count - c.span }

// longestChain is the weightiest chain of a row, of pitches from least to most and no longer than
// longest pitches; ok is false where there are not four edges of one.
func longestChain(edges []edge, least, most float64, longest int) (best chain, ok bool) {
	for i := range edges {
		for j := i + 1; j < len(edges) && j <= i+3; j++ {
			p := edges[j].at - edges[i].at
			if p < least || p > most || edges[i].jump*edges[j].jump < 0 {
				continue
			}
			if c := follow(edges, i, p); c.span <= longest && c.weight() > best.weight() {
				best = c
			}
		}
	}
	return best, best.count >= 4
}

// follow goes on from edge i in steps of about p, over at most two that are missing.
func follow(edges []edge, i int, p float64) chain {
	c := chain{first: edges[i].at, pitch: p, rising: edges[i].jump > 0, count: 1}
	var n, sx, sy, sxx, sxy float64
	note := func(k, at float64) { n, sx, sy, sxx, sxy = n+1, sx+k, sy+at, sxx+k*k, sxy+k*at }
	note(0, c.first)
	first := c.first
	next := i + 1
	for k, missing := 1, 0; missing < 3; k++ {
		want := first + float64(k)*c.pitch
		near, off := -1, 0.15*c.pitch
		for ; next < len(edges) && edges[next].at <= want+off; next++ {
			if d := math.Abs(edges[next].at - want); d <= off && (edges[next].jump > 0) == c.rising {
				near, off = next, d
			}
		}
		if near < 0 {
			missing++
			continue
		}
		missing = 0
		note(float64(k), edges[near].at)
		c.count, c.span = c.count+1, k
		if d := n*sxx - sx*sx; d > 0 {
			c.pitch = (n*sxy - sx*sy) / d
			first = (sy - c.pitch*sx) / n
		}
	}
	c.first = first
	return c
}

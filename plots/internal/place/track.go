package place

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"
)

// A Track is a contour on the paper, with the way along it.
type Track struct {
	points []vg.Point // the first repeated at the end of a closed one
	way    []float64  // pt from the start to each point
	closed bool
	Band   int // the level's place in the list of levels
	bounds vg.Rectangle
	gaps   []gap
}

// A gap is where a label breaks the line, from and to along the way.
type gap struct{ from, to float64 }

// NewTrack returns the track through the points, in order, of a line of the level with that number.
func NewTrack(points []vg.Point, closed bool, band int) *Track {
	if closed {
		points = append(slices.Clip(points), points[0])
	}
	t := &Track{points: points, way: make([]float64, len(points)), closed: closed, Band: band}
	t.bounds = vg.Rectangle{Min: points[0], Max: points[0]}
	for i := 1; i < len(points); i++ {
		p := points[i]
		t.way[i] = t.way[i-1] + Distance(points[i-1], p)
		t.bounds.Min = vg.Point{X: min(t.bounds.Min.X, p.X), Y: min(t.bounds.Min.Y, p.Y)}
		t.bounds.Max = vg.Point{X: max(t.bounds.Max.X, p.X), Y: max(t.bounds.Max.Y, p.Y)}
	}
	return t
}

func (t *Track) length() float64 { return t.way[len(t.way)-1] }

// at returns the point at a way along the track.
func (t *Track) at(way float64) vg.Point {
	if t.closed {
		way = math.Mod(way+t.length(), t.length())
	}
	i, found := slices.BinarySearch(t.way, way)
	if found || i == 0 {
		return t.points[min(i, len(t.points)-1)]
	}
	i = min(i, len(t.points)-1)
	share := vg.Length((way - t.way[i-1]) / (t.way[i] - t.way[i-1]))
	a, b := t.points[i-1], t.points[i]
	return vg.Point{X: a.X + share*(b.X-a.X), Y: a.Y + share*(b.Y-a.Y)}
}

// between returns the points of the track from one way to another.
func (t *Track) between(from, to float64) []vg.Point {
	points := []vg.Point{t.at(from)}
	for i, way := range t.way {
		if way > from && way < to {
			points = append(points, t.points[i])
		}
	}
	return append(points, t.at(to))
}

// Pieces returns the track without its gaps.
func (t *Track) Pieces() [][]vg.Point {
	var cuts []gap
	for _, g := range t.gaps {
		if g.from < 0 { // across the start of a closed track
			cuts = append(cuts, gap{g.from + t.length(), t.length()})
			g.from = 0
		}
		if g.to > t.length() {
			cuts = append(cuts, gap{0, g.to - t.length()})
			g.to = t.length()
		}
		cuts = append(cuts, g)
	}
	slices.SortFunc(cuts, func(a, b gap) int { return cmp.Compare(a.from, b.from) })
	var pieces [][]vg.Point
	at := 0.0
	for _, g := range cuts {
		if g.from > at+0.1 {
			pieces = append(pieces, t.between(at, g.from))
		}
		at = math.Max(at, g.to)
	}
	if t.length() > at+0.1 {
		pieces = append(pieces, t.between(at, t.length()))
	}
	return pieces
}

// crosses tells whether the track meets the box; its own label's opening does not count.
func (t *Track) crosses(b Box, opening gap, own bool) bool {
	reach := vg.Length(b.reach())
	if b.Centre.X+reach < t.bounds.Min.X || b.Centre.X-reach > t.bounds.Max.X ||
		b.Centre.Y+reach < t.bounds.Min.Y || b.Centre.Y-reach > t.bounds.Max.Y {
		return false
	}
	for i := 1; i < len(t.points); i++ {
		if own && t.within(i, opening) {
			continue
		}
		if b.CrossedBy(t.points[i-1], t.points[i]) {
			return true
		}
	}
	return false
}

// within tells whether the segment that ends at point i reaches into the opening, or within a little of it.
func (t *Track) within(i int, opening gap) bool {
	const nearby = 3
	from, to := opening.from-nearby, opening.to+nearby
	for _, turn := range [3]float64{0, t.length(), -t.length()} {
		if turn != 0 && !t.closed {
			break
		}
		if t.way[i-1]+turn <= to && t.way[i]+turn >= from {
			return true
		}
	}
	return false
}

// open breaks the track where it goes through a box.
func (t *Track) open(b Box) {
	const step = 0.5 // pt
	if !t.crosses(b, gap{}, false) {
		return
	}
	for at := 0.0; at < t.length(); at += step {
		end := math.Min(at+step, t.length())
		if b.CrossedBy(t.at(at), t.at(end)) {
			t.gaps = append(t.gaps, gap{at, end})
		}
	}
}

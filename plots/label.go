package plots

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// A box is a turned rectangle on the paper, pt: what a label or a mark takes up.
type box struct {
	centre        vg.Point
	width, height vg.Length
	angle         float64
}

func boxOf(r vg.Rectangle) box {
	return box{vg.Point{X: (r.Min.X + r.Max.X) / 2, Y: (r.Min.Y + r.Max.Y) / 2}, r.Max.X - r.Min.X, r.Max.Y - r.Min.Y, 0}
}

func (b box) grown(by vg.Length) box { return box{b.centre, b.width + 2*by, b.height + 2*by, b.angle} }

// corners returns the corners counter-clockwise.
func (b box) corners() []vg.Point {
	sin, cos := math.Sincos(b.angle)
	points := make([]vg.Point, 4)
	for i, s := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		x, y := s[0]*float64(b.width)/2, s[1]*float64(b.height)/2
		points[i] = vg.Point{X: b.centre.X + vg.Length(x*cos-y*sin), Y: b.centre.Y + vg.Length(x*sin+y*cos)}
	}
	return points
}

func (b box) reach() float64 { return math.Hypot(float64(b.width), float64(b.height)) / 2 }

// overlaps tells whether two boxes meet: they do unless one of their four side directions separates them.
func (b box) overlaps(o box) bool {
	if distance(b.centre, o.centre) > b.reach()+o.reach() {
		return false
	}
	return !separated(b.angle, b.corners(), o.corners()) && !separated(o.angle, b.corners(), o.corners())
}

// crossedBy tells whether the straight line from p to q meets the box.
func (b box) crossedBy(p, q vg.Point) bool {
	if distanceToSegment(b.centre, p, q) > b.reach() {
		return false
	}
	segment := []vg.Point{p, q}
	along := math.Atan2(float64(q.Y-p.Y), float64(q.X-p.X))
	return !separated(b.angle, b.corners(), segment) && !separated(along, b.corners(), segment)
}

// separated tells whether the shadows of two convex shapes do not meet along the angle or square to it.
func separated(angle float64, a, b []vg.Point) bool {
	sin, cos := math.Sincos(angle)
	for _, axis := range [2][2]float64{{cos, sin}, {-sin, cos}} {
		a0, a1 := shadow(axis, a)
		b0, b1 := shadow(axis, b)
		if a1 < b0 || b1 < a0 {
			return true
		}
	}
	return false
}

func shadow(axis [2]float64, points []vg.Point) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		v := float64(p.X)*axis[0] + float64(p.Y)*axis[1]
		low, high = math.Min(low, v), math.Max(high, v)
	}
	return low, high
}

func distance(a, b vg.Point) float64 { return math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)) }

func distanceToSegment(c, p, q vg.Point) float64 {
	dx, dy := float64(q.X-p.X), float64(q.Y-p.Y)
	length2 := dx*dx + dy*dy
	if length2 == 0 {
		return distance(c, p)
	}
	t := math.Min(math.Max((float64(c.X-p.X)*dx+float64(c.Y-p.Y)*dy)/length2, 0), 1)
	return math.Hypot(float64(p.X)+t*dx-float64(c.X), float64(p.Y)+t*dy-float64(c.Y))
}

// A track is a contour on the paper, with the way along it.
type track struct {
	points []vg.Point // the first repeated at the end of a closed one
	way    []float64  // pt from the start to each point
	closed bool
	band   int // the level's place in the list of levels
	bounds vg.Rectangle
	gaps   []gap
}

// A gap is where a label breaks the line, from and to along the way.
type gap struct{ from, to float64 }

func newTrack(points []vg.Point, closed bool, band int) *track {
	if closed {
		points = append(slices.Clip(points), points[0])
	}
	t := &track{points: points, way: make([]float64, len(points)), closed: closed, band: band}
	t.bounds = vg.Rectangle{Min: points[0], Max: points[0]}
	for i := 1; i < len(points); i++ {
		p := points[i]
		t.way[i] = t.way[i-1] + distance(points[i-1], p)
		t.bounds.Min = vg.Point{X: min(t.bounds.Min.X, p.X), Y: min(t.bounds.Min.Y, p.Y)}
		t.bounds.Max = vg.Point{X: max(t.bounds.Max.X, p.X), Y: max(t.bounds.Max.Y, p.Y)}
	}
	return t
}

func (t *track) length() float64 { return t.way[len(t.way)-1] }

// at returns the point at a way along the track.
func (t *track) at(way float64) vg.Point {
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
func (t *track) between(from, to float64) []vg.Point {
	points := []vg.Point{t.at(from)}
	for i, way := range t.way {
		if way > from && way < to {
			points = append(points, t.points[i])
		}
	}
	return append(points, t.at(to))
}

// pieces returns the track without its gaps.
func (t *track) pieces() [][]vg.Point {
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

// A label is the text of a level, written along its line.
type label struct {
	box  box
	text string
	band int
}

// A labeller finds places for labels where they meet nothing else.
type labeller struct {
	frame  vg.Rectangle // labels stay inside
	font   font.Font
	gap    float64 // pt of line left out on either side of a label
	taken  []box   // marks that are there already, then the labels
	tracks []*track
	labels []label
}

// Distances between labels of one level, pt: along the same line, and on different lines.
const (
	labelEvery = 190.0
	labelApart = 80.0
	labelRoom  = 1.2 // around the text
)

// place labels the tracks, longest first, and notes the gaps in them.
func (l *labeller) place(text func(band int) string) {
	order := slices.Clone(l.tracks)
	slices.SortStableFunc(order, func(a, b *track) int { return cmp.Compare(b.length(), a.length()) })
	for _, t := range order {
		s := text(t.band)
		width := textWidth(l.font, s)
		if t.length() < 2.2*float64(width) {
			continue
		}
		n := max(1, int(t.length()/labelEvery))
		for range n {
			if !l.placeOne(t, s, width) {
				break
			}
		}
	}
}

// placeOne puts one label at the best free place on the track.
func (l *labeller) placeOne(t *track, text string, width vg.Length) bool {
	half := float64(width)/2 + l.gap
	best, bestCost, bestAt := label{}, math.Inf(1), 0.0
	from, to := half+3, t.length()-half-3
	if t.closed {
		from, to = 0, t.length()
	}
	for at := from; at <= to; at += 3 {
		b, cost := t.fit(at, half, width, capHeight(l.font))
		if cost >= bestCost || !l.free(b, t, gap{at - half, at + half}) {
			continue
		}
		best, bestCost, bestAt = label{b, text, t.band}, cost, at
	}
	if math.IsInf(bestCost, 1) {
		return false
	}
	l.labels = append(l.labels, best)
	l.taken = append(l.taken, best.box)
	t.gaps = append(t.gaps, gap{bestAt - half, bestAt + half})
	return true
}

// fit returns the box of a label centred at a way along the track and how badly it sits there: bends and steep places cost; infinite
// where the line does not stay within the text.
func (t *track) fit(at, half float64, width, height vg.Length) (box, float64) {
	a, b, middle := t.at(at-half), t.at(at+half), t.at(at)
	chord := distance(a, b)
	if chord < 1.9*half {
		return box{}, math.Inf(1)
	}
	bend := distanceToSegment(middle, a, b)
	if bend > float64(height)/2 {
		return box{}, math.Inf(1)
	}
	angle := math.Atan2(float64(b.Y-a.Y), float64(b.X-a.X))
	if angle > math.Pi/2 {
		angle -= math.Pi
	} else if angle <= -math.Pi/2 {
		angle += math.Pi
	}
	onto := vg.Point{X: (a.X + b.X + 2*middle.X) / 4, Y: (a.Y + b.Y + 2*middle.Y) / 4}
	centring := 0.0
	if !t.closed {
		centring = math.Abs(at/t.length() - 0.5)
	}
	cost := 2*bend + (2*half - chord) + 1.5*math.Abs(angle) + 2*centring
	return box{onto, width, height, angle}, cost
}

// free tells whether a label may stand there: inside the frame, clear of marks, other labels and other lines, and of its own line
// where that comes back.
func (l *labeller) free(b box, own *track, opening gap) bool {
	room := b.grown(labelRoom)
	for _, p := range room.corners() {
		if p.X < l.frame.Min.X+1 || p.X > l.frame.Max.X-1 || p.Y < l.frame.Min.Y+1 || p.Y > l.frame.Max.Y-1 {
			return false
		}
	}
	for _, o := range l.labels {
		if o.band == own.band && distance(o.box.centre, b.centre) < labelApart {
			return false
		}
	}
	if slices.ContainsFunc(l.taken, room.overlaps) {
		return false
	}
	for _, t := range l.tracks {
		if t.crosses(room, opening, t == own) {
			return false
		}
	}
	return true
}

// crosses tells whether the track meets the box; its own label's opening does not count.
func (t *track) crosses(b box, opening gap, own bool) bool {
	reach := vg.Length(b.reach())
	if b.centre.X+reach < t.bounds.Min.X || b.centre.X-reach > t.bounds.Max.X ||
		b.centre.Y+reach < t.bounds.Min.Y || b.centre.Y-reach > t.bounds.Max.Y {
		return false
	}
	for i := 1; i < len(t.points); i++ {
		if own && t.within(i, opening) {
			continue
		}
		if b.crossedBy(t.points[i-1], t.points[i]) {
			return true
		}
	}
	return false
}

// within tells whether the segment that ends at point i reaches into the opening, or within a little of it.
func (t *track) within(i int, opening gap) bool {
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

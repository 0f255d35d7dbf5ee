package interreflect

import (
	"cmp"
	"math"
	"slices"

	"lampswap/photometry/room"
)

// A gatherer is the final gathering of the light of all surfaces at one point; each worker has its own.
type gatherer struct {
	*emitters
	p, normal room.Vec
	light     []float64 // lx times 2π, for each solution
	// Of each surface the rack that hid it or a part of it last: tried first, as a neighbour hides alike.
	hiders    []int
	order     []ranked        // racks, the nearest first, but for those that others hide
	hidden    []bool          // racks that others hide, and so all their faces
	near      []occluder      // racks that may come between the point and a surface, the nearest first
	breaks    []float64       // across that surface, where their shadows begin, end or turn
	seen      room.Visibility // of a line along it
	askewEnds bool            // whether the end of a part moves across the surface
	middle    []room.Stretch  // of a band's middle line
	here, end []moments       // of a band, before a block and before its end, for each solution
}

// A ranked rack is so far from the point, the square of it, m².
type ranked struct {
	rack   int
	square float64
}

// An occluder is a rack as a point sees it before a surface. A sight line has run the part u, 0 to 1, of its
// way to the surface.
type occluder struct {
	rack     int
	from, to float64 // where across the surface its shadow begins and ends
	u0, u1   float64 // between which u a line runs at the rack's distance
	x0, x1   float64 // its sides along the surface, from the point's foot, in lengths of the surface
	y0, y1   float64 // and across, m
}

// shadow returns which part of a line along the surface the rack hides, that lies y across from the point's
// foot and begins at start, in its own lengths: room.Box.Shadow with all that is known of the surface. It
// runs askew if an end of it moves with y.
func (c *occluder) shadow(start, y float64) (from, to float64, askew, ok bool) {
	enter, leave := c.u0, c.u1
	switch {
	case y > 0:
		enter, leave = max(enter, c.y0/y), min(leave, c.y1/y)
	case y < 0:
		enter, leave = max(enter, c.y1/y), min(leave, c.y0/y)
	case c.y0 > 0 || c.y1 < 0:
		return 0, 0, false, false
	}
	if enter >= leave {
		return 0, 0, false, false
	}
	nearX, farX := leave, enter // where a line runs by the rack's sides along the surface
	if c.x0 < 0 {
		nearX = enter
	}
	if c.x1 < 0 {
		farX = leave
	}
	from, to = max(c.x0/max(nearX, nowhere)-start, 0), min(c.x1/max(farX, nowhere)-start, 1)
	askew = from > 0 && nearX != c.u0 && nearX != c.u1 || to < 1 && farX != c.u0 && farX != c.u1
	return from, to, askew, from < to
}

const nowhere = 1e-300 // stands for 0 where that divides

// A band is a strip of a surface as a point sees it.
type band struct {
	factor            factor
	y0, y1            float64 // borders across, from the point's foot, m
	low, high         int     // the rows that hold them
	partLow, partHigh float64 // and how far into those they are
}

// How long and wide a block of patches may be, as a part of its distance: what its exitance varies within
// then counts little. Floors and ceilings have the bright places below and above luminaires. What is further
// along a line than its nearest place gives less, and its blocks may be longer, but for the second of each.
const (
	levelGrowth   = 0.25
	levelMost     = 0.35
	uprightGrowth = 0.35
	uprightMost   = 0.5
	emptyGrowth   = 0.18 // of a floor or ceiling whose patches are even in themselves
	emptyMost     = 0.25
)

func (o *emitters) gatherer() *gatherer {
	many := len(o.solutions)
	return &gatherer{
		emitters: o,
		light:    make([]float64, many),
		hiders:   make([]int, len(o.surfaces)),
		order:    make([]ranked, 0, len(o.boxes)),
		hidden:   make([]bool, len(o.boxes)),
		near:     make([]occluder, 0, len(o.boxes)),
		here:     make([]moments, many),
		end:      make([]moments, many),
	}
}

// gather adds up, at a point with a unit normal, the configuration factor of each surface times its exitance
// as far as it is visible:
//
//	E = Σ C M V
func (l *gatherer) gather(p, normal room.Vec) {
	l.p, l.normal = p, normal
	clear(l.light)
	l.rank()
	for i := range l.surfaces {
		s := &l.surfaces[i]
		if s.rack >= 0 && l.hidden[s.rack] {
			continue
		}
		k, ok := s.kernel(p, normal)
		if !ok || !l.between(s, &k) || l.hides(s, &k, &l.hiders[i]) {
			continue
		}
		l.bands(s, &k)
	}
}

// rank puts the racks in order and drops those that another hides, with all that they could hide.
func (l *gatherer) rank() {
	l.order = l.order[:0]
	for i := range l.boxes {
		l.order = append(l.order, ranked{i, l.boxes[i].SquareDistance(l.p)})
	}
	slices.SortFunc(
		l.order,
		func(a, b ranked) int { return cmp.Or(cmp.Compare(a.square, b.square), cmp.Compare(a.rack, b.rack)) },
	)
	kept := l.order[:0]
	for _, d := range l.order {
		l.hidden[d.rack] = slices.ContainsFunc(kept, func(before ranked) bool {
			return l.boxes[before.rack].Passes == 0 && l.boxes[before.rack].HidesBox(l.p, l.boxes[d.rack].Box)
		})
		if !l.hidden[d.rack] {
			kept = append(kept, d)
		}
	}
	l.order = kept
}

// corner returns a place on a surface.
func (s *surface) corner(x, y float64) room.Vec {
	return unit(s.face.normal).Scale(s.face.at).Add(unit(s.along).Scale(x)).Add(unit(s.across).Scale(y))
}

// between finds the racks that may stand between the point and the part of a surface that it can see, and
// tells whether there is any such part.
func (l *gatherer) between(s *surface, k *kernel) bool {
	if k.x0 >= k.x1 || k.y0 >= k.y1 {
		return false
	}
	a, b := s.corner(k.x0, k.y0), s.corner(k.x1, k.y1)
	view := room.Box{Low: room.Vec{X: min(l.p.X, a.X, b.X), Y: min(l.p.Y, a.Y, b.Y), Z: min(l.p.Z, a.Z, b.Z)},
		High: room.Vec{X: max(l.p.X, a.X, b.X), Y: max(l.p.Y, a.Y, b.Y), Z: max(l.p.Z, a.Z, b.Z)}}
	l.near = l.near[:0]
	for _, d := range l.order {
		if l.boxes[d.rack].Meets(view) {
			l.near = append(l.near, occluder{rack: d.rack})
		}
	}
	return true
}

// hides tells whether a rack that lets nothing through hides the whole of a surface: then it hides its
// corners, as its shadow is convex.
func (l *gatherer) hides(s *surface, k *kernel, hider *int) bool {
	if len(l.near) == 0 {
		return false
	}
	corners := [4]room.Vec{
		s.corner(k.x0, k.y0),
		s.corner(k.x1, k.y1),
		s.corner(k.x0, k.y1),
		s.corner(k.x1, k.y0),
	}
	for i := range len(l.near) + 1 {
		at := *hider
		if i > 0 {
			at = l.near[i-1].rack
		}
		if l.boxes[at].Passes > 0 {
			continue
		}
		b := &l.boxes[at]
		if b.Hides(l.p, corners[0]) && b.Hides(l.p, corners[1]) && b.Hides(l.p, corners[2]) &&
			b.Hides(l.p, corners[3]) {
			*hider = at
			return true
		}
	}
	return false
}

// bands divides a surface at the borders of its rows, or of several further away, and where shadows begin,
// end or turn.
func (l *gatherer) bands(s *surface, k *kernel) {
	l.shadows(s, k)
	foot := along(l.p, s.across)
	b := band{y1: k.y0 - foot}
	b.high, b.partHigh = place(s.ys, s.perY, k.y0)
	next := 0
	for last := k.y1 - foot; b.y1 < last; {
		b.y0, b.low, b.partLow = b.y1, b.high, b.partHigh
		reach := s.reach(b.y0, k.h, math.Hypot(b.y0, k.h), l.refinement)
		b.high, b.partHigh = blockEnd(s.ys, s.perY, b.low, reach), 0
		b.y1 = s.ys[b.high] - foot
		for next < len(l.breaks) && l.breaks[next]-foot <= b.y0+touching {
			next++
		}
		if next < len(l.breaks) && l.breaks[next]-foot < b.y1-touching {
			b.endAt(s, l.breaks[next]-foot, foot)
		}
		if b.y1 > last {
			b.endAt(s, last, foot)
		}
		if b.y1 > b.y0 { // at a border rounding may leave nothing
			l.band(s, k, b)
		}
	}
}

// endAt moves the far border of a band.
func (b *band) endAt(s *surface, y, foot float64) {
	b.y1 = y
	b.high, b.partHigh = place(s.ys, s.perY, y+foot)
}

// reach returns how far a block may go from a place on, by that one's distance along from the point's foot
// and from the line through it, and by how far the nearest place of the line is, as light falls by the cube
// of that.
func (s *surface) reach(x, distance, nearest, refinement float64) float64 {
	far := math.Sqrt(x*x + distance*distance)
	growth := min(s.growth*far/nearest, s.most) / refinement
	if x < -rounding { // it comes nearer
		growth /= 1 + growth
	}
	return growth * far
}

// blockEnd returns the border at which a block ends that begins in a cell and reaches so far on, m: the last
// within its reach, but at least the next one.
func blockEnd(borders []float64, per float64, from int, reach float64) int {
	last := len(borders) - 1
	i, to := min(from+max(1, int(reach*per)), last), borders[from]+reach-rounding
	for i > from+1 && borders[i] > to {
		i--
	}
	for i < last && borders[i+1] <= to {
		i++
	}
	return i
}

// place returns the cell between borders that holds x and how far into it that is, 0 to 1.
func place(borders []float64, per, x float64) (i int, part float64) {
	i = cell(borders, per, x)
	switch part = (x - borders[i]) / (borders[i+1] - borders[i]); {
	case part > 1-rounding:
		return i + 1, 0
	case part < rounding:
		return i, 0
	}
	return i, part
}

// shadows finds how far across a surface each rack near by throws its shadow, and where that begins, ends or
// turns: at the shadows of its edges along the surface, and where those of its edges square to the surface
// cross the surface's ends. A rack that throws none is dropped.
func (l *gatherer) shadows(s *surface, k *kernel) {
	l.breaks = l.breaks[:0]
	n, x, y := along(l.p, s.face.normal), along(l.p, s.along), along(l.p, s.across)
	kept := l.near[:0]
	for _, c := range l.near {
		b := &l.boxes[c.rack]
		c.from, c.to = math.Inf(1), math.Inf(-1)
		// how far from the point to the surface both ends of the rack's edges are; 1 is a rack that stands on it or
		// goes on behind it
		t0, t1 := (along(b.Low, s.face.normal)-n)/(s.face.at-n), (along(b.High, s.face.normal)-n)/(s.face.at-n)
		t0, t1 = max(min(t0, t1), 0), min(max(t0, t1), 1)
		length := k.x1 - k.x0
		c.u0, c.u1, c.x0, c.x1 = t0, t1, (along(b.Low, s.along)-x)/length, (along(b.High, s.along)-x)/length
		c.y0, c.y1 = along(b.Low, s.across)-y, along(b.High, s.across)-y
		for _, side := range [2]float64{c.y0, c.y1} {
			for _, t := range [2]float64{t0, t1} {
				shadow := y + side/t // without end where the rack reaches the point's height
				c.from, c.to = min(c.from, shadow), max(c.to, shadow)
				l.breakAt(shadow, k)
			}
			for _, edge := range [2]float64{along(b.Low, s.along) - x, along(b.High, s.along) - x} {
				for _, end := range [2]float64{k.x0 - x, k.x1 - x} {
					if t := edge / end; t > t0 && t < t1 {
						l.breakAt(y+side/t, k)
					}
				}
			}
		}
		if !(c.to < k.y0 || c.from > k.y1 || t0 >= t1) {
			kept = append(kept, c)
		}
	}
	l.near = kept
	slices.Sort(l.breaks)
}

func (l *gatherer) breakAt(y float64, k *kernel) {
	if y > k.y0+touching && y < k.y1-touching {
		l.breaks = append(l.breaks, y)
	}
}

// leastBand is the least width of a band that is halved, m.
const leastBand = 1e-3

// band adds what racks leave of a band: as they leave its middle line, if that will do.
func (l *gatherer) band(s *surface, k *kernel, b band) {
	if l.shade(s, k, (b.y0+b.y1)/2); len(l.seen.Stretches) == 0 {
		return
	}
	if b.y1-b.y0 > leastBand && l.slants(s, k, &b) {
		halves := [2]band{b, b}
		foot := along(l.p, s.across)
		halves[0].endAt(s, (b.y0+b.y1)/2, foot)
		halves[1].y0, halves[1].low, halves[1].partLow = halves[0].y1, halves[0].high, halves[0].partHigh
		l.band(s, k, halves[0])
		l.band(s, k, halves[1])
		return
	}
	b.factor = k.factor(b.y0, b.y1)
	foot := along(l.p, s.along)
	for _, part := range l.seen.Stretches {
		if part.Passes > faintest {
			l.part(s, k, &b, k.x0+part.From*(k.x1-k.x0)-foot, k.x0+part.To*(k.x1-k.x0)-foot, part.Passes)
		}
	}
}

// slants tells whether the end of a shadow runs so much askew over a band that its middle line cannot stand
// for it. The parts are those of the middle line, before and after.
func (l *gatherer) slants(s *surface, k *kernel, b *band) bool {
	if !l.askewEnds {
		return false
	}
	l.middle = append(l.middle[:0], l.seen.Stretches...)
	inside := (b.y1 - b.y0) * 1e-3 // a border may be where a shadow turns
	slants := false
	for _, y := range [2]float64{b.y0 + inside, b.y1 - inside} {
		l.shade(s, k, y)
		if slants = slants || l.moves(s, k, y, b.y1-b.y0); slants {
			break
		}
	}
	l.seen.Stretches = append(l.seen.Stretches[:0], l.middle...)
	return slants
}

// mostMoved is how large what lies between the end of a shadow and a line square to the band may be, as a
// part of the square of its distance.
const mostMoved = 0.004

// moves tells whether a shadow's end on a border of a band is so far from that on its middle line that what
// lies between is too large.
func (l *gatherer) moves(s *surface, k *kernel, y, width float64) bool {
	if len(l.seen.Stretches) != len(l.middle) {
		return true
	}
	length, distance, foot := k.x1-k.x0, math.Sqrt(k.h*k.h+y*y), along(l.p, s.along)
	for i, part := range l.seen.Stretches {
		for _, ends := range [2][2]float64{{part.From, l.middle[i].From}, {part.To, l.middle[i].To}} {
			if ends[0] == ends[1] {
				continue
			}
			x := math.Abs(k.x0 + ends[1]*length - foot)
			if math.Abs(ends[0]-ends[1])*length*width > mostMoved/(l.refinement*l.refinement)*(x*x+distance*distance) {
				return true
			}
		}
	}
	return false
}

// shade divides a line along a surface, y across from the point's foot, by the shadows of the racks near by.
func (l *gatherer) shade(s *surface, k *kernel, y float64) {
	l.seen.Clear()
	l.askewEnds = false
	place := y + along(l.p, s.across)
	start := (k.x0 - along(l.p, s.along)) / (k.x1 - k.x0)
	for i := range l.near {
		c := &l.near[i]
		if place < c.from || place > c.to {
			continue
		}
		if a, b, askew, ok := c.shadow(start, y); ok && l.seen.Dim(a, b, l.boxes[c.rack].Passes) {
			if len(l.seen.Stretches) == 0 {
				return
			}
			l.askewEnds = l.askewEnds || askew
		}
	}
}

// part adds a visible part of a band between two places along it, from the point's foot, block by block.
func (l *gatherer) part(s *surface, k *kernel, b *band, x, to, passes float64) {
	foot := along(l.p, s.along)
	near := min(math.Abs(b.y0), math.Abs(b.y1))
	if b.y0 < 0 && b.y1 > 0 {
		near = 0
	}
	distance := math.Sqrt(k.h*k.h + near*near)
	nearest := math.Hypot(distance, max(x, -to, 0))
	i, within := place(s.xs, s.perX, x+foot)
	s.moments(l.here, b, i, within)
	before := k.edge(&b.factor, x)
	for x < to && i < len(s.xs)-1 {
		j := blockEnd(s.xs, s.perX, i, s.reach(x, distance, nearest, l.refinement))
		next, within := s.xs[j]-foot, 0.0
		if next >= to {
			next = to
			j, within = place(s.xs, s.perX, to+foot)
		}
		if next <= x { // x is at a border, but for rounding
			i = j
			s.moments(l.here, b, i, 0)
			continue
		}
		s.moments(l.end, b, j, within)
		after := k.edge(&b.factor, next)
		// Else there is nothing of it, and no flux by area.
		if area := (next - x) * (b.y1 - b.y0); area > inPlane*inPlane {
			even := s.parts == 1 && b.high-b.low <= 1 && (j == i || j == i+1 && within == 0)
			l.block(s, k, b, x, next, after-before, passes, even)
		}
		x, i, before = next, j, after
		l.here, l.end = l.end, l.here
	}
}

// block adds a block of a band from one place along it to another, by the difference of what both its edges
// give; so much passes. Its flux counts as if it were even, by the block's configuration factor F, and what
// its exitance M has more to one side by its first moments about the middle, the dipole of a multipole
// expansion, with the gradient of the factor's density f there:
//
//	E = F/A ∫ M dA + ∂f/∂x ∫ (x - x̄) M dA + ∂f/∂y ∫ (y - ȳ) M dA
func (l *gatherer) block(s *surface, k *kernel, b *band, x0, x1, ends, passes float64, even bool) {
	length, width := x1-x0, b.y1-b.y0
	factor := 0.0
	if k.orientation == askew {
		factor = l.askew(s, k, b, x0, x1)
	} else {
		factor = k.block(&b.factor, x0, x1, ends)
	}
	weight := passes / (length * width)
	if even {
		for n := range l.light {
			l.light[n] += weight * factor * (l.end[n].flux - l.here[n].flux)
		}
		return
	}
	slopeX, slopeY := k.slopes(x0, x1, b.y0, b.y1, factor)
	x, y := (x0+x1)/2+along(l.p, s.along)-s.xs[0], (b.y0+b.y1)/2+along(l.p, s.across)-s.ys[0]
	for n := range l.light {
		here, end := &l.here[n], &l.end[n]
		flux := end.flux - here.flux
		l.light[n] += weight*factor*flux + passes*(slopeX*(end.x-here.x-x*flux)+slopeY*(end.y-here.y-y*flux))
	}
}

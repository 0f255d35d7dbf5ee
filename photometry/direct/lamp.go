package direct

import (
	"math"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

// An opening is a luminous opening with its longer side first.
type opening struct {
	elliptic            bool
	length, width, high float64
	turned              bool // the longer side runs across the lamps
}

func newOpening(o photometry.Opening) opening {
	p := opening{elliptic: o.Shape == photometry.Elliptic, length: o.Length, width: o.Width, high: o.Height}
	if p.width > p.length {
		p.length, p.width, p.turned = p.width, p.length, true
	}
	return p
}

// A pose is where an opening is and how it lies: unit directions along and across it in plan.
type pose struct {
	at           room.Vec
	cos, sin     float64 // of the azimuth of its longer side
	rotation     float64 // of the distribution, rad
	halfX, halfY float64 // half the extent of its outline along the room's axes, m
	halfHigh     float64
	axisC, axisS float64 // cosine and sine of the rotation
}

// exact takes the rounding out of right angles, so that a quarter turn equals the swapped room to the last
// bit.
func exact(x float64) float64 {
	if r := math.Round(x); math.Abs(x-r) < 1e-15 {
		return r
	}
	return x
}

func newPose(place room.Placement, o opening) pose {
	c, s := exact(math.Cos(place.Rotation)), exact(math.Sin(place.Rotation))
	p := pose{at: place.Position, rotation: place.Rotation, axisC: c, axisS: s, cos: c, sin: s}
	if o.turned {
		p.cos, p.sin = -s, c
	}
	p.measure(o)
	return p
}

// measure finds the extent of the outline.
func (p *pose) measure(o opening) {
	p.halfX = (math.Abs(p.cos)*o.length + math.Abs(p.sin)*o.width) / 2
	p.halfY = (math.Abs(p.sin)*o.length + math.Abs(p.cos)*o.width) / 2
	p.halfHigh = o.high / 2
}

// clearance is how far openings keep from the sides of a box, m, so that of the light that goes into an edge
// each side has its part.
const clearance = 1e-6

// within moves an opening that reaches out of a box as far into it as it takes; one that is larger goes to
// its middle.
func (p *pose) within(box room.Box) {
	if box == (room.Box{}) {
		return
	}
	moved := func(at, half, low, high float64) float64 {
		if low, high = low+half+clearance, high-half-clearance; low > high {
			return (low + high) / 2
		}
		return min(max(at, low), high)
	}
	p.at.X = moved(p.at.X, p.halfX, box.Low.X, box.High.X)
	p.at.Y = moved(p.at.Y, p.halfY, box.Low.Y, box.High.Y)
	p.at.Z = moved(p.at.Z, p.halfHigh, box.Low.Z, box.High.Z)
}

// leave moves an opening that reaches into a rack, its middle outside, out of it by the shortest way along x
// or y, or down or up where it hangs.
func (p *pose) leave(k *room.Rack) {
	far := k.Far()
	// Where along an axis it is clear of the rack; without end if its middle is in it.
	out := func(at, half, low, high float64) float64 {
		switch least, most := low-half-clearance, high+half+clearance; {
		case at <= least || at >= most:
			return at
		case at <= low+clearance:
			return least
		case at >= high-clearance:
			return most
		}
		return math.Inf(1)
	}
	to := room.Vec{
		X: out(p.at.X, p.halfX, k.Corner.X, far.X),
		Y: out(p.at.Y, p.halfY, k.Corner.Y, far.Y),
		Z: math.Inf(1),
	}
	if k.Hangs() {
		to.Z = out(p.at.Z, p.halfHigh, k.Corner.Z, far.Z)
	}
	x, y, z := math.Abs(to.X-p.at.X), math.Abs(to.Y-p.at.Y), math.Abs(to.Z-p.at.Z)
	switch least := min(x, y, z); {
	case least == 0 || math.IsInf(least, 1):
	case z == least:
		p.at.Z = to.Z
	case x == least:
		p.at.X = to.X
	default:
		p.at.Y = to.Y
	}
}

// box holds the opening.
func (l *lamp) box() room.Box {
	reach := l.pose.reach()
	return room.Box{Low: l.pose.at.Sub(reach), High: l.pose.at.Add(reach)}
}

// way is the box about all sight lines between a luminaire and a row.
func (l *lamp) way(a, b room.Vec) room.Box { return l.box().With(a).With(b) }

// local turns a direction into the luminaire's frame: along the lamps and across them.
func (p *pose) local(v room.Vec) (x, y float64) {
	return p.axisC*v.X + p.axisS*v.Y, p.axisC*v.Y - p.axisS*v.X
}

// An optic is how luminaires of one kind send their light.
type optic struct {
	distribution *photometry.Distribution
	field        *field      // the distribution for fast look-ups; only in a prepared scene
	refine       *refinement // how finely it has its openings divided; only there
}

// A lamp is one luminaire in its place, or several close together as one.
type lamp struct {
	opening opening
	pose    pose
	// Of a luminaire's light that the opening sends: less than 1 for a part of it, more for several.
	share float64
}

// cosine returns the cosine of the angle from nadir at which the luminaire's middle sees a point.
func (l *lamp) cosine(p room.Vec) float64 {
	d := p.Sub(l.pose.at)
	return -d.Z / max(d.Length(), math.SmallestNonzeroFloat64)
}

// distance returns how far the opening's outline is from the point, m; 0 inside it.
func (l *lamp) distance(p room.Vec) float64 {
	d := p.Sub(l.pose.at)
	u, v := math.Abs(d.X*l.pose.cos+d.Y*l.pose.sin), math.Abs(d.Y*l.pose.cos-d.X*l.pose.sin)
	u, v, w := max(0, u-l.opening.length/2), max(0, v-l.opening.width/2), max(0, math.Abs(d.Z)-l.opening.high/2)
	return math.Sqrt(u*u + v*v + w*w)
}

const (
	settled    = 1e-3    // relative change at which the doubling of pieces stops
	mostPieces = 1 << 15 // of one opening
)

// A piece of an opening: where it is, and its share of the luminaire's light as far as racks let it through.
type piece struct {
	at    room.Vec
	share float64
	least float64 // the square of the radius of the disc that has its area, m²; 0 where points are further away
}

// A quadrature sums over the pieces of one opening that a point sees: nested Gauss-Legendre rules down,
// across and along it.
type quadrature struct {
	lamp      *lamp
	p, normal room.Vec
	nearest   float64 // distance of the opening, m
	refine    int
	*workspace
}

// A workspace is what a sum needs to know of the racks about one luminaire; each worker has one, which is
// large.
type workspace struct {
	occluders []occluder      // that may hide something
	borders   borders         // across the opening, where a rack's edge cuts it
	seen      room.Visibility // of a line
	pieces    []piece         // of a luminaire
}

func newWorkspace(racks int) *workspace { return &workspace{occluders: make([]occluder, 0, racks)} }

// quadrature makes ready to sum up the light of a luminaire at a point.
func (l *lamp) quadrature(p, normal room.Vec, occluders []occluder, work *workspace) quadrature {
	s := quadrature{lamp: l, p: p, normal: normal, nearest: l.distance(p), refine: 1, workspace: work}
	s.occluders = between(s.occluders[:0], l, p, occluders)
	s.cross()
	return s
}

// settle doubles the pieces until the light stands, lx.
func (s *quadrature) settle(light *optic) float64 {
	if o := s.lamp.opening; o.length == 0 && o.high == 0 {
		return s.whole(light)
	}
	again := 0
	if len(s.occluders) > 0 {
		again, s.refine = 2, max(2, s.refine) // where an edge cuts the opening two sums may agree by chance
	}
	coarse := s.whole(light)
	for {
		s.refine *= 2
		fine := s.whole(light)
		stands := math.Abs(fine-coarse) <= settled*fine
		if stands && again == 0 || len(s.pieces)*4 > mostPieces || s.refine >= mostNodes {
			return fine
		}
		if stands {
			again--
		}
		coarse = fine
	}
}

// whole divides the opening and adds its pieces up, lx.
func (s *quadrature) whole(light *optic) float64 {
	s.divide()
	return s.sum(light)
}

// divide finds the pieces of the opening in strips along its longer side, each as far as it is visible.
func (s *quadrature) divide() {
	o := s.lamp.opening
	s.pieces = s.pieces[:0]
	down := rules()[pieces(o.high, s.nearest, o.refined(o.high, s.refine))]
	if s.borders.n > 0 && o.high > 0 && !o.slender(o.high) {
		down = rules()[min(max(len(down), cutNodes*s.refine), mostNodes)]
	}
	for _, h := range down { // layers, panels between borders, strips
		z := (h.x - 0.5) * o.high
		for i := range s.borders.n + 1 {
			from, to := s.borders.panel(i)
			n := pieces(o.width*(to-from), s.nearest, o.refined(o.width, s.refine))
			switch {
			case s.borders.n == 0 || o.width == 0:
			case o.slender(o.width):
				n = max(n, cutNodes)
			default:
				n = min(max(n, cutNodes*s.refine), mostNodes)
			}
			for _, a := range o.strips(n, s.borders.n == 0) {
				offset, half, weight := o.strip(node{from + a.x*(to-from), a.w * (to - from)})
				s.strip(offset, z, half, h.w*weight)
			}
		}
	}
}

// Nodes of a stretch across or down an opening that a rack's edge cuts: the visible length changes from strip
// to strip.
const cutNodes = 3

// slenderRatio is how many times longer than an extent across or down an opening is whose visible stretches
// are nearly alike over that extent, between two borders.
const slenderRatio = 8

func (o opening) slender(extent float64) bool { return extent*slenderRatio <= o.length }

// refined is the refinement across or down an opening: a slender extent spans so few degrees that the
// five-times rule alone will do.
func (o opening) refined(extent float64, refine int) int {
	if o.slender(extent) {
		return 1
	}
	return refine
}

// leastOfPart is the fewest strips of a part of an ellipse, whose chords fall away towards its end.
const leastOfPart = 8

// strips returns the strips across of an opening, or of a part of it. A whole ellipse takes the
// Gauss-Chebyshev rule of the second kind, which is made for the weight of its chords: even one strip then
// has the whole area.
func (o opening) strips(n int, whole bool) []node {
	switch {
	case !o.elliptic || o.width == 0:
		return rules()[n]
	case whole:
		return chords()[n]
	}
	return rules()[max(n, leastOfPart)]
}

// strip returns where a strip across the opening lies, half its length, and its share of the area.
func (o opening) strip(a node) (offset, half, weight float64) {
	if !o.elliptic || o.width == 0 {
		return (a.x - 0.5) * o.width, o.length / 2, a.w
	}
	// y = W/2 sin θ, chord L cos θ, dA = L W/2 cos²θ dθ, θ from -π/2 to π/2
	sin, cos := math.Sincos((a.x - 0.5) * math.Pi)
	return o.width / 2 * sin, o.length / 2 * cos, 2 * a.w * cos * cos
}

// strip divides the visible stretches of one strip; share is the part of the whole opening that it is.
func (s *quadrature) strip(offset, z, half, share float64) {
	a, b := s.lamp.ends(offset, z, half)
	s.seen.Look(s.p, a, b, s.occluders)
	for _, part := range s.seen.Stretches {
		s.stretch(a, b.Sub(a), part, share, 0)
	}
}

const (
	// A stretch longer than this times its distance is halved, so that far pieces are large and near ones small.
	stretchRatio   = 1.6
	mostBisections = 14
)

// stretch divides a stretch of a strip from a place along its span.
func (s *quadrature) stretch(a, span room.Vec, part room.Stretch, share float64, halvings int) {
	// how long it is, and how near the point
	middle := s.p.Sub(a.Add(span.Scale((part.From + part.To) / 2)))
	full := span.Length()
	length := (part.To - part.From) * full
	nearest := middle.Length()
	if full > 0 {
		along := middle.Dot(span) / full
		beyond := max(0, math.Abs(along)-length/2)
		nearest = math.Sqrt(max(0, nearest*nearest-along*along) + beyond*beyond)
	}
	if length > stretchRatio*nearest && halvings < mostBisections {
		half := (part.From + part.To) / 2
		s.stretch(a, span, room.Stretch{From: part.From, To: half, Passes: part.Passes}, share, halvings+1)
		s.stretch(a, span, room.Stretch{From: half, To: part.To, Passes: part.Passes}, share, halvings+1)
		return
	}
	for _, g := range rules()[pieces(length, nearest, s.refine)] {
		own := share * (part.To - part.From) * g.w
		s.pieces = append(s.pieces, piece{
			at:    a.Add(span.Scale(part.From + g.x*(part.To-part.From))),
			share: part.Passes * own,
			least: s.lamp.opening.area() * own / math.Pi,
		})
	}
}

// area returns that of the opening's outline, m².
func (o opening) area() float64 {
	if o.elliptic {
		return o.length * o.width * math.Pi / 4
	}
	return o.length * o.width
}

// ends returns the two ends of a line along the opening.
func (l *lamp) ends(offset, z, half float64) (a, b room.Vec) {
	c, s := l.pose.cos, l.pose.sin
	middle := l.pose.at.Add(room.Vec{X: -s * offset, Y: c * offset, Z: z})
	reach := room.Vec{X: c * half, Y: s * half}
	return middle.Sub(reach), middle.Add(reach)
}

// place returns a point of the opening's middle plane.
func (l *lamp) place(along, across float64) room.Vec {
	c, s := l.pose.cos, l.pose.sin
	return l.pose.at.Add(room.Vec{X: c*along - s*across, Y: s*along + c*across})
}

// sum adds up the illuminance, lx, by the pieces.
func (s *quadrature) sum(light *optic) float64 {
	e := 0.0
	for i := range s.pieces {
		q := &s.pieces[i]
		v := s.p.Sub(q.at)
		facing := -v.Dot(s.normal)
		if s.normal == room.AllRound {
			facing = allRound(v.X, v.Y)
		}
		if square := v.Dot(v); facing > 0 && square > 0 {
			e += q.share * s.lamp.perDistance(light, v, square) * facing * (square / max(square, q.least))
		}
	}
	return s.lamp.share * e
}

// perDistance returns I/d³, cd/m³, of the luminaire in a direction, by the field if there is one.
func (l *lamp) perDistance(light *optic, v room.Vec, square float64) float64 {
	if light.field != nil {
		x, y := l.pose.local(v)
		return light.field.light(x, y, v.Z)
	}
	d := math.Sqrt(square)
	vertical, horizontal := math.Acos(max(-1, min(1, -v.Z/d))), math.Atan2(v.Y, v.X)-l.pose.rotation
	return light.distribution.Intensity(horizontal, vertical) / (square * d)
}

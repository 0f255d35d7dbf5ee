package interreflect

import (
	"context"
	"fmt"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

// Options steer the solution. The zero value is ready to use.
type Options struct {
	// Patch is the longest side of a patch, m; 0 means 2 ft, or 4 ft where there are racks and 2 ft would make
	// more than 40,000 patches of the room and them, or an eighth of the shortest side of the room if that is
	// less and does not make more than 80,000 patches of the room. Among racks patches are shorter where two
	// sides face each other closely, whatever is given.
	Patch float64
	Rays  int // rays from each patch in a room with racks; 0 means 128, or up to 512 where patches are few
	// Flux of a bounce, as a part of the direct flux on the patches, at which to stop; 0 means 1e-4.
	Residual float64
	Memory   int64 // bytes that the solution may take; 0 means 1 GiB
	// Plain has the direct light of every luminaire and the light that bounces to every point worked out by
	// itself, to hold the short cuts against it.
	Plain bool
	// Progress, if not nil, is told from time to time what is being done and which part of it is done, 0 to 1.
	// Calls do not overlap.
	Progress func(step string, part float64)
}

func (o Options) filled(r room.Room, racks []room.Rack) Options {
	if o.Patch <= 0 {
		largest := 2 * photometry.Foot
		shortest := min(r.Length, r.Width, r.Height)
		o.Patch = min(largest, shortest/8)
		if len(racks) > 0 {
			largest = 4 * photometry.Foot
			if patchesAmong(r, racks, o.Patch) > mostFinePatches {
				o.Patch = min(largest, shortest/8)
			}
		}
		for parts := 7; o.Patch < largest && patchesOf(r, o.Patch) > mostPatches; parts-- {
			o.Patch = min(largest, 1.25*o.Patch)
			if parts > 0 { // whole parts of the room suit the spacing of luminaires
				o.Patch = min(largest, shortest/float64(parts))
			}
		}
	}
	if o.Rays <= 0 {
		o.Rays = 128
		for patches := patchesAmong(r, racks, o.Patch); o.Rays < 512 && 2*o.Rays*patches <= soonTraced; {
			o.Rays *= 2
		}
	}
	if o.Residual <= 0 {
		o.Residual = 1e-4
	}
	if o.Memory <= 0 {
		o.Memory = 1 << 30
	}
	return o
}

const (
	mostPatches     = 80_000 // of a narrow or a flat room
	mostFinePatches = 40_000 // of the size that an empty room has, among racks
	// So many rays are traced in half a second: a room of few patches can have more from each, and needs them where
	// few find a way to what is lit.
	soonTraced = 2_500_000
)

// patchesAmong returns about how many patches of a size a room and its racks make.
func patchesAmong(r room.Room, racks []room.Rack, patch float64) int {
	area := 0.0
	for i := range racks {
		size := racks[i].Size
		area += size.X*size.Y + 2*size.Z*(size.X+size.Y)
		if racks[i].Hangs() {
			area += size.X * size.Y
		}
	}
	return patchesOf(r, patch) + int(area/(patch*patch))
}

// patchesOf returns how many patches of a size the six sides of an empty room make.
func patchesOf(r room.Room, patch float64) int {
	x, y, z := room.Cells(r.Length, patch), room.Cells(r.Width, patch), room.Cells(r.Height, patch)
	return 2 * (x*y + y*z + z*x)
}

// A MemoryError says that a job would take more than the limit.
type MemoryError struct {
	What         string // with its numbers, as in "sights of 4000 patches with 128 rays each"
	Bytes, Limit int64
}

// Error tells the numbers.
func (e *MemoryError) Error() string {
	const mebi = 1 << 20
	return fmt.Sprintf(
		"interreflect: %s would take %d MiB, the limit is %d MiB; choose larger patches, or a part of the room",
		e.What,
		(e.Bytes+mebi-1)/mebi,
		e.Limit/mebi,
	)
}

// An axis is a direction of the room: x, y or z.
type axis int

const (
	axisX axis = iota
	axisY
	axisZ
)

func along(v room.Vec, a axis) float64 {
	switch a {
	case axisX:
		return v.X
	case axisY:
		return v.Y
	case axisZ:
	}
	return v.Z
}

func unit(a axis) room.Vec {
	switch a {
	case axisX:
		return room.Vec{X: 1}
	case axisY:
		return room.Vec{Y: 1}
	case axisZ:
	}
	return room.Vec{Z: 1}
}

// A face is a rectangle square to an axis, cut into patches by lines along its two other axes, u and v. Patch
// (i, j) is number first + j * columns + i.
type face struct {
	normal      axis
	sign        float64 // of the side that takes part
	at          float64 // coordinate along the normal
	u, v        axis
	us, vs      []float64 // borders, ascending
	binsU       bins
	binsV       bins
	reflectance float64 // of the light that it keeps, what leaves the same side
	rack        int     // of which it is a face; -1 for the room's
	first       int
}

func (f *face) columns() int { return len(f.us) - 1 }
func (f *face) rows() int    { return len(f.vs) - 1 }

func (f *face) inward() room.Vec { return unit(f.normal).Scale(f.sign) }

// point returns a place on the face by its coordinates.
func (f *face) point(u, v float64) room.Vec {
	return unit(f.normal).Scale(f.at).Add(unit(f.u).Scale(u)).Add(unit(f.v).Scale(v))
}

// locate returns the patch that holds a place of the face.
func (f *face) locate(u, v float64) int {
	return f.first + f.binsV.cell(f.vs, v)*f.columns() + f.binsU.cell(f.us, u)
}

// Bins are even and tell each in which cell between borders it begins, so that few borders are asked for the
// cell of a place.
type bins struct {
	per   float64 // to a metre
	cells []int32
}

const binsPerCell = 4

func newBins(borders []float64) bins {
	b := bins{binsPerCell * perMetre(borders), make([]int32, binsPerCell*(len(borders)-1))}
	for i := range b.cells {
		b.cells[i] = int32(cell(borders, b.per/binsPerCell, borders[0]+float64(i)/b.per))
	}
	return b
}

// cell returns which cell between the borders holds x, as the function cell does.
func (b *bins) cell(borders []float64, x float64) int {
	i := int(b.cells[min(max(int((x-borders[0])*b.per), 0), len(b.cells)-1)])
	for i < len(borders)-2 && x >= borders[i+1] {
		i++
	}
	return i
}

// perMetre returns how many cells there are to a metre, in the mean.
func perMetre(borders []float64) float64 {
	last := len(borders) - 1
	return float64(last) / (borders[last] - borders[0])
}

// cell returns which cell between borders holds x, that before the first or beyond the last included; per is
// perMetre of the borders.
func cell(borders []float64, per, x float64) int {
	last := len(borders) - 2
	// borders are nearly even: start from the even guess and walk
	i := min(max(int((x-borders[0])*per), 0), last)
	for i > 0 && x < borders[i] {
		i--
	}
	for i < last && x >= borders[i+1] {
		i++
	}
	return i
}

// An Enclosure is a room with its racks, cut into patches that know whom they see. It holds no light and may
// serve several systems, one after the other or at once.
type Enclosure struct {
	room    room.Room
	between *room.Obstructions
	racks   []room.Rack // those that count
	options Options
	nooks   []nook
	finer   int // parts of a patch along each side, as points near it see it
	faces   []face
	under   []int // faces of racks that look down, by rack; the floor, 0, of one that stands on it
	// Exposed area of each patch, m²; 0 where a rack covers it, or another's face counts in its place.
	areas []float64
	// Of the light on a patch, what does not pass on through a rack: reflected or lost; 1 on all but open racks.
	keeps []float64
	// Of what a patch reflects, the part that gets out of the rack that stands on it; 1 where none does.
	leaves []float64
	empty  *spectra       // of an empty room
	seen   sampledFactors // of the patches, with racks
	solids *room.Solids   // the racks
}

// The first six faces are the room's.
const (
	floor = iota
	ceiling
	wallX0
	wallX1
	wallY0
	wallY1
	roomFaces
)

// NewEnclosure cuts the room and its racks into patches and finds whom each sees; what lies outside the
// room's outline need not be among the racks. It errs with a *MemoryError if that would take more than the
// limit, and if the context is cancelled.
func NewEnclosure(ctx context.Context, r room.Room, racks []room.Rack, options Options) (*Enclosure, error) {
	// borders of the patches, their numbers and what part each has in the light
	e := newEnclosure(r, racks, options)
	count := 0
	for i := range e.faces {
		f := &e.faces[i]
		f.first = count
		count += f.columns() * f.rows()
		if err := e.check(8*int64(count), "%d patches", count); err != nil {
			return nil, err
		}
	}
	e.solids = room.NewSolids(e.racks)
	e.areas, e.keeps, e.leaves = make([]float64, count), make([]float64, count), make([]float64, count)
	for i := range e.faces {
		e.measure(&e.faces[i])
	}
	// an empty room: form factors in closed form, as spectra
	if len(e.racks) == 0 {
		if err := e.check(e.spectraBytes(), "form factors of %d patches", count); err != nil {
			return nil, err
		}
		var err error
		e.finer = 1
		e.empty, err = newSpectra(ctx, e)
		return e, err
	}
	// among racks: form factors by rays
	bytes := 4 * int64(count) * int64(e.options.Rays)
	if err := e.check(bytes, "sights of %d patches with %d rays each", count, e.options.Rays); err != nil {
		return nil, err
	}
	var err error
	e.seen, err = e.traceRays(ctx)
	return e, err
}

// newEnclosure lays the borders of the patches and goes no further.
func newEnclosure(r room.Room, racks []room.Rack, options Options) *Enclosure {
	racks = r.Boxes(racks)
	e := &Enclosure{
		room:    r,
		finer:   nearParts,
		between: room.NewObstructions(racks),
		options: options.filled(r, racks),
	}
	e.racks = e.between.Racks
	e.nooks = e.findNooks()
	e.faces = e.cut()
	return e
}

func (e *Enclosure) check(need int64, format string, numbers ...any) error {
	if need > e.options.Memory {
		return &MemoryError{fmt.Sprintf(format, numbers...), need, e.options.Memory}
	}
	return nil
}

// Patches returns how many patches there are.
func (e *Enclosure) Patches() int { return len(e.areas) }

// cut lays the borders of the patches.
func (e *Enclosure) cut() []face {
	r := e.room
	refl := r.Reflectance
	// the room's six
	far := room.Vec{X: r.Length, Y: r.Width, Z: r.Height}
	side := func(normal axis, sign, at float64, u, v axis, reflectance float64) face {
		return e.divided(
			face{normal: normal, sign: sign, at: at, u: u, v: v, reflectance: reflectance, rack: -1},
			room.Vec{},
			far,
		)
	}
	faces := []face{
		floor:   side(axisZ, 1, 0, axisX, axisY, refl.Floor),
		ceiling: side(axisZ, -1, r.Height, axisX, axisY, refl.Ceiling),
		wallX0:  side(axisX, 1, 0, axisY, axisZ, refl.Walls),
		wallX1:  side(axisX, -1, r.Length, axisY, axisZ, refl.Walls),
		wallY0:  side(axisY, 1, 0, axisX, axisZ, refl.Walls),
		wallY1:  side(axisY, -1, r.Width, axisX, axisZ, refl.Walls),
	}
	// top and sides of each rack, then the undersides of those that hang
	for i := range e.racks {
		faces = append(faces, e.rackFaces(i)...)
	}
	e.under = make([]int, len(e.racks))
	for i := range e.racks {
		if k := &e.racks[i]; k.Hangs() {
			e.under[i] = len(faces)
			faces = append(faces, e.rackFace(i, axisZ, -1, k.Corner.Z, axisX, axisY))
		}
	}
	return faces
}

// divided cuts a face that lies between two corners of a box into patches.
func (e *Enclosure) divided(f face, low, far room.Vec) face {
	f.us, f.vs = e.borders(&f, f.u, low, far), e.borders(&f, f.v, low, far)
	f.binsU, f.binsV = newBins(f.us), newBins(f.vs)
	return f
}

// Faces of a rack in order: top, then the four sides. The undersides of those that hang come after the faces
// of all racks.
const rackSides = 5

func (e *Enclosure) rackFaces(rack int) []face {
	low, far := e.racks[rack].Corner, e.racks[rack].Far()
	return []face{
		e.rackFace(rack, axisZ, 1, far.Z, axisX, axisY),
		e.rackFace(rack, axisX, -1, low.X, axisY, axisZ), e.rackFace(rack, axisX, 1, far.X, axisY, axisZ),
		e.rackFace(rack, axisY, -1, low.Y, axisX, axisZ), e.rackFace(rack, axisY, 1, far.Y, axisX, axisZ),
	}
}

func (e *Enclosure) rackFace(rack int, normal axis, sign, at float64, u, v axis) face {
	k := &e.racks[rack]
	return e.divided(
		face{normal: normal, sign: sign, at: at, u: u, v: v, reflectance: k.Reflectance, rack: rack},
		k.Corner,
		k.Far(),
	)
}

func even(from, to, patch float64) []float64 {
	n := room.Cells(to-from, patch)
	borders := make([]float64, n+1)
	for i := range borders {
		borders[i] = from + (to-from)*float64(i)/float64(n)
	}
	return borders
}

const touching = room.Touching

// rounding is forgiven where a distance, m, or a part of a patch decides where a block begins and ends: feet
// and inches are no round meters.
const rounding = 1e-9

// borders cuts a face along an axis between two corners, also at the edges of every rack that touches its
// plane within it, so that each patch is wholly covered or wholly free.
func (e *Enclosure) borders(f *face, a axis, low, far room.Vec) []float64 {
	from, to := along(low, a), along(far, a)
	stops := []float64{from, to}
	other := f.u + f.v - a
	for i := range e.racks {
		k, end := &e.racks[i], e.racks[i].Far()
		if i == f.rack || along(k.Corner, f.normal) > f.at+touching || along(end, f.normal) < f.at-touching ||
			along(k.Corner, other) >= along(far, other) || along(end, other) <= along(low, other) {
			continue
		}
		stops = append(stops, min(max(along(k.Corner, a), from), to), min(max(along(end, a), from), to))
	}
	reaches := e.reaches(f, a, low, far)
	for _, r := range reaches {
		stops = append(stops, r.from, r.to)
	}
	stops = sorted(stops)
	var borders []float64
	for i := range len(stops) - 1 {
		part := even(stops[i], stops[i+1], limit(reaches, stops[i], stops[i+1], e.options.Patch))
		borders = append(borders, part[:len(part)-1]...)
	}
	return append(borders, to)
}

// measure finds what part each patch of a face has in the light. It has none outside the room, against a
// solid rack, or where the light does not enter a stricter rack there; of faces that coincide the strictest
// counts, or else the first. A patch in a rack that lets light through has its light dimmed on the way in and
// on the way out.
func (e *Enclosure) measure(f *face) {
	for j := range f.rows() {
		for i := range f.columns() {
			at := f.first + j*f.columns() + i
			p := f.point((f.us[i]+f.us[i+1])/2, (f.vs[j]+f.vs[j+1])/2)
			before := p.Add(f.inward().Scale(touching))
			e.leaves[at] = e.passes(before)
			e.keeps[at] = e.kept(f, before, p.Sub(f.inward().Scale(touching)))
			if e.leaves[at] > 0 && e.keeps[at] > 0 && e.within(before) {
				e.areas[at] = (f.us[i+1] - f.us[i]) * (f.vs[j+1] - f.vs[j])
			}
		}
	}
}

// kept returns which part of the light that falls on a face at a place, right before and right behind it,
// does not pass on. A rack keeps what the ratio of its transmittance to that of the racks leaves which hold
// both places.
func (e *Enclosure) kept(f *face, before, behind room.Vec) float64 {
	if f.rack < 0 {
		return 1
	}
	own, stays := e.racks[f.rack].Transmittance, 1.0
	for _, i := range e.solids.At(behind) {
		k := &e.racks[i]
		if int(i) == f.rack || !k.Contains(behind) {
			continue
		}
		switch {
		case k.Contains(before):
			stays = min(stays, k.Transmittance)
		case k.Transmittance < own || k.Transmittance == own && int(i) < f.rack:
			return 0 // light that enters here enters that one
		}
	}
	if own >= stays {
		return 0
	}
	return 1 - own/stays
}

// passes returns which part of the light gets out of the racks that hold a point: the least of their
// transmittances; 1 outside all racks.
func (e *Enclosure) passes(p room.Vec) float64 {
	passes := 1.0
	for _, i := range e.solids.At(p) {
		if k := &e.racks[i]; k.Transmittance < passes && k.Contains(p) {
			passes = k.Transmittance
		}
	}
	return passes
}

func (e *Enclosure) within(p room.Vec) bool {
	return p.X >= 0 && p.Y >= 0 && p.Z >= 0 && p.X <= e.room.Length && p.Y <= e.room.Width &&
		p.Z <= e.room.Height
}

// open tells whether a point is in the room and not covered by racks.
func (e *Enclosure) open(p room.Vec) bool { return e.within(p) && !e.between.Cover(p) }

package direct

import (
	"math"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

// A Prepared scene has its tables made, so that many grids can be asked for. It is not changed by use and may be shared.
type Prepared struct {
	scene  Scene
	kinds  []kind
	shades []shade
	lamps  int
}

// A kind is one source: luminaires alike in all but their places.
type kind struct {
	field  *field
	refine int
	lamps  []lamp
}

// Prepare makes the tables of the scene.
func (s Scene) Prepare() *Prepared {
	p := &Prepared{scene: s}
	fields := map[*photometry.Distribution]*field{}
	for _, source := range s.Sources {
		d := source.Luminaire.Distribution
		if fields[d] == nil {
			fields[d] = newField(d)
		}
		o := newOpening(source.Luminaire.Opening)
		k := kind{field: fields[d], lamps: make([]lamp, len(source.Placements))}
		k.refine = refinement(d, o)
		for i, place := range source.Placements {
			k.lamps[i] = lamp{distribution: d, field: fields[d], opening: o, pose: newPose(place, o)}
		}
		p.lamps += len(k.lamps)
		p.kinds = append(p.kinds, k)
	}
	p.shades = s.shades()
	return p
}

// Uncovered returns the scene for points that may lie inside a rack, such as on the floor under one that lets light through: their
// illuminance is computed, not NaN.
func (e *Prepared) Uncovered() *Prepared {
	u := *e
	u.scene.Racks = nil
	return &u
}

// At is Scene.At, by the prepared tables and without the doubling.
func (e *Prepared) At(p, normal room.Vec) float64 {
	sight := make([]shade, 0, len(e.shades))
	return e.at(p, normal, sight)
}

func (e *Prepared) at(p, normal room.Vec, sight []shade) float64 {
	light := 0.0
	for k := range e.kinds {
		kind := &e.kinds[k]
		for i := range kind.lamps {
			light += kind.lamps[i].once(p, normal, e.shades, sight, kind.refine)
		}
	}
	return light
}

// once is illuminance by the field; an opening that racks may cut takes a fixed refinement only if it is slender.
func (l *lamp) once(p, normal room.Vec, shades, sight []shade, refine int) float64 {
	s := sum{lamp: l, field: l.field, p: p, normal: normal, nearest: l.distance(p), refine: refine}
	s.shades = between(sight[:0], l, p, shades)
	if len(s.shades) == 0 {
		return s.whole()
	}
	s.cross()
	if o := l.opening; o.slender(o.high) && o.slender(o.width) {
		return s.whole()
	}
	return s.settle()
}

const (
	evenEnough  = 2e-3 // what doubling the pieces may change
	ofPeak      = 0.02 // where less than this part of the peak arrives, the change counts against that part
	mostRefined = 16
)

// refinement finds how much finer than the five-times rule the pieces must be for a distribution with sharp features, by
// doubling them in many directions at two and at five times the opening's length.
func refinement(d *photometry.Distribution, o opening) int {
	size := max(o.length, o.high)
	if size == 0 {
		return 1
	}
	l := lamp{distribution: d, opening: o, pose: newPose(room.Placement{}, o)}
	peak := d.Peak()
	refine := 1
	for _, far := range []float64{2 * size, 5 * size} {
		for c := 0.0; c < 2*math.Pi; c += math.Pi / 8 {
			for g := 0.0; g <= math.Pi; g += math.Pi / 45 {
				sin, cos := math.Sincos(g)
				p := room.Vec{X: far * sin * math.Cos(c), Y: far * sin * math.Sin(c), Z: -far * cos}
				s := sum{lamp: &l, p: p, normal: p.Scale(-1 / far), nearest: l.distance(p), refine: refine}
				coarse := s.whole()
				for refine < mostRefined {
					s.refine = 2 * refine
					fine := s.whole()
					if math.Abs(fine-coarse) <= evenEnough*max(fine, ofPeak*peak/(far*far)) {
						break
					}
					refine, coarse = 2*refine, fine
				}
			}
		}
	}
	return refine
}

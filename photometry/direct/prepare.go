package direct

import (
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
	field *field
	lamps []lamp
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
		finer := refine(d, fields[d], o)
		for i, place := range source.Placements {
			k.lamps[i] = lamp{distribution: d, field: fields[d], opening: o, refine: finer, pose: newPose(place, o)}
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

// at is Scene.At, by the prepared tables and without the doubling.
func (e *Prepared) at(p, normal room.Vec, work *workspace) float64 {
	light := 0.0
	for k := range e.kinds {
		kind := &e.kinds[k]
		for i := range kind.lamps {
			light += kind.lamps[i].once(p, normal, e.shades, work)
		}
	}
	return light
}

// once is illuminance by the field; an opening that racks may cut takes a fixed refinement only if it is slender.
func (l *lamp) once(p, normal room.Vec, shades []shade, work *workspace) float64 {
	s := sum{lamp: l, field: l.field, p: p, normal: normal, nearest: l.distance(p), workspace: work}
	cos := l.cosine(p)
	s.refine = l.refine.at(s.nearest, cos, cos)
	s.borders.n = 0
	s.shades = between(s.shades[:0], l, p, shades)
	if len(s.shades) == 0 {
		return s.whole()
	}
	s.cross()
	if o := l.opening; o.slender(o.high) && o.slender(o.width) {
		return s.whole()
	}
	return s.settle()
}

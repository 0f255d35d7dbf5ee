package direct

import (
	"cmp"
	"slices"
	"sync"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

// A Prepared scene has its tables made, so that many grids can be asked for; or several scenes that hang
// alike, whose shadows are then found once. It is not changed by use and may be shared.
type Prepared struct {
	kinds     []kind
	racks     *room.Obstructions // nil where there are none
	occluders []occluder         // of them, those that count for a grid
	lamps     int
	systems   int // scenes
}

// A kind is one source: luminaires alike in all but their places.
type kind struct {
	optics []optic // of each scene; the lamps have that of the first
	lamps  []lamp
	cell   float64 // of patches, m; 0 if not told
	plain  bool    // each by itself
}

// A Group is which of some scenes hang alike, by their numbers.
type Group []int

// Of picks the scenes of a group.
func (g Group) Of(scenes []Scene) []Scene {
	some := make([]Scene, len(g))
	for n, i := range g {
		some[n] = scenes[i]
	}
	return some
}

// Alike groups scenes that differ in nothing but how their luminaires send their light.
func Alike(scenes []Scene) []Group {
	var all []Group
	for i, s := range scenes {
		at := slices.IndexFunc(all, func(g Group) bool { return scenes[g[0]].hangsAs(s) })
		if at < 0 {
			all = append(all, Group{i})
			continue
		}
		all[at] = append(all[at], i)
	}
	return all
}

func (s Scene) hangsAs(o Scene) bool {
	return slices.Equal(s.Racks, o.Racks) && s.Room == o.Room && s.Plain == o.Plain && s.Cell == o.Cell &&
		slices.EqualFunc(s.Sources, o.Sources, func(a, b Source) bool {
			return a.Luminaire.Opening == b.Luminaire.Opening && slices.Equal(a.Placements, b.Placements)
		})
}

// Optics are the tables of distributions, so that scenes which share them have each made once. The zero value
// is ready to use, by several goroutines too.
type Optics struct {
	mutex  sync.Mutex
	fields map[*photometry.Distribution]*field
	known  map[emitter]*optic
}

// An emitter is what an optic depends on.
type emitter struct {
	distribution *photometry.Distribution
	opening      opening
}

// of returns how openings of a distribution send their light.
func (o *Optics) of(e emitter) optic {
	o.mutex.Lock()
	defer o.mutex.Unlock()
	if o.known == nil {
		o.fields, o.known = map[*photometry.Distribution]*field{}, map[emitter]*optic{}
	}
	if o.fields[e.distribution] == nil {
		o.fields[e.distribution] = newField(e.distribution)
	}
	if o.known[e] == nil {
		f := o.fields[e.distribution]
		o.known[e] = &optic{e.distribution, f, refine(e.distribution, f, e.opening)}
	}
	return *o.known[e]
}

// Prepare makes the tables of the scene.
func (s Scene) Prepare() *Prepared { return Prepare(s) }

// Prepare makes the tables of scenes that hang alike.
func Prepare(scenes ...Scene) *Prepared {
	// luminaires in their places, which all scenes have in common, each scene's optics, and the racks
	s := scenes[0]
	p := &Prepared{systems: len(scenes)}
	outside := s.outside()
	optics := cmp.Or(s.Optics, &Optics{})
	for i, source := range s.Sources {
		o := newOpening(source.Luminaire.Opening)
		k := kind{
			optics: make([]optic, len(scenes)),
			lamps:  make([]lamp, len(source.Placements)),
			cell:   s.Cell,
			plain:  s.Plain,
		}
		for n := range scenes {
			k.optics[n] = optics.of(emitter{scenes[n].Sources[i].Luminaire.Distribution, o})
		}
		for i, place := range source.Placements {
			k.lamps[i] = lamp{optic: &k.optics[0], opening: o, pose: s.pose(place, o, outside), share: 1}
		}
		p.lamps += len(k.lamps)
		p.kinds = append(p.kinds, k)
	}
	if len(s.Racks) > 0 {
		p.racks = room.NewObstructions(s.Racks)
		p.occluders = p.racks.Boxes
	}
	return p
}

// system returns one of the scenes.
func (e *Prepared) system(n int) *Prepared {
	if n == 0 {
		return e // the lamps have its optics
	}
	one := *e
	one.kinds = slices.Clone(e.kinds)
	for i := range one.kinds {
		k := &one.kinds[i]
		k.optics, k.lamps = k.optics[n:], slices.Clone(k.lamps)
		for l := range k.lamps {
			k.lamps[l].optic = &k.optics[0]
		}
	}
	return &one
}

func (e *Prepared) some(chosen func(l *lamp) bool) *Prepared {
	some := *e
	some.kinds, some.lamps = nil, 0
	for _, k := range e.kinds {
		lamps := make([]lamp, 0, len(k.lamps))
		for i := range k.lamps {
			if chosen(&k.lamps[i]) {
				lamps = append(lamps, k.lamps[i])
			}
		}
		if len(lamps) > 0 {
			some.kinds = append(some.kinds, kind{k.optics, lamps, k.cell, k.plain})
		}
		some.lamps += len(lamps)
	}
	return &some
}

// once is illuminance by the field; an opening that racks may cut takes a fixed refinement only if it is
// slender.
func (l *lamp) once(p, normal room.Vec, occluders []occluder, work *workspace) float64 {
	s := quadrature{lamp: l, field: l.field, p: p, normal: normal, nearest: l.distance(p), workspace: work}
	cos := l.cosine(p)
	s.refine = l.refine.at(s.nearest, cos, cos)
	s.borders.n = 0
	s.occluders = between(s.occluders[:0], l, p, occluders)
	if len(s.occluders) == 0 {
		return l.share * s.whole()
	}
	s.cross()
	if o := l.opening; o.slender(o.high) && o.slender(o.width) {
		return l.share * s.whole()
	}
	return l.share * s.settle()
}

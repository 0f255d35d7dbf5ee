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
	systems   int                // scenes
}

// A kind is one source: luminaires alike in all but their places.
type kind struct {
	optics []optic // of each scene
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

// Optics are the tables of distributions, so that scenes which share them have each made once; they begin anew
// where there are many. The zero value is ready to use, by several goroutines too.
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
	const most = 24 // of 1 MB, or of 4 where there is no symmetry
	if o.known == nil || len(o.fields) >= most && o.fields[e.distribution] == nil {
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
			k.lamps[i] = lamp{opening: o, pose: s.pose(place, o, outside), share: 1}
		}
		p.kinds = append(p.kinds, k)
	}
	if len(s.Racks) > 0 {
		p.racks = room.NewObstructions(s.Racks)
		p.occluders = p.racks.Boxes
	}
	return p
}

package lighting

import (
	"context"
	"slices"

	"lampswap/photometry/direct"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

// A lit source is what a lighter found for it.
type lit struct {
	source  direct.Source
	asked   []room.Grid
	grids   []Grid
	balance *interreflect.Balance
}

// together is the lighter of one space. Much of the work is to find what a point sees, which is the same
// for every source: the first of a set that is asked for is worked out with the others, which are then at
// hand.
func (p *Space) together() lighter {
	var known []lit
	return func(
		ctx context.Context, source direct.Source, grids []room.Grid,
	) ([]Grid, *interreflect.Balance, error) {
		find := func(source direct.Source) int {
			return slices.IndexFunc(
				known, func(l lit) bool { return alike(l.source, source) && slices.Equal(l.asked, grids) },
			)
		}
		if i := find(source); i >= 0 {
			return known[i].grids, known[i].balance, nil
		}
		sources := slices.DeleteFunc(p.companions(source), func(s direct.Source) bool { return find(s) >= 0 })
		found, err := p.shine(ctx, sources, grids)
		if err != nil {
			return nil, nil, err
		}
		if len(found) > 1 {
			known = append(known, found...)
		}
		return found[0].grids, found[0].balance, nil
	}
}

// Expect tells that systems of one kind, which are none of the job's, will be asked for: they are then lit
// together, as many as memory allows.
func (p *Space) Expect(systems []*job.System) {
	var set []direct.Source
	most := max(1, expectedBytes/(bytesOfPoint*max(1, points(p.job))))
	for _, s := range systems {
		for _, source := range setsOf(s) {
			if set = append(set, source); len(set) == most {
				p.sets, set = append(p.sets, set), nil
			}
		}
	}
	p.sets = append(p.sets, set)
}

// How many bytes the light of expected systems may take, and what a point of each takes.
const (
	expectedBytes = 128 << 20
	bytesOfPoint  = 2 * 8
)

// companions are a source and all others of its set, where light bounces; itself alone where not, or where
// nobody expects it.
func (p *Space) companions(source direct.Source) []direct.Source {
	for _, set := range p.sets {
		if at := slices.IndexFunc(
			set, func(s direct.Source) bool { return alike(s, source) },
		); at >= 0 && p.job.Interreflection {
			all := slices.Clone(set)
			all[0], all[at] = all[at], all[0]
			return all
		}
	}
	return []direct.Source{source}
}

// sourcesOf are the luminaires of a job's systems that are lit together at one time or another, each kind by
// itself and each set once.
func sourcesOf(j *job.Job) []direct.Source {
	var all []direct.Source
	for _, s := range j.Kinds() {
		for _, source := range setsOf(s) {
			if !slices.ContainsFunc(all, func(a direct.Source) bool { return alike(a, source) }) {
				all = append(all, source)
			}
		}
	}
	return all
}

// setsOf are the luminaires of one kind that are lit together: all that give light, those that failed, and
// those that emergency power feeds.
func setsOf(s *job.System) []direct.Source {
	sets := []direct.Source{sourceOf(s)}
	if dark := s.Dark(); len(dark) > 0 {
		sets = append(sets, direct.Source{Luminaire: s.Luminaire, Placements: dark})
	}
	for _, fed := range fedAlike(s) {
		sets = append(sets, burning(s, fed))
	}
	return sets
}

// fedAlike are the luminaires of one kind that emergency power feeds and that give light, those together that
// give an equal part of theirs.
func fedAlike(s *job.System) [][]job.Pack {
	var all [][]job.Pack
	for fed := s.FedLit(); len(fed) > 0; {
		like := func(q job.Pack) bool { return q.Share == fed[0].Share && q.Lumens == fed[0].Lumens }
		var set []job.Pack
		for _, q := range fed {
			if like(q) {
				set = append(set, q)
			}
		}
		all = append(all, set)
		fed = slices.DeleteFunc(slices.Clone(fed), like)
	}
	return all
}

// burning are luminaires of one kind that emergency power feeds.
func burning(s *job.System, fed []job.Pack) direct.Source {
	source := direct.Source{Luminaire: s.Luminaire}
	for _, q := range fed {
		source.Placements = append(source.Placements, s.Layout.Placements[q.Place])
	}
	return source
}

// sourceOf are the luminaires of one kind that give light, as they were photometered.
func sourceOf(s *job.System) direct.Source {
	return direct.Source{Luminaire: s.Luminaire, Placements: s.Lit()}
}

// alike tells whether two sources are the same luminaires in the same places.
func alike(a, b direct.Source) bool {
	return a.Luminaire.Distribution == b.Luminaire.Distribution && a.Luminaire.Opening == b.Luminaire.Opening &&
		slices.Equal(a.Placements, b.Placements)
}

// shine works out the initial light of sources, each by itself, on the grids: direct, and what bounces where
// there is an enclosure to bounce in. A source's numbers do not depend on the others.
func (p *Space) shine(ctx context.Context, sources []direct.Source, grids []room.Grid) ([]lit, error) {
	scenes := make([]direct.Scene, len(sources))
	for i, source := range sources {
		scenes[i] = p.scene(source)
	}
	values, err := directly(ctx, scenes, grids)
	if err != nil {
		return nil, err
	}
	found := make([]lit, len(sources))
	for i, source := range sources {
		found[i] = newLit(source, grids, values[i])
	}
	if p.enclosure == nil {
		return found, nil
	}
	solved, err := p.enclosure.SolveAll(ctx, scenes)
	if err != nil {
		return nil, err
	}
	return found, p.bounce(ctx, found, solved)
}

// scene is a source in the job's room.
func (p *Space) scene(source direct.Source) direct.Scene {
	return direct.Scene{
		Sources: []direct.Source{source}, Racks: p.job.Boxes(), Room: p.job.Room.Sides(), Optics: p.optics,
	}
}

// directly works out the direct light of scenes on grids, of those that hang alike together: scene by scene,
// grid by grid.
func directly(ctx context.Context, scenes []direct.Scene, grids []room.Grid) ([][][]float64, error) {
	all := make([][][]float64, len(scenes))
	for _, group := range direct.Alike(scenes) {
		prepared := direct.Prepare(group.Of(scenes)...)
		for _, grid := range grids {
			values, err := prepared.All(ctx, grid)
			if err != nil {
				return nil, err
			}
			for n, i := range group {
				all[i] = append(all[i], values[n])
			}
		}
	}
	return all, nil
}

// newLit is a source with its direct light alone.
func newLit(source direct.Source, grids []room.Grid, values [][]float64) lit {
	l := lit{source: source, asked: grids, grids: make([]Grid, len(grids))}
	for g, grid := range grids {
		l.grids[g] = Grid{Grid: grid, Direct: values[g], Interreflected: nothing(values[g])}
	}
	return l
}

// bounce adds to sources what bounces on their grids, and its balance.
func (p *Space) bounce(ctx context.Context, found []lit, solved []*interreflect.Solution) error {
	for i, s := range solved {
		balance := s.Balance()
		found[i].balance = &balance
	}
	values, err := p.enclosure.Illuminance(ctx, found[0].asked, solved...)
	if err != nil {
		return err
	}
	for g := range values {
		for i := range found {
			found[i].grids[g].Interreflected = values[g][i]
		}
	}
	return nil
}

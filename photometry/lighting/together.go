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

// together is the lighter of an enclosure. Much of the work is to find what a point sees, which is the same for every system: the first of
// a job's systems that is asked for is worked out with the others, which are then at hand.
func together(j *job.Job, enclosure *interreflect.Enclosure) lighter {
	var known []lit
	return func(ctx context.Context, source direct.Source, grids []room.Grid) ([]Grid, *interreflect.Balance, error) {
		is := func(l lit) bool { return alike(l.source, source) && slices.Equal(l.asked, grids) }
		if i := slices.IndexFunc(known, is); i >= 0 {
			return known[i].grids, known[i].balance, nil
		}
		sources := []direct.Source{source}
		if enclosure != nil {
			if all := sourcesOf(j); slices.ContainsFunc(all, func(s direct.Source) bool { return alike(s, source) }) {
				sources = all
			}
		}
		found, err := light(ctx, j, sources, grids, enclosure)
		if err != nil {
			return nil, nil, err
		}
		if len(sources) > 1 {
			known = found
		}
		i := slices.IndexFunc(found, is)
		return found[i].grids, found[i].balance, nil
	}
}

// sourcesOf are the luminaires of a job's systems, each kind once.
func sourcesOf(j *job.Job) []direct.Source {
	var all []direct.Source
	for _, s := range j.Kinds() {
		source := sourceOf(s)
		if !slices.ContainsFunc(all, func(a direct.Source) bool { return alike(a, source) }) {
			all = append(all, source)
		}
	}
	return all
}

// sourceOf are the luminaires of one kind that give light, as they were photometered.
func sourceOf(s *job.System) direct.Source {
	return direct.Source{Luminaire: s.Luminaire, Placements: s.Lit()}
}

// alike tells whether two sources are the same luminaires in the same places.
func alike(a, b direct.Source) bool {
	return a.Luminaire.Distribution == b.Luminaire.Distribution && a.Luminaire.Opening == b.Luminaire.Opening && slices.Equal(a.Placements, b.Placements)
}

// light works out the initial light of sources, each by itself, on the grids: direct, and what bounces where there is an enclosure to
// bounce in. A source's numbers do not depend on the others.
func light(ctx context.Context, j *job.Job, sources []direct.Source, grids []room.Grid, enclosure *interreflect.Enclosure) ([]lit, error) {
	found, scenes := make([]lit, len(sources)), make([]direct.Scene, len(sources))
	for i, source := range sources {
		scenes[i] = direct.Scene{Sources: []direct.Source{source}, Racks: j.Boxes(), Room: j.Room.Sides()}
		found[i] = lit{source: source, asked: grids, grids: make([]Grid, len(grids))}
	}
	for _, group := range direct.Alike(scenes) {
		prepared := direct.Prepare(group.Of(scenes)...)
		for g, grid := range grids {
			values, err := prepared.All(ctx, grid)
			if err != nil {
				return nil, err
			}
			for n, i := range group {
				found[i].grids[g] = Grid{Grid: grid, Direct: values[n], Interreflected: nothing(values[n])}
			}
		}
	}
	if enclosure == nil {
		return found, nil
	}
	bounced, err := enclosure.SolveAll(ctx, scenes)
	if err != nil {
		return nil, err
	}
	for i, s := range bounced {
		balance := s.Balance()
		found[i].balance = &balance
	}
	for g, grid := range grids {
		values, err := enclosure.Illuminance(ctx, grid, bounced...)
		if err != nil {
			return nil, err
		}
		for i := range found {
			found[i].grids[g].Interreflected = values[i]
		}
	}
	return found, nil
}

package lighting

import (
	"context"
	"math"
	"slices"

	"lampswap/photometry/cavity"
	"lampswap/photometry/direct"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

// A Space is the room of a job with its racks, in which one system after another can be lit.
type Space struct {
	job   *job.Job
	light lighter
	// sources that are lit together: those of the job, and those that somebody told to expect
	sets      [][]direct.Source
	optics    *direct.Optics
	enclosure *interreflect.Enclosure // nil where no light bounces
}

// A lighter works out the light of a source on grids: direct, and what bounces. What it returns may be kept
// by others too.
type lighter func(
	ctx context.Context, source direct.Source, grids []room.Grid,
) ([]Grid, *interreflect.Balance, error)

// NewSpace prepares the room of a job: where light bounces, how its surfaces see each other. It errs if the
// context ends, and with a *interreflect.MemoryError or a *TooLargeError, at once, if the job asks for more
// than may be held or waited for.
func NewSpace(ctx context.Context, j *job.Job, options interreflect.Options) (*Space, error) {
	if err := fits(j, options); err != nil {
		return nil, err
	}
	p := &Space{job: j, sets: [][]direct.Source{sourcesOf(j)}, optics: &direct.Optics{}}
	if j.Interreflection {
		var err error
		if p.enclosure, err = interreflect.NewEnclosure(ctx, j.Room, j.Racks, options); err != nil {
			return nil, err
		}
	}
	p.light = p.together()
	return p, nil
}

// Solve works out the light of one system: of each kind of luminaire by itself, as each loses light in its
// own way, and their sum. It errs as NewSpace does, with interreflect.ErrEndless if the surfaces absorb next
// to nothing, and with an *ImbalanceError if they absorb another flux than is emitted, by more than 1
// percent.
func (p *Space) Solve(ctx context.Context, from *job.System) (System, error) {
	var parts []System
	for _, kind := range from.Kinds() {
		s, err := p.solve(ctx, kind)
		if err != nil {
			return System{}, err
		}
		parts = append(parts, s)
	}
	return sum(parts), nil
}

// solve is Solve for luminaires of one kind.
func (p *Space) solve(ctx context.Context, from *job.System) (System, error) {
	j := p.job
	flux, upward := from.Luminaire.Distribution.Flux(),
		from.Luminaire.Distribution.FluxBetween(math.Pi/2, math.Pi)
	s := System{
		Luminaires:     len(from.Layout.Placements),
		Failed:         len(from.Use.Failed),
		DimmedTo:       from.Use.DimmedTo,
		InputWattsEach: from.InputWatts,
		PowerDensity:   powerDensity(j, from),
		LampLumensEach: from.LampLumensEach(),
		Efficiency:     from.Luminaire.Efficiency(),
		UpwardShare:    upward / flux,
	}
	// the lumen method, whose room cavity ratio the dirt on surfaces goes by
	length, width := j.Room.Rectangle()
	found, err := cavity.Solve(cavity.Room{
		Length:         length,
		Width:          width,
		Height:         j.Room.Height,
		WorkPlane:      j.Room.WorkPlane,
		MountingHeight: from.Layout.MountingHeight,
		Ceiling:        j.Room.Reflectance.Ceiling,
		Walls:          j.Room.Reflectance.Walls,
		Floor:          j.Room.Reflectance.Floor,
	}, cavity.FluxesOf(from.Luminaire))
	if err != nil {
		return System{}, err
	}
	s.Losses = lossFactors(j, from, s.UpwardShare, found.RoomCavityRatio)
	s.Outside = Temperature(j, from).Outside
	s.LumenMethod = lumenMethod(j, from, s, found)
	s.ColorRendering = colorRendering(from)
	// point by point
	if s.Grids, s.Observers, s.Balance, err = p.lit(ctx, from, s.Kept()); err != nil {
		return System{}, err
	}
	s.AllLit, err = p.allLit(ctx, from, &s)
	return s, err
}

// allLit is the maintained average of the work plane with the luminaires that failed lit too: light is a sum
// over luminaires.
func (p *Space) allLit(ctx context.Context, from *job.System, s *System) (float64, error) {
	if len(from.Use.Failed) == 0 {
		return s.Grids[0].Statistics.Average, nil
	}
	dark := *from
	dark.Layout.Placements, dark.Use.Failed, dark.Emergency = from.Dark(), nil, nil
	grids, _, err := p.Grids(ctx, &dark, s.Kept())
	if err != nil {
		return 0, err
	}
	return average(s.Grids[0]) + average(grids[0]), nil
}

// average is that of a grid; 0 where there is no light to have one.
func average(g Grid) float64 {
	if math.IsNaN(g.Statistics.Average) {
		return 0
	}
	return g.Statistics.Average
}

func lumenMethod(j *job.Job, from *job.System, s System, found cavity.Result) LumenMethod {
	m := LumenMethod{Result: found}
	m.InitialAverage = from.BallastFactor * cavity.Average(
		len(from.Lit()), s.LampLumensEach, found.CoefficientOfUtilization, j.Room.Area(),
	) * from.Output()
	m.MaintainedAverage = m.InitialAverage * s.Kept()
	criterion := func(plane float64) float64 {
		if c, ok := from.Luminaire.Distribution.SpacingCriterion(plane); ok {
			return c
		}
		return math.NaN()
	}
	m.SpacingCriterionAlong, m.SpacingCriterionAcross = criterion(0), criterion(math.Pi/2)
	m.SpacingToHeightAlong, m.SpacingToHeightAcross = math.NaN(), math.NaN()
	if l := from.Layout; l.Rows > 0 {
		height := l.MountingHeight - j.Room.WorkPlane
		along, across := j.Room.Length/float64(l.Columns)/height, j.Room.Width/float64(l.Rows)/height
		if l.LampsAlongY {
			along, across = across, along
		}
		m.SpacingToHeightAlong, m.SpacingToHeightAcross = along, across
	}
	return m
}

// Grids works out the light of luminaires of one kind on the work plane and on each grid of the job, and on
// the path out with the luminaires that emergency power feeds. kept is the share of the initial light that is
// maintained. The balance is nil where no light bounces. It errs as Solve does.
func (p *Space) Grids(
	ctx context.Context, from *job.System, kept float64,
) ([]Grid, *interreflect.Balance, error) {
	grids, _, balance, err := p.lit(ctx, from, kept)
	return grids, balance, err
}

// lit is Grids with what observers see.
//
// Light is worked out for the luminaire as it was photometered and then scaled to its lamps and ballast, so
// that systems that differ in these only have it in common.
func (p *Space) lit(
	ctx context.Context, from *job.System, kept float64,
) ([]Grid, []Seen, *interreflect.Balance, error) {
	grids, twins, eyes := gridsOf(p.job), twinsOf(p.job), eyesOf(p.job)
	scale := from.BallastFactor * from.LampLumensEach() / from.Luminaire.LampLumens * from.Output()
	asked := slices.Concat(grids, twins, eyes)
	found, balance, err := p.light(ctx, sourceOf(from), asked)
	if err == nil {
		err = trusted(balance)
	}
	if err != nil {
		return nil, nil, nil, err
	}
	seen := p.seen(from, found[len(grids)+len(twins):], scale)
	all := scaled(found[:len(grids)], scale)
	if balance != nil {
		b := *balance
		b.Emitted, b.Arrived, b.Absorbed = b.Emitted*scale, b.Arrived*scale, b.Absorbed*scale
		balance = &b
	}
	if e := p.job.Egress; e != nil {
		at := slices.IndexFunc(grids, func(g room.Grid) bool { return g.Name == e.Grid })
		way, err := p.emergency(ctx, from, asked, at, all[at], scale/from.Output())
		if err != nil {
			return nil, nil, nil, err
		}
		all = append(all, way)
	}
	for i := range all {
		all[i].maintain(kept)
	}
	model(all[:len(grids)], scaled(found[len(grids):len(grids)+len(twins)], scale), kept)
	return all, seen, balance, nil
}

// emergency is the light on the path out, one of the grids that are asked for, whose light is given, of the
// luminaires that emergency power feeds; of those that give an equal part of their light together. scale
// makes the light of a luminaire as photometered that at full output.
func (p *Space) emergency(
	ctx context.Context, from *job.System, asked []room.Grid, at int, path Grid, scale float64,
) (Grid, error) {
	way := Grid{
		Grid: path.Grid, Emergency: true, Direct: nothing(path.Direct), Interreflected: nothing(path.Direct),
	}
	way.Name = p.job.Egress.Name
	if !p.job.Interreflection { // nothing is shared with the other grids
		asked, at = asked[at:at+1], 0
	}
	for _, fed := range fedAlike(from) {
		found, _, err := p.light(ctx, burning(from, fed), asked)
		if err != nil {
			return Grid{}, err
		}
		share := from.EmergencyShare(fed[0])
		part := scaled(found[at:at+1], scale*share)[0]
		way.feeds = append(way.feeds, feed{fed[0], share, part.initial()})
		for i := range way.Direct {
			way.Direct[i] += part.Direct[i]
			way.Interreflected[i] += part.Interreflected[i]
		}
	}
	return way, nil
}

// initial is the light of a grid when new.
func (g *Grid) initial() []float64 {
	all := make([]float64, len(g.Direct))
	for i, direct := range g.Direct {
		all[i] = direct + g.Interreflected[i]
	}
	return all
}

// gridsOf are the grids of a job, the work plane first.
func gridsOf(j *job.Job) []room.Grid {
	return append([]room.Grid{j.Room.WorkPlaneGrid(j.Spacing)}, j.Grids...)
}

// scaled are copies of grids with light times a factor.
func scaled(grids []Grid, factor float64) []Grid {
	times := func(values []float64) []float64 {
		out := make([]float64, len(values))
		for i, v := range values {
			out[i] = factor * v
		}
		return out
	}
	out := make([]Grid, len(grids))
	for i, g := range grids {
		g.Direct, g.Interreflected = times(g.Direct), times(g.Interreflected)
		out[i] = g
	}
	return out
}

// nothing is 0 at every point of a grid, NaN where there is no point.
func nothing(like []float64) []float64 {
	zeros := make([]float64, len(like))
	for i, v := range like {
		if math.IsNaN(v) {
			zeros[i] = v
		}
	}
	return zeros
}

// maintain takes the losses off the initial light, of which the given share is kept.
func (g *Grid) maintain(kept float64) {
	g.Maintained = make([]float64, len(g.Direct))
	for i, direct := range g.Direct {
		g.Maintained[i] = (direct + g.Interreflected[i]) * kept
	}
	g.Statistics = room.Summarize(g.Maintained)
}

package lighting

import (
	"math"
	"slices"

	"lampswap/photometry/cavity"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/losses"
	"lampswap/photometry/room"
)

// Progress is told what is being done and which part of it is done, 0 to 1. Its calls do not overlap.
type Progress func(step string, part float64)

// A System is the light of one system. Illuminance is in lx, power density in W/m². Where it has luminaires
// of several kinds each of them stands in Parts, with the light that it gives by itself; what is of one
// luminaire, and each loss factor, is then NaN unless all kinds agree.
type System struct {
	Luminaires     int // those that failed too
	Failed         int
	DimmedTo       float64 // share of the light at which luminaires of one kind are set; 0 is not dimmed
	InputWattsEach float64
	PowerDensity   float64 // all lit and at full output
	LampLumensEach float64 // initial, all lamps of one luminaire
	Efficiency     float64
	UpwardShare    float64 // of the luminaire's lumens
	Losses         losses.Factors
	Parts          []System // in the order of the job's; nil for luminaires of one kind
	AllLit         float64  // maintained average of the work plane if no luminaire had failed
	// of its lamps or ballast, where its light is not known; nil if it is not
	Outside        *losses.Outside
	LumenMethod    LumenMethod
	Grids          []Grid                // the work plane first
	Observers      []Seen                // in the order of the job's
	ColorRendering float64               // the least index of its lamps; NaN where that of any is not known
	Balance        *interreflect.Balance // of the light that bounces; nil without it
}

// A LumenMethod is the answer of the zonal cavity method, and the spacing check that goes with it.
type LumenMethod struct {
	cavity.Result
	InitialAverage, MaintainedAverage             float64
	SpacingCriterionAlong, SpacingCriterionAcross float64 // NaN where the luminaire sends no light straight down
	SpacingToHeightAlong, SpacingToHeightAcross   float64 // NaN for explicit positions
}

// TooWide tells whether the spacing, over the height above the work plane, exceeds its criterion, along and
// across the lamps.
func (m LumenMethod) TooWide() (along, across bool) {
	over := func(spacing, criterion float64) bool { return spacing > criterion*(1+1e-9) } // false for NaN
	return over(m.SpacingToHeightAlong, m.SpacingCriterionAlong), over(
		m.SpacingToHeightAcross, m.SpacingCriterionAcross,
	)
}

// A Grid is the light on one grid, row by row; NaN where a point lies inside a rack.
type Grid struct {
	room.Grid
	Emergency              bool      // lit by the luminaires that emergency power feeds
	Direct, Interreflected []float64 // initial, with the ballast factor
	Maintained             []float64
	Statistics             room.Statistics // of Maintained
	Modeling               Modeling
	// on emergency power: its parts, of luminaires that give an equal part of their light
	feeds []feed
}

// A feed is the initial light of the luminaires of one kind that are fed alike.
type feed struct {
	pack    job.Pack
	share   float64 // of a luminaire's light at full output that each gives
	initial []float64
}

// A Side is one of the systems that are compared, or the luminaires of one kind in it, with what the job says
// of it.
type Side struct {
	// "existing", "proposed", "replacement"; of one kind among several with its group: "existing, over the dock"
	Name string
	From *job.System
	*System
}

// Sides are the systems that a job compares, in its order, dark yet.
func Sides(j *job.Job) []Side {
	var all []Side
	for i, from := range j.Systems() {
		all = append(all, Side{job.SystemNames[i], from, &System{}})
	}
	return all
}

// Kinds returns the luminaires of a side group by group, each of one kind: the side itself where it has no
// more.
func (s Side) Kinds() []Side {
	if s.Parts == nil {
		return []Side{s}
	}
	all := make([]Side, len(s.Parts))
	for i := range s.Parts {
		all[i] = Side{s.Name + ", " + s.From.Parts[i].Group, &s.From.Parts[i], &s.Parts[i]}
	}
	return all
}

// Kept is the share of the initial light, ballast factor in it, that is maintained; of luminaires of one
// kind.
func (s System) Kept() float64 { return s.Losses.Total() / s.Losses.BallastFactor.Value }

// Statistic returns what a criterion is about: lx, W/m², or a ratio; NaN where there is no value.
func (s System) Statistic(c levels.Criterion) float64 {
	switch c.Statistic {
	case levels.PowerDensity:
		return s.PowerDensity
	case levels.Glare:
		ugr, _ := s.Glare()
		return ugr
	case levels.ColorRendering:
		return s.ColorRendering
	case levels.Average, levels.Minimum, levels.Maximum, levels.AverageToMinimum, levels.MaximumToMinimum:
	}
	for _, g := range s.Grids {
		if g.Name == c.Grid {
			return pick(g.Statistics, c.Statistic)
		}
	}
	return math.NaN()
}

func pick(s room.Statistics, which levels.Statistic) float64 {
	switch which {
	case levels.Average:
		return s.Average
	case levels.Minimum:
		return s.Minimum
	case levels.Maximum:
		return s.Maximum
	case levels.AverageToMinimum:
		return s.AverageToMinimum
	case levels.MaximumToMinimum:
		return s.MaximumToMinimum
	case levels.PowerDensity, levels.Glare, levels.ColorRendering: // of no grid
		return math.NaN()
	}
	panic("lighting: unknown statistic")
}

// Relamped is the same system with the lamps and the ballast of another, which sends its light the same way
// from the same places: light is linear in lumens and ballast factor. Of its grids only the statistics are
// left, and no balance.
func (s System) Relamped(j *job.Job, from *job.System) System {
	lumens, before := s.times(from), s.Kept()
	s.relamp(j, from, lumens)
	maintained := lumens * s.Kept() / before
	grids := make([]Grid, len(s.Grids))
	for i, g := range s.Grids {
		g.Statistics.Average *= maintained
		g.Statistics.Minimum *= maintained
		g.Statistics.Maximum *= maintained
		g.Modeling = g.Modeling.times(maintained)
		if g.packed() {
			g.Statistics = room.Summarize(g.refed(from, lumens/from.Output()*s.Kept()))
		}
		g.Direct, g.Interreflected, g.Maintained, g.feeds = nil, nil, nil, nil
		grids[i] = g
	}
	s.Grids, s.Balance = grids, nil
	return s
}

// Relit is Relamped with the light of the grids at every point, to which that of others can be added.
func (s System) Relit(j *job.Job, from *job.System) System {
	lumens, before := s.times(from), s.Kept()
	s.relamp(j, from, lumens)
	grids := scaled(s.Grids, lumens)
	for i := range grids {
		g := &grids[i]
		g.maintain(s.Kept())
		g.Modeling = g.Modeling.times(lumens * s.Kept() / before)
		if g.packed() {
			g.Maintained = g.refed(from, lumens/from.Output()*s.Kept())
			g.Statistics = room.Summarize(g.Maintained)
		}
		g.feeds = nil
	}
	s.Grids, s.Balance, s.AllLit = grids, nil, grids[0].Statistics.Average
	return s
}

// times is how many times the initial light of a system of undimmed luminaires another has, which sends its
// light the same way.
func (s System) times(from *job.System) float64 {
	was := s.Losses.BallastFactor.Value * s.LampLumensEach
	return from.BallastFactor * from.LampLumensEach() / was * from.Output()
}

// relamp sets what another lamp and ballast change, but for the light of the grids, whose initial light is
// then some times what it was.
func (s *System) relamp(j *job.Job, from *job.System, times float64) {
	s.Luminaires = len(from.Layout.Placements)
	s.InputWattsEach, s.LampLumensEach = from.InputWatts, from.LampLumensEach()
	s.PowerDensity = powerDensity(j, from)
	s.Losses = lossFactors(j, from, s.UpwardShare, s.LumenMethod.RoomCavityRatio)
	s.Outside, s.DimmedTo = Temperature(j, from).Outside, from.Use.DimmedTo
	s.ColorRendering, s.Observers = colorRendering(from), slices.Clone(s.Observers)
	for i := range s.Observers {
		s.Observers[i].Light = s.Observers[i].Times(times)
	}
	s.LumenMethod.InitialAverage *= times
	s.LumenMethod.MaintainedAverage = s.LumenMethod.InitialAverage * s.Kept()
}

// packed tells that packs light a part of the grid, whose lumens do not go with those of the lamps.
func (g *Grid) packed() bool {
	return slices.ContainsFunc(g.feeds, func(f feed) bool { return f.pack.Lumens > 0 })
}

// refed is the maintained light on emergency power of a system with other lamps, whose initial light at full
// output is times that of these: a pack gives the lumens that it gives, whatever lamp it burns.
func (g *Grid) refed(from *job.System, times float64) []float64 {
	all := nothing(g.feeds[0].initial)
	for _, f := range g.feeds {
		for i, x := range f.initial {
			all[i] += x * times * from.EmergencyShare(f.pack) / f.share
		}
	}
	return all
}

// powerDensity is that of the connected load of luminaires of one kind over the floor, W/m².
func powerDensity(j *job.Job, from *job.System) float64 {
	return from.ConnectedWatts() / j.Room.Area()
}

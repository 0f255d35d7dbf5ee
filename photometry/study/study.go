package study

import (
	"context"
	"math"
	"slices"

	"lampswap/photometry/cavity"
	"lampswap/photometry/direct"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/losses"
	"lampswap/photometry/room"
)

// A Result is all that a job's study finds. Illuminance is in lx, power density in W/m².
type Result struct {
	Job                *job.Job
	Existing, Proposed System
	Replacement        *System // nil unless the job has that third way
	Verdicts           []Verdict
	Energy             Energy
	LifeCycle          *LifeCycle   // nil where too little is priced
	Years              []Years      // one a side, in their order
	Uncertainty        *Uncertainty // nil unless asked for
	Warnings           []string
	Cautions           []string
}

// A Side is one of the systems that are compared, with what the job says of it.
type Side struct {
	Name string // "existing", "proposed", "replacement"
	From *job.System
	*System
}

// Sides returns the systems that are compared, in order: the existing, the proposed, and the replacement if there is one.
func (r *Result) Sides() []Side {
	sides := []Side{{"existing", &r.Job.Existing, &r.Existing}, {"proposed", &r.Job.Proposed, &r.Proposed}}
	if r.Replacement != nil {
		sides = append(sides, Side{"replacement", r.Job.Replacement, r.Replacement})
	}
	return sides
}

// A System is the light of one of the two systems.
type System struct {
	Luminaires     int
	InputWattsEach float64
	PowerDensity   float64
	LampLumensEach float64 // initial, all lamps of one luminaire
	Efficiency     float64
	UpwardShare    float64 // of the luminaire's lumens
	Losses         losses.Factors
	LumenMethod    LumenMethod
	Grids          []Grid                // the work plane first
	Balance        *interreflect.Balance // of the light that bounces; nil without it
}

// A LumenMethod is the answer of the zonal cavity method, and the spacing check that goes with it.
type LumenMethod struct {
	cavity.Result
	InitialAverage, MaintainedAverage             float64
	SpacingCriterionAlong, SpacingCriterionAcross float64 // NaN where the luminaire sends no light straight down
	SpacingToHeightAlong, SpacingToHeightAcross   float64 // NaN for explicit positions
}

// A Grid is the light on one grid, row by row; NaN where a point lies inside a rack.
type Grid struct {
	room.Grid
	Emergency              bool      // lit by the luminaires that emergency power feeds
	Direct, Interreflected []float64 // initial, with the ballast factor
	Maintained             []float64
	Statistics             room.Statistics // of Maintained
}

// Progress is told what is being done and which part of it is done, 0 to 1. Its calls do not overlap.
type Progress func(step string, part float64)

// Run works the job out; progress may be nil. It errs if the context ends, with a *interreflect.MemoryError if the job asks for more
// than may be held, and with interreflect.ErrEndless if its surfaces absorb next to nothing.
func Run(ctx context.Context, j *job.Job, progress Progress) (*Result, error) {
	var enclosure *interreflect.Enclosure // the same for both systems
	if j.Interreflection {
		var err error
		if enclosure, err = interreflect.NewEnclosure(ctx, j.Room, j.Racks, interreflect.Options{Progress: progress}); err != nil {
			return nil, err
		}
	}
	return run(ctx, j, progress, inEnclosure(j, enclosure))
}

func run(ctx context.Context, j *job.Job, progress Progress, light lighter) (*Result, error) {
	r := &Result{Job: j}
	if j.Replacement != nil {
		r.Replacement = &System{}
	}
	for _, side := range r.Sides() {
		var err error
		if *side.System, err = solveBy(ctx, j, side.From, light); err != nil {
			return nil, err
		}
	}
	r.Verdicts = judge(r)
	r.Energy = energy(r)
	r.Energy.Emissions = emissions(r)
	r.LifeCycle = lifeCycle(r)
	r.Years = years(r)
	r.Warnings = warnings(r)
	r.Cautions = cautions(r)
	if j.Uncertainty.Asked {
		var err error
		if r.Uncertainty, err = RunUncertainty(ctx, r, progress); err != nil {
			return nil, err
		}
	}
	return r, nil
}

// A lighter works out the light of a source on grids: direct, and what bounces. What it returns may be kept by others too.
type lighter func(ctx context.Context, source direct.Source, grids []room.Grid) ([]Grid, *interreflect.Balance, error)

// inEnclosure is the lighter of a job whose room with its racks is the enclosure; nil where no light bounces.
func inEnclosure(j *job.Job, enclosure *interreflect.Enclosure) lighter {
	return func(ctx context.Context, source direct.Source, grids []room.Grid) ([]Grid, *interreflect.Balance, error) {
		return lit(ctx, j, source, grids, enclosure)
	}
}

func solve(ctx context.Context, j *job.Job, from *job.System, enclosure *interreflect.Enclosure) (System, error) {
	return solveBy(ctx, j, from, inEnclosure(j, enclosure))
}

func solveBy(ctx context.Context, j *job.Job, from *job.System, light lighter) (System, error) {
	area := j.Room.Length * j.Room.Width
	flux, upward := from.Luminaire.Distribution.Flux(), from.Luminaire.Distribution.FluxBetween(math.Pi/2, math.Pi)
	s := System{
		Luminaires:     len(from.Layout.Placements),
		InputWattsEach: from.InputWatts,
		PowerDensity:   float64(len(from.Layout.Placements)) * from.InputWatts / area,
		LampLumensEach: from.LampLumensEach(),
		Efficiency:     from.Luminaire.Efficiency(),
		UpwardShare:    upward / flux,
	}
	found, err := cavity.Solve(cavity.Room{Length: j.Room.Length, Width: j.Room.Width, Height: j.Room.Height, WorkPlane: j.Room.WorkPlane,
		MountingHeight: from.Layout.MountingHeight, Ceiling: j.Room.Reflectance.Ceiling, Walls: j.Room.Reflectance.Walls,
		Floor: j.Room.Reflectance.Floor}, cavity.FluxesOf(from.Luminaire))
	if err != nil {
		return System{}, err
	}
	s.Losses = lossFactors(j, from, s.UpwardShare, found.RoomCavityRatio)
	s.LumenMethod = lumenMethod(j, from, s, found)
	return s, s.pointsBy(ctx, j, from, light)
}

// kept is the share of the initial light, ballast factor in it, that is maintained.
func (s System) kept() float64 { return s.Losses.Total() / s.Losses.BallastFactor.Value }

func lumenMethod(j *job.Job, from *job.System, s System, found cavity.Result) LumenMethod {
	m := LumenMethod{Result: found}
	m.InitialAverage = from.BallastFactor * cavity.Average(s.Luminaires, s.LampLumensEach, found.CoefficientOfUtilization, j.Room.Length*j.Room.Width)
	m.MaintainedAverage = m.InitialAverage * s.kept()
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

func (s *System) points(ctx context.Context, j *job.Job, from *job.System, enclosure *interreflect.Enclosure) error {
	return s.pointsBy(ctx, j, from, inEnclosure(j, enclosure))
}

// pointsBy works out the light on each grid, and on the path out with the luminaires that emergency power feeds. Light is worked out
// for the luminaire as it was photometered and then scaled to its lamps and ballast, so that systems that differ in these only have it in
// common.
func (s *System) pointsBy(ctx context.Context, j *job.Job, from *job.System, light lighter) error {
	grids := append([]room.Grid{j.Room.WorkPlaneGrid(j.Spacing)}, j.Grids...)
	scale := from.BallastFactor * from.LampLumensEach() / from.Luminaire.LampLumens
	found, balance, err := light(ctx, direct.Source{Luminaire: from.Luminaire, Placements: from.Layout.Placements}, grids)
	if err != nil {
		return err
	}
	s.Grids = scaled(found, scale)
	if balance != nil {
		b := *balance
		b.Emitted, b.Arrived, b.Absorbed = b.Emitted*scale, b.Arrived*scale, b.Absorbed*scale
		s.Balance = &b
	}
	if e := j.Egress; e != nil {
		burning := direct.Source{Luminaire: from.Luminaire}
		for _, i := range e.Luminaires {
			burning.Placements = append(burning.Placements, from.Layout.Placements[i])
		}
		path := grids[slices.IndexFunc(grids, func(g room.Grid) bool { return g.Name == e.Grid })]
		path.Name = e.Name
		found, _, err := light(ctx, burning, []room.Grid{path})
		if err != nil {
			return err
		}
		found = scaled(found, scale*e.Share)
		found[0].Emergency = true
		s.Grids = append(s.Grids, found...)
	}
	for i := range s.Grids {
		s.Grids[i].maintain(s.kept())
	}
	return nil
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

// lit works out the initial light of a source on the grids: direct, and what bounces where there is an enclosure to bounce in.
func lit(ctx context.Context, j *job.Job, source direct.Source, grids []room.Grid, enclosure *interreflect.Enclosure) ([]Grid, *interreflect.Balance, error) {
	scene := direct.Scene{Sources: []direct.Source{source}, Racks: j.Racks}
	var bounced *interreflect.Solution
	var balance *interreflect.Balance
	if enclosure != nil {
		var err error
		if bounced, err = enclosure.Solve(ctx, scene); err != nil {
			return nil, nil, err
		}
		b := bounced.Balance()
		balance = &b
	}
	prepared := scene.Prepare()
	out := make([]Grid, len(grids))
	for i, g := range grids {
		out[i].Grid = g
		var err error
		if out[i].Direct, err = prepared.Illuminance(ctx, g); err != nil {
			return nil, nil, err
		}
		if bounced == nil {
			out[i].Interreflected = nothing(out[i].Direct)
		} else if out[i].Interreflected, err = bounced.Illuminance(ctx, g); err != nil {
			return nil, nil, err
		}
	}
	return out, balance, nil
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

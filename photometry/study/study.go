package study

import (
	"context"
	"math"

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
	Verdicts           []Verdict
	Energy             Energy
	Warnings           []string
	Cautions           []string
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
	Direct, Interreflected []float64 // initial, with the ballast factor
	Maintained             []float64
	Statistics             room.Statistics // of Maintained
}

// Progress is told what is being done and which part of it is done, 0 to 1. Its calls do not overlap.
type Progress func(step string, part float64)

// Run works the job out; progress may be nil. It errs if the context ends, with a *interreflect.MemoryError if the job asks for more
// than may be held, and with interreflect.ErrEndless if its surfaces absorb next to nothing.
func Run(ctx context.Context, j *job.Job, progress Progress) (*Result, error) {
	r := &Result{Job: j}
	var enclosure *interreflect.Enclosure // the same for both systems
	if j.Interreflection {
		var err error
		if enclosure, err = interreflect.NewEnclosure(ctx, j.Room, j.Racks, interreflect.Options{Progress: progress}); err != nil {
			return nil, err
		}
	}
	grids := append([]room.Grid{j.Room.WorkPlaneGrid(j.Spacing)}, j.Grids...)
	for _, side := range []struct {
		from *job.System
		to   *System
	}{{&j.Existing, &r.Existing}, {&j.Proposed, &r.Proposed}} {
		var err error
		if *side.to, err = solve(ctx, j, side.from, grids, enclosure); err != nil {
			return nil, err
		}
	}
	r.Verdicts = judge(r)
	r.Energy = energy(r)
	r.Warnings = warnings(r)
	r.Cautions = cautions(r)
	return r, nil
}

func solve(ctx context.Context, j *job.Job, from *job.System, grids []room.Grid, enclosure *interreflect.Enclosure) (System, error) {
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
	return s, s.points(ctx, j, from, grids, enclosure)
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

// points works out the light on each grid: direct, and what bounces where there is an enclosure to bounce in.
func (s *System) points(ctx context.Context, j *job.Job, from *job.System, grids []room.Grid, enclosure *interreflect.Enclosure) error {
	scene := direct.Scene{Sources: []direct.Source{{Luminaire: from.Emitted(), Placements: from.Layout.Placements}}, Racks: j.Racks}
	var bounced *interreflect.Solution
	if enclosure != nil {
		var err error
		if bounced, err = enclosure.Solve(ctx, scene); err != nil {
			return err
		}
		balance := bounced.Balance()
		s.Balance = &balance
	}
	prepared := scene.Prepare()
	for _, g := range grids {
		grid := Grid{Grid: g}
		var err error
		if grid.Direct, err = prepared.Illuminance(ctx, g); err != nil {
			return err
		}
		if bounced == nil {
			grid.Interreflected = nothing(grid.Direct)
		} else if grid.Interreflected, err = bounced.Illuminance(ctx, g); err != nil {
			return err
		}
		grid.maintain(s.kept())
		s.Grids = append(s.Grids, grid)
	}
	return nil
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

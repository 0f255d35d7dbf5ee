package study

import (
	"context"
	"math"

	"lampswap/photometry/cavity"
	"lampswap/photometry/direct"
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
	Grids          []Grid // the work plane first
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

// Run works the job out. It errs only if the context ends or the job asks for more than the machine is allowed to hold.
func Run(ctx context.Context, j *job.Job) (*Result, error) {
	r := &Result{Job: j}
	grids := append([]room.Grid{j.Room.WorkPlaneGrid(j.Spacing)}, j.Grids...)
	for _, side := range []struct {
		from *job.System
		to   *System
	}{{&j.Existing, &r.Existing}, {&j.Proposed, &r.Proposed}} {
		var err error
		if *side.to, err = solve(ctx, j, side.from, grids); err != nil {
			return nil, err
		}
	}
	r.Verdicts = judge(r)
	r.Energy = energy(r)
	r.Warnings = warnings(r)
	r.Cautions = cautions(r)
	return r, nil
}

func solve(ctx context.Context, j *job.Job, from *job.System, grids []room.Grid) (System, error) {
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
	s.Grids, err = points(ctx, j, from, s.kept(), grids)
	return s, err
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

// points works out the light on each grid.
func points(ctx context.Context, j *job.Job, from *job.System, kept float64, grids []room.Grid) ([]Grid, error) {
	scene := direct.Scene{Sources: []direct.Source{{Luminaire: from.Emitted(), Placements: from.Layout.Placements}}, Racks: j.Racks}.Prepare()
	out := make([]Grid, len(grids))
	for i, g := range grids {
		light, err := scene.Illuminance(ctx, g)
		if err != nil {
			return nil, err
		}
		out[i] = Grid{Grid: g, Direct: light, Interreflected: make([]float64, len(light)), Maintained: make([]float64, len(light))}
		for p, direct := range light {
			if math.IsNaN(direct) {
				out[i].Interreflected[p] = math.NaN()
			}
			out[i].Maintained[p] = (direct + out[i].Interreflected[p]) * kept
		}
		out[i].Statistics = room.Summarize(out[i].Maintained)
	}
	return out, nil
}

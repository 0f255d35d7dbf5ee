package study

import (
	"context"
	"math"

	"lampswap/photometry/job"
	"lampswap/photometry/losses"
	"lampswap/photometry/room"
)

// A Spot is a single point, m, at which light is asked for, with the unit normal of the side that receives it.
type Spot struct{ Position, Normal room.Vec }

// RunAt works the job out as Run does, and the initial light at spots besides, lx, with the ballast factor in it: a row a side, in their
// order. NaN is a spot inside a rack. It errs as Run does.
func RunAt(ctx context.Context, j *job.Job, spots []Spot, progress Progress) (r *Result, light [][]float64, err error) {
	asked := *j
	asked.Grids = append([]room.Grid(nil), j.Grids...)
	for _, s := range spots {
		asked.Grids = append(asked.Grids, s.grid())
	}
	if r, err = Run(ctx, &asked, progress); err != nil {
		return nil, nil, err
	}
	first := 1 + len(j.Grids)
	for _, side := range r.Sides() {
		row := make([]float64, len(spots))
		for i := range spots {
			g := side.Grids[first+i]
			row[i] = g.Direct[0] + g.Interreflected[0]
		}
		side.Grids = append(side.Grids[:first:first], side.Grids[first+len(spots):]...)
		light = append(light, row)
	}
	r.Job = j
	return r, light, nil
}

// grid is the spot as a grid of one cell.
func (s Spot) grid() room.Grid {
	const cell = 0.01 // m, of no consequence
	u := room.Vec{X: 1}
	if math.Abs(s.Normal.Z) < 1 {
		u = room.Vec{X: -s.Normal.Y, Y: s.Normal.X}.Scale(1 / math.Hypot(s.Normal.X, s.Normal.Y))
	}
	n := s.Normal
	v := room.Vec{X: n.Y*u.Z - n.Z*u.Y, Y: n.Z*u.X - n.X*u.Z, Z: n.X*u.Y - n.Y*u.X}
	g := room.Grid{Plane: room.Vertical, NX: 1, NY: 1, U: u, V: v, Normal: n, StepX: cell, StepY: cell}
	if u == (room.Vec{X: 1}) && n == (room.Vec{Z: 1}) {
		g.Plane = room.Horizontal
	}
	g.Origin = s.Position.Add(u.Scale(-cell / 2)).Add(v.Scale(-cell / 2))
	return g
}

// A Day is the state of an installation when it was measured. NaN is what is not known: then the factor is that of the job. All 0 but
// a NaN temperature is a new installation: lamps new, surfaces clean, no lamp out.
type Day struct {
	HoursBurnt          float64 // since the lamps were new
	MonthsSinceCleaning float64
	AmbientCelsius      float64
	FailedShare         float64 // of the lamps that are out
}

// LossesOn returns the loss factors of a side on a day. A factor that the job gives itself stays; so does one for which the day says nothing.
func (r *Result) LossesOn(side Side, d Day) losses.Factors {
	f := side.Losses
	f.TotalOverride = nil
	own := side.From.Losses
	if own.LampLumenDepreciation == nil && !math.IsNaN(d.HoursBurnt) {
		f.LampLumenDepreciation = lampsAfter(side.From, d.HoursBurnt)
	}
	upkeep := r.Job.Upkeep
	if !math.IsNaN(d.MonthsSinceCleaning) {
		years := d.MonthsSinceCleaning / 12
		if own.LuminaireDirtDepreciation == nil {
			f.LuminaireDirtDepreciation = losses.LuminaireDirt(side.From.Category, upkeep.Atmosphere, years)
		}
		if own.RoomSurfaceDirtDepreciation == nil {
			f.RoomSurfaceDirtDepreciation = losses.RoomSurfaceDirt(losses.DistributionOf(side.UpwardShare), upkeep.Atmosphere, years, side.LumenMethod.RoomCavityRatio)
		}
	}
	if own.Temperature == nil && !math.IsNaN(d.AmbientCelsius) {
		day := *r.Job
		day.Upkeep.AmbientCelsius = d.AmbientCelsius
		f.Temperature = temperature(&day, side.From).Factor
	}
	if !math.IsNaN(d.FailedShare) {
		f.LampBurnout = losses.Factor{Value: 1 - d.FailedShare, From: losses.FromJobFile, Detail: "lamps that were out on the day, taken as evenly spread"}
	}
	return f
}

// lampsAfter is the share of initial lumens after some hours of burning; 1 at none, whatever the lamp.
func lampsAfter(from *job.System, hours float64) losses.Factor {
	if hours == 0 {
		return losses.Factor{Value: 1, From: losses.FromTable, Detail: "new lamps"}
	}
	lamp := from.Lamp
	if lamp == nil || from.Luminaire.Absolute {
		return losses.Factor{Value: 1, From: losses.FromDefault, Detail: "the lamp is none of the list: no loss is counted for the hours burnt"}
	}
	f := losses.LampLumenDepreciation(lamp.InitialLumens, meanLumens(lamp), lamp.RatedLifeHours, hours, lamp.L70)
	f.Detail = lamp.Name + ": " + f.Detail
	return f
}

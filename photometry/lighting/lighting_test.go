package lighting_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/cavity"
	"lampswap/photometry/direct"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/longtest"
	"lampswap/photometry/losses"
	"lampswap/photometry/room"
)

// E = N Φ CU BF / A, with the coefficient of utilization put together by hand from the cavities of the room.
func TestLumenMethodByHand(t *testing.T) {
	r := run(t)
	m := r.Existing.LumenMethod
	const length, width = 24.0, 12.0
	ratio := func(height float64) float64 { return 5 * height * (length + width) / (length * width) }
	assert.InEpsilon(t, 2.0, ratio(3.2), rounding, "5 x 3.2 x 36 / 288")
	assert.InEpsilon(t, ratio(3.2), m.RoomCavityRatio, rounding)
	assert.InEpsilon(t, ratio(1), m.CeilingCavityRatio, rounding)
	assert.InEpsilon(t, ratio(0.8), m.FloorCavityRatio, rounding)
	ceiling := cavity.EffectiveReflectance(0.7, 0.5, cavity.ParallelFormFactor(length, width, 1), ratio(1))
	floor := cavity.EffectiveReflectance(0.2, 0.5, cavity.ParallelFormFactor(length, width, 0.8), ratio(0.8))
	assert.InEpsilon(t, ceiling, m.EffectiveCeilingReflectance, rounding)
	assert.InEpsilon(t, floor, m.EffectiveFloorReflectance, rounding)
	cu := cavity.Utilization(cavity.FluxesOf(r.Job.Existing.Luminaire).Share, 2, ceiling, 0.5, floor)
	assert.InEpsilon(t, cu, m.CoefficientOfUtilization, rounding)
	assert.InEpsilon(t, 24*4000*cu*0.9/288, m.InitialAverage, rounding)
	assert.InDelta(
		t, math.Pi*1000/4000, r.Existing.Efficiency, 1e-3,
		"a cosine of 1,000 cd is 1,000 π lm; the table is read in straight lines, 0.03 percent",
	)
	assert.Equal(t, 24, r.Existing.Luminaires)
	assert.InEpsilon(t, 24*60.0/288, r.Existing.PowerDensity, rounding)
	assert.Zero(t, r.Existing.UpwardShare)
}

// The total is the product of all factors, and maintained = initial x total / ballast factor, for the lumen
// method and at every point.
func TestLightLoss(t *testing.T) {
	r := run(
		t, upkeep,
		"[proposed.losses]\nlamp_lumen_depreciation = 0.91\nluminaire_dirt_depreciation = 0.92\n"+
			"room_surface_dirt_depreciation = 0.93\nlamp_burnout = 0.94\ntemperature = 1.05\nvoltage = 0.96\n"+
			"other = 0.97\n"+upkeep,
	)
	for _, s := range []lighting.System{r.Existing, r.Proposed} {
		product := 1.0
		for _, entry := range s.Losses.List() {
			product *= entry.Value
		}
		assert.InEpsilon(t, product, s.Losses.Total(), rounding)
		maintained(t, s)
	}
	assert.InEpsilon(t, 0.9*0.91*0.92*0.93*0.94*1.05*0.96*0.97, r.Proposed.Losses.Total(), rounding)
	for _, entry := range r.Proposed.Losses.List() {
		assert.Equal(t, losses.FromJobFile, entry.From, entry.Key)
	}
	assert.Equal(t, losses.FromDefault, r.Existing.Losses.LampLumenDepreciation.From)
	assert.Equal(t, 0.9, r.Existing.Losses.LampLumenDepreciation.Value, "no lamp is named")
	assert.Equal(t, losses.FromTable, r.Existing.Losses.LuminaireDirtDepreciation.From)
	assert.Equal(
		t, losses.LuminaireDirt(losses.CategoryIII, losses.Clean, 1).Value,
		r.Existing.Losses.LuminaireDirtDepreciation.Value,
	)
	assert.Equal(
		t, losses.RoomSurfaceDirt(losses.Direct, losses.Clean, 1, r.Existing.LumenMethod.RoomCavityRatio).Value,
		r.Existing.Losses.RoomSurfaceDirtDepreciation.Value,
	)
}

func maintained(t *testing.T, s lighting.System) {
	t.Helper()
	kept := s.Losses.Total() / s.Losses.BallastFactor.Value
	assert.InEpsilon(t, s.LumenMethod.InitialAverage*kept, s.LumenMethod.MaintainedAverage, rounding)
	for _, g := range s.Grids {
		for i := range g.Direct {
			if math.IsNaN(g.Direct[i]) {
				assert.True(t, math.IsNaN(g.Interreflected[i]) && math.IsNaN(g.Maintained[i]))
				continue
			}
			assert.InEpsilon(t, (g.Direct[i]+g.Interreflected[i])*kept, g.Maintained[i], rounding)
		}
	}
}

// A given total replaces the ballast factor too: initial light has it in, maintained light does not.
func TestGivenTotal(t *testing.T) {
	r := run(t, upkeep, "[proposed.losses]\ntotal = 0.63\nlamp_burnout = 0.5\n"+upkeep)
	p := r.Proposed
	assert.Equal(t, 0.63, p.Losses.Total())
	maintained(t, p)
	assert.InEpsilon(t, p.LumenMethod.InitialAverage/0.9*0.63, p.LumenMethod.MaintainedAverage, rounding)
	other := run(
		t, "ballast_factor = 0.9", "ballast_factor = 1.1", upkeep, "[proposed.losses]\ntotal = 0.63\n"+upkeep,
	).Proposed
	assert.InEpsilon(t, p.LumenMethod.MaintainedAverage, other.LumenMethod.MaintainedAverage, rounding)
	assert.InEpsilon(t, p.Grids[0].Statistics.Average, other.Grids[0].Statistics.Average, single)
	assert.InEpsilon(t, p.LumenMethod.InitialAverage*1.1/0.9, other.LumenMethod.InitialAverage, rounding)
}

// Light is in proportion to lamp lumens, number of lamps and ballast factor; efficiency and CU are not.
// Bounced light is in on purpose.
func TestProportions(t *testing.T) {
	for _, c := range []struct {
		name, old, new string
		factor         float64
	}{
		{"twice the lumens", "lamp_lumens = 2000.0", "lamp_lumens = 4000.0", 2},
		{"half the lamps", "lamps = 2", "lamps = 1", 0.5},
		{"ballast factor", "ballast_factor = 0.9", "ballast_factor = 1.2", 4.0 / 3},
	} {
		r := run(
			t, c.old, c.new, "interreflection = false", "interreflection = true", "spacing = 0.5", "spacing = 2",
		)
		e, p := r.Existing, r.Proposed
		assert.InEpsilon(t, c.factor*e.LumenMethod.InitialAverage, p.LumenMethod.InitialAverage, rounding, c.name)
		assert.InEpsilon(
			t, c.factor*e.LumenMethod.MaintainedAverage, p.LumenMethod.MaintainedAverage, rounding, c.name,
		)
		for i := range e.Grids[0].Direct {
			assert.InEpsilon(t, c.factor*e.Grids[0].Direct[i], p.Grids[0].Direct[i], single, c.name)
			assert.InEpsilon(t, c.factor*e.Grids[0].Interreflected[i], p.Grids[0].Interreflected[i], single, c.name)
			assert.InEpsilon(t, c.factor*e.Grids[0].Maintained[i], p.Grids[0].Maintained[i], single, c.name)
		}
		assert.InEpsilon(
			t, e.LumenMethod.CoefficientOfUtilization, p.LumenMethod.CoefficientOfUtilization, rounding, c.name,
		)
	}
}

// Relamped is what a solve of its own finds, but for the rounding of the candela; losses, watts and all.
func TestRelamped(t *testing.T) {
	r := run(t, "lamp_lumens = 2000.0\nballast_factor = 0.9\ninput_watts = 60.0",
		"lamp_lumens = 2600.0\nballast_factor = 1.1\ninput_watts = 50.0",
		upkeep, "[proposed.losses]\nvoltage = 0.9\n"+upkeep)
	got, want := r.Existing.Relamped(r.Job, &r.Job.Proposed), r.Proposed
	assert.InEpsilon(t, want.Grids[0].Statistics.Average, got.Grids[0].Statistics.Average, single)
	assert.InEpsilon(t, want.Grids[0].Statistics.Minimum, got.Grids[0].Statistics.Minimum, single)
	assert.InEpsilon(t, want.Grids[0].Statistics.Maximum, got.Grids[0].Statistics.Maximum, single)
	assert.InEpsilon(
		t, want.Grids[0].Statistics.MaximumToMinimum, got.Grids[0].Statistics.MaximumToMinimum, single,
	)
	assert.InEpsilon(t, want.LumenMethod.InitialAverage, got.LumenMethod.InitialAverage, rounding)
	assert.InEpsilon(t, want.LumenMethod.MaintainedAverage, got.LumenMethod.MaintainedAverage, rounding)
	assert.InEpsilon(t, want.PowerDensity, got.PowerDensity, rounding)
	assert.Equal(t, want.Losses, got.Losses)
	assert.Empty(t, got.Grids[0].Maintained)
	assert.NotEmpty(t, r.Existing.Grids[0].Maintained, "the system itself stays as it was")
	assert.NotEqual(t, r.Existing.Grids[0].Statistics.Average, got.Grids[0].Statistics.Average)
}

// Absolute photometry: its own lumens, whatever the lamps; efficiency 1 and the ballast factor 1.
func TestAbsolutePhotometry(t *testing.T) {
	r := run(t, `photometry = "diffuse.ies"`, `photometry = "absolute.ies"`)
	p := r.Proposed
	assert.Equal(t, 1.0, p.Efficiency)
	assert.Equal(t, 1.0, p.Losses.BallastFactor.Value)
	assert.InEpsilon(t, r.Existing.Efficiency*4000, p.LampLumensEach, rounding)
	assert.InEpsilon(t, r.Existing.LumenMethod.InitialAverage/0.9, p.LumenMethod.InitialAverage, rounding)
	assert.Contains(
		t, r.Job.Warnings,
		"proposed: lamp_lumens is ignored: absolute.ies is absolute photometry, of the luminaire as a whole",
	)
}

// Spacing is along and across the lamps, over the height above the work plane; explicit positions have none.
func TestSpacingToHeight(t *testing.T) {
	m := run(t).Proposed.LumenMethod
	assert.InEpsilon(t, 4/3.2, m.SpacingToHeightAlong, rounding)
	assert.InEpsilon(t, 3/3.2, m.SpacingToHeightAcross, rounding)
	assert.InDelta(t, 1.3, m.SpacingCriterionAlong, 0.05, "of a cosine: cos⁴γ = 1/2, 2 tan γ = 1.287")
	turned := run(t, `lamps_along = "length"`, `lamps_along = "width"`).Proposed.LumenMethod
	assert.InEpsilon(t, 3/3.2, turned.SpacingToHeightAlong, rounding)
	assert.InEpsilon(t, 4/3.2, turned.SpacingToHeightAcross, rounding)
	explicit := run(t, "rows = 4\ncolumns = 6\n", "positions = [[12.0, 6.0]]\n").Proposed.LumenMethod
	assert.True(t, math.IsNaN(explicit.SpacingToHeightAlong) && math.IsNaN(explicit.SpacingToHeightAcross))
	dark := run(t, `photometry = "diffuse.ies"`, `photometry = "uplight.ies"`).Proposed
	assert.True(t, math.IsNaN(dark.LumenMethod.SpacingCriterionAlong), "no light straight down")
	assert.InEpsilon(t, 1.0, dark.UpwardShare, rounding)
}

// The work plane comes first, and each grid's numbers are those of its maintained light, points inside racks
// left out.
func TestGrids(t *testing.T) {
	r := run(t, upkeep, upkeep, "[calculation]", `[[racks]]
corner = [4.0, 4.0]
size = [16.0, 1.0, 2.0]
[[grids]]
name = "face"
from = [4.0, 5.0]
to = [20.0, 5.0]
heights = [0.0, 2.0]
facing = 90.0
spacing = 1.0
[calculation]`)
	require.Len(t, r.Proposed.Grids, 2)
	work, face := r.Proposed.Grids[0], r.Proposed.Grids[1]
	assert.Equal(t, "work plane", work.Name)
	assert.Equal(t, []int{48, 24}, []int{work.NX, work.NY})
	assert.Equal(t, room.Summarize(work.Maintained), work.Statistics)
	assert.Equal(t, 48*24-32*2, work.Statistics.Points, "the rack stands on 32 by 2 points")
	assert.Equal(t, "face", face.Name)
	assert.Equal(t, []int{16, 2}, []int{face.NX, face.NY})
	assert.Equal(t, 32, face.Statistics.Points, "a rack's own face is not inside it")
	assert.Positive(t, face.Statistics.Minimum)
	maintained(t, r.Proposed)
	sum, count := 0.0, 0
	for _, v := range work.Maintained {
		if !math.IsNaN(v) {
			sum, count = sum+v, count+1
		}
	}
	assert.InEpsilon(t, sum/float64(count), work.Statistics.Average, rounding)
	assert.Nil(t, r.Proposed.Balance)
	for _, v := range work.Interreflected {
		assert.True(t, v == 0 || math.IsNaN(v), "interreflection = false")
	}
}

// A layout mirrored is a light mirrored.
func TestMirror(t *testing.T) {
	longtest.Check(t, 15, func(rt *rapid.T) {
		x, y := rapid.Float64Range(1, 23).Draw(rt, "x"), rapid.Float64Range(1, 11).Draw(rt, "y")
		one := func(x, y float64) lighting.Grid {
			j := run(t, "spacing = 0.5", "spacing = 3", `photometry = "diffuse.ies"`, `photometry = "narrow.ies"`).Job
			place := j.Proposed.Layout.Placements[:1]
			place[0].Position.X, place[0].Position.Y = x, y
			j.Proposed.Layout = job.Layout{Placements: place, MountingHeight: 4}
			return solved(t, j).Proposed.Grids[0]
		}
		a, b := one(x, y), one(24-x, 12-y)
		for i := range a.Direct {
			assert.InEpsilon(rt, a.Direct[i], b.Direct[len(b.Direct)-1-i], 1e-9)
		}
	})
}

// In a black room both methods must find the light that arrives straight, which is geometry. A dense lattice
// of diffuse luminaires is the light of a diffuse ceiling, so the point method can be held against the form
// factor of two parallel rectangles (closed form, Howell, A Catalog of Radiation Heat Transfer Configuration
// Factors, C-11), within 0.5 percent, the coarseness of lattice and grid. The lumen method has the published
// zonal multipliers for geometry, a fit over many rooms: it reads up to 4 percent low, never high.
func TestBlackRoom(t *testing.T) {
	for _, photometry := range []string{"diffuse.ies", "narrow.ies"} {
		for _, mounting := range []string{"3.0", "4.0", "8.0"} {
			r := run(t, "ceiling = 0.7, walls = 0.5, floor = 0.2", "ceiling = 0, walls = 0, floor = 0", "height = 5.0",
				"height = 9.0",
				"mounting_height = 4.0", "mounting_height = "+mounting,
				"rows = 4\ncolumns = 6", "rows = 24\ncolumns = 48", "diffuse.ies", photometry)
			p, m := r.Proposed, r.Proposed.LumenMethod
			apart := m.MaintainedAverage/p.Grids[0].Statistics.Average - 1
			t.Logf(
				"%s, room cavity ratio %.2f: lumen method %+.2f percent from the point method", photometry,
				m.RoomCavityRatio, 100*apart,
			)
			assert.True(t, -0.04 < apart && apart <= 0, "%s at %s m: %v", photometry, mounting, apart)
			assert.Zero(t, m.EffectiveCeilingReflectance)
			if photometry == "diffuse.ies" {
				flux := float64(p.Luminaires) * p.LampLumensEach * p.Efficiency * 0.9
				exact := flux / (24 * 12) * cavity.ParallelFormFactor(24, 12, r.Job.Proposed.Layout.MountingHeight-0.8)
				t.Logf(
					"point method %+.3f percent from the closed form",
					100*(room.Summarize(p.Grids[0].Direct).Average/exact-1),
				)
				assert.InEpsilon(t, exact, room.Summarize(p.Grids[0].Direct).Average, 0.005, mounting)
			}
		}
	}
}

func TestCancelled(t *testing.T) {
	j := run(t).Job
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	space, err := lighting.NewSpace(ctx, j, interreflect.Options{})
	require.NoError(t, err, "no light bounces, so there is nothing to prepare")
	_, err = space.Solve(ctx, &j.Existing)
	require.ErrorIs(t, err, context.Canceled)
}

// pitched are five rows of six luminaires under a pitched roof, as positions.
func pitched(heights ...float64) string {
	var places []string
	for row, z := range heights {
		for column := range 6 {
			places = append(
				places,
				fmt.Sprintf("[%g, %g, 0.0, %g]", 2+4*float64(column), 12*(float64(row)+0.5)/float64(len(heights)), z),
			)
		}
	}
	return "positions = [" + strings.Join(places, ", ") + "]\n"
}

// Luminaires at heights of their own are those luminaires one by one: what rows share is shared within a
// height only. The lumen method takes the mean height.
func TestHeightsOfTheirOwn(t *testing.T) {
	const lattice = "rows = 4\ncolumns = 6\n"
	r := run(t, lattice, pitched(3.5, 4, 4.5, 4, 3.5),
		"spacing = 0.5", "spacing = 0.25", "[calculation]", `[[grids]]
name = "face"
from = [4.0, 5.0]
to = [20.0, 5.0]
heights = [0.0, 5.0]
facing = 90.0
spacing = 0.5
[calculation]`)
	p := r.Proposed
	scene := direct.Scene{
		Sources: []direct.Source{
			{Luminaire: r.Job.Proposed.Emitted(), Placements: r.Job.Proposed.Layout.Placements},
		},
		Room: r.Job.Room.Sides(),
	}
	worst := 0.0
	for _, g := range p.Grids {
		for iy := range g.NY {
			for ix := range g.NX {
				want := scene.At(g.Point(ix, iy), g.Normal)
				worst = max(worst, math.Abs(g.Direct[iy*g.NX+ix]-want)/g.Statistics.Average)
			}
		}
	}
	t.Logf("largest deviation from luminaire by luminaire: %.2g of the average", worst)
	assert.Less(
		t, worst, 1e-3,
		"discretisation: openings are cut until the light stands within 0.1 percent (package direct)",
	)
	assert.InEpsilon(
		t, 5*3.1*36/288, p.LumenMethod.RoomCavityRatio, rounding,
		"3.1 m, the mean of 2.7, 3.2, 3.7, 3.2 and 2.7, above the plane",
	)
	assert.True(t, math.IsNaN(p.LumenMethod.SpacingToHeightAlong))

	flat := run(t, lattice, "rows = 5\ncolumns = 6\n")
	same := run(t, lattice, pitched(4, 4, 4, 4, 4))
	assert.Equal(t, flat.Proposed.Grids[0].Statistics, same.Proposed.Grids[0].Statistics)
	lower := run(t, lattice, pitched(3, 4, 4.5, 4, 3))
	assert.Less(
		t, lower.Proposed.Grids[0].Statistics.MaximumToMinimum, flat.Proposed.Grids[0].Statistics.MaximumToMinimum,
		"eaves bring light to the walls",
	)
}

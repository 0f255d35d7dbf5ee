package job_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/catalog"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/losses"
	"lampswap/photometry/room"
)

// The job file of the contract.
const contract = `title = "Dockside parts store, north bay"
units = "imperial"                      # or "metric"

[room]
length = 120.0
width = 60.0
height = 18.0
work_plane = 2.5                        # height of the task plane; default 2.5 ft (0.76 m)
reflectance = { ceiling = 0.50, walls = 0.30, floor = 0.20 }

[layout]                                # where the luminaires hang; a swap keeps the positions
mounting_height = 16.0
rows = 6                                # along y, half a spacing from the walls
columns = 12                            # along x
lamps_along = "length"                  # lamp axis parallel to the room's length, or "width"
# positions = [[10.0, 5.0], [20.0, 5.0, 90.0]]   # instead of rows/columns: x, y, optional rotation

[[racks]]                               # optional solid blocks on the floor
corner = [10.0, 8.0]
size = [90.0, 4.0, 12.0]                # along x, along y, height
reflectance = 0.30
repeat = { count = 4, step = [0.0, 14.0] }

[existing]                              # before
fixture = "strip-4in"                   # a built-in generic fixture, or: photometry = "file.ies" (beside the job file)
lamp = "F96T12"                         # from the lamp list, or give lamp_lumens
lamps = 2
ballast = "magnetic"                    # from the ballast list, or give ballast_factor and input_watts

[proposed]                              # after; a system may override the luminaires' layout with a [proposed.layout] of its own
photometry = "tandem-t8.ies"
lamps = 4
lamp_lumens = 2800.0                    # initial lumens of one lamp
ballast_factor = 0.88
input_watts = 112.0

[proposed.losses]                       # any factor given here replaces the computed one; ` + "`total`" + ` replaces them all
lamp_lumen_depreciation = 0.92
# luminaire_dirt_depreciation, room_surface_dirt_depreciation, lamp_burnout, temperature, voltage, other, total

[upkeep]
hours_per_year = 4000.0
relamp_hours = 16000.0
clean_months = 24.0
atmosphere = "clean"                    # very-clean, clean, medium, dirty, very-dirty
ambient_temperature = 60.0              # deg F, or deg C when metric

[calculation]
spacing = 2.0                           # work-plane grid spacing
interreflection = true

[[grids]]                               # more grids than the work plane
name = "aisle 2, north face"
from = [10.0, 12.0]
to = [100.0, 12.0]
heights = [0.5, 11.5]
facing = 90.0
spacing = 1.0

[[criteria]]
level = "warehouse-active-bulky"        # a published level from the list, or a rule of the owner's own:
[[criteria]]
name = "owner's lease"
grid = "work plane"
statistic = "average"                   # average, minimum, maximum, average_to_minimum, maximum_to_minimum
at_least = 20.0                         # or at_most

[energy]
price_per_kwh = 0.11
demand_price_per_kw_month = 9.0
rebate = 4000.0
installed_cost = 21000.0
`

func TestContractJobRoom(t *testing.T) {
	j := read(t, contract)
	assert.Equal(t, "Dockside parts store, north bay", j.Title)
	assert.True(t, j.Imperial)
	assert.InDelta(t, 36.576, j.Room.Length, rounding)
	assert.InDelta(t, 18.288, j.Room.Width, rounding)
	assert.InDelta(t, 5.4864, j.Room.Height, rounding)
	assert.InDelta(t, 0.762, j.Room.WorkPlane, rounding)
	assert.Equal(t, room.Reflectances{Ceiling: 0.5, Walls: 0.3, Floor: 0.2}, j.Room.Reflectance)
	assert.InDelta(t, 0.6096, j.Spacing, rounding)
	assert.True(t, j.Interreflection)

	require.Len(t, j.Racks, 4, "the count has the first in it")
	for i, rack := range j.Racks {
		assert.InDelta(t, 10*foot, rack.Corner.X, rounding)
		assert.InDelta(t, (8+14*float64(i))*foot, rack.Corner.Y, rounding)
		assert.Zero(t, rack.Corner.Z)
		assert.InDelta(t, 0, rack.Size.Sub(room.Vec{X: 90, Y: 4, Z: 12}.Scale(foot)).Length(), rounding)
		assert.Equal(t, 0.3, rack.Reflectance)
		assert.Zero(t, rack.Transmittance, "solid")
	}

	require.Len(t, j.Grids, 1)
	g := j.Grids[0]
	assert.Equal(t, "aisle 2, north face", g.Name)
	assert.Equal(t, room.Vertical, g.Plane)
	assert.Equal(t, []int{90, 11}, []int{g.NX, g.NY})
	assert.InDelta(t, 0, g.Point(0, 0).Sub(room.Vec{X: 10.5, Y: 12, Z: 1}.Scale(foot)).Length(), rounding)
	assert.InDelta(t, 0, g.Normal.Sub(room.Vec{Y: 1}).Length(), rounding)
}

func TestContractJobSystems(t *testing.T) {
	j := read(t, contract)
	lamp, _ := catalog.FindLamp("F96T12")
	ballast, _ := catalog.FindBallast(lamp, 2, "magnetic")
	e, p := j.Existing, j.Proposed
	for name, s := range map[string]job.System{"existing": e, "proposed": p} {
		assert.Equal(t, []int{6, 12}, []int{s.Layout.Rows, s.Layout.Columns}, name)
		assert.InDelta(t, 16*foot, s.Layout.MountingHeight, rounding, name)
		assert.False(t, s.Layout.LampsAlongY, name)
		require.Len(t, s.Layout.Placements, 72, name)
		first := s.Layout.Placements[0]
		assert.InDelta(t, 0, first.Position.Sub(room.Vec{X: 5, Y: 5, Z: 16}.Scale(foot)).Length(), rounding, name)
		assert.Zero(t, first.Rotation, name)
	}
	require.NotNil(t, e.Lamp)
	assert.Equal(t, lamp.Name, e.Lamp.Name)
	assert.Equal(t, &ballast, e.Ballast)
	assert.Equal(t, losses.FromTable, e.BallastOrigin)
	assert.Equal(t, losses.Listed("f96t12-2-magnetic of the ballast list, from memory, unverified"), e.BallastFrom)
	assert.Equal(t, 2, e.Lamps)
	assert.Equal(t, lamp.InitialLumens, e.LampLumens)
	assert.Equal(t, 2*lamp.InitialLumens, e.LampLumensEach())
	assert.Equal(t, 0.94, e.BallastFactor)
	assert.Equal(t, 158.0, e.InputWatts)
	assert.Equal(t, "computed from the cross-section strip-4in, an estimate", e.Photometry)
	assert.Equal(t, 2*lamp.InitialLumens, e.Luminaire.LampLumens)
	assert.InDelta(t, 8*foot, e.Luminaire.Opening.Length, 1e-9, "an 8 ft lamp")
	assert.Equal(t, e.SuggestedCategory, e.Category.String())
	assert.Equal(t, job.Overrides{}, e.Losses)

	require.NotNil(t, p.Lamp)
	assert.Equal(t, []any{"2,800 lm", true, 0.9 * 2800}, []any{p.Lamp.Name, p.Lamp.Typed, p.Lamp.Mean()}, "of which nothing else is known")
	assert.Nil(t, p.Ballast)
	assert.Equal(t, losses.FromJobFile, p.BallastOrigin)
	assert.Equal(t, 4, p.Lamps)
	assert.Equal(t, 2800.0, p.LampLumens)
	assert.Equal(t, 11200.0, p.LampLumensEach())
	assert.Equal(t, 0.88, p.BallastFactor)
	assert.Equal(t, 112.0, p.InputWatts)
	assert.Equal(t, "tandem-t8.ies", p.Photometry)
	assert.Equal(t, 11600.0, p.Luminaire.LampLumens)
	require.NotNil(t, p.Losses.LampLumenDepreciation)
	assert.Equal(t, 0.92, *p.Losses.LampLumenDepreciation)
	assert.Nil(t, p.Losses.Total)
}

func TestContractJobUse(t *testing.T) {
	j := read(t, contract)
	assert.Equal(t, 4000.0, j.Upkeep.HoursPerYear)
	assert.Equal(t, 16000.0, j.Upkeep.Care.RelampHours)
	assert.Equal(t, 2.0, j.Upkeep.Care.CleanYears)
	assert.Equal(t, losses.Clean, j.Upkeep.Atmosphere)
	assert.InDelta(t, 140.0/9, j.Upkeep.AmbientCelsius, rounding, "60 °F")
	assert.Equal(t, []float64{0.11, 9, 4000, 21000},
		[]float64{*j.Tariff.PricePerKWh, *j.Tariff.DemandPricePerKWMonth, *j.Proposed.Costs.Rebate, *j.Proposed.Costs.InstalledCost})

	require.Len(t, j.Criteria, 2)
	assert.Equal(t, "work plane", j.Criteria[0].Grid)
	assert.Equal(t, levels.Footcandles, j.Criteria[0].Unit)
	assert.Equal(t, 10.0, j.Criteria[0].Required)
	assert.Equal(t, levels.Criterion{Name: "owner's lease", Grid: "work plane", Statistic: levels.Average, Required: 20, Unit: levels.Footcandles,
		AtLeast: true, Source: "set by the owner"}, j.Criteria[1])

	var keys []string
	for _, d := range j.Defaults {
		keys = append(keys, d.Key)
	}
	assert.Equal(t, []string{"racks[0].transmittance", "existing.lamp_lumens", "existing.end_to_end", "existing.maintenance_category", "proposed.lamp_kind", "proposed.maintenance_category", "upkeep.judged_at", "observers", "criteria[0].grid",
		"energy.demand_months", "energy.demand_share", "energy.heating_cooling_factor", "currency", "life_cycle.years", "life_cycle.discount_rate", "life_cycle.energy_escalation"}, keys)
}

// The candela used are tabulated x ballast factor x (job lamps x job lumens) / (file lamps x file lumens).
func TestEmitted(t *testing.T) {
	p := read(t, contract).Proposed
	share := 0.88 * (4 * 2800.0) / (4 * 2900)
	assert.InDelta(t, 2400*share, p.Emitted().Distribution.Intensity(0, 0), 1e-9)
	assert.InDelta(t, 1800*share, p.Emitted().Distribution.Intensity(radians(90), radians(45)), 1e-9)
	assert.Equal(t, 11200.0, p.Emitted().LampLumens)
	assert.InDelta(t, 2400, p.Luminaire.Distribution.Intensity(0, 0), 1e-9, "the luminaire itself is as photometered")
}

// The least that a job must say.
const minimal = `[room]
length = 40
width = 20
height = 15
[layout]
mounting_height = 12
rows = 2
columns = 4
[existing]
photometry = "strip.ies"
[proposed]
photometry = "strip.ies"
`

// unsaid and midLife are what is taken of the lamps' age where the job says nothing of it, byRule who looks.
var (
	unsaid  = job.Default{Key: "upkeep.relamp_hours", Value: "not given", Reason: "fluorescent lamps are replaced as they fail, LED tubes at the end of their L70 life"}
	midLife = job.Default{Key: "upkeep.judged_at", Value: `"mid-life"`, Reason: "every lamp at 40 percent of its own rated life: fluorescent by its mean lumens, " +
		"LED at 0.70^0.40 = 0.867 of its lumens, exponential through L70, assumed"}
	byRule = job.Default{Key: "observers", Value: "8 by rule", Reason: "who looks in from the middle of each wall, seated and standing"}
)

func TestDefaults(t *testing.T) {
	j := read(t, minimal)
	assert.Equal(t, []job.Default{
		{"units", `"imperial"`, "feet and footcandles"},
		{"title", `"Untitled job"`, "no title given"},
		{"room.work_plane", "2.5", "the usual height"},
		{"room.reflectance.ceiling", "0.5", "a usual value of a room in use, assumed; look at the surfaces"},
		{"room.reflectance.walls", "0.3", "a usual value of a room in use, assumed; look at the surfaces"},
		{"room.reflectance.floor", "0.2", "a usual value of a room in use, assumed; look at the surfaces"},
		{"layout.lamps_along", `"length"`, "lamps parallel to the room's length"},
		{"upkeep.hours_per_year", "4000", "two shifts on weekdays, assumed"},
		{"upkeep.clean_months", "24", "luminaires are cleaned every two years, assumed"},
		{"upkeep.atmosphere", `"medium"`, "assumed; sources differ, from clean to dirty, for one and the same kind of room"},
		{"upkeep.ambient_temperature", "77", "°F at which most lamps are rated"},
		{"existing.lamp_kind", `"fluorescent"`, `taken for a lamp that is none of the list; an LED tube is lamp_kind = "led"`},
		{"existing.lamps", "4", "as in the photometric file"},
		{"existing.lamp_lumens", "2900", "as in the photometric file"},
		{"existing.mean_lumens", "2610", "not known: 90 percent of the initial lumens, assumed"},
		{"existing.ballast_factor", "0.88", "as in the photometric file"},
		{"existing.input_watts", "112", "as in the photometric file"},
		{"existing.maintenance_category", `"III"`, "from 0 percent upward light; a bare strip is I"},
		{"proposed.lamp_kind", `"fluorescent"`, `taken for a lamp that is none of the list; an LED tube is lamp_kind = "led"`},
		{"proposed.lamps", "4", "as in the photometric file"},
		{"proposed.lamp_lumens", "2900", "as in the photometric file"},
		{"proposed.mean_lumens", "2610", "not known: 90 percent of the initial lumens, assumed"},
		{"proposed.ballast_factor", "0.88", "as in the photometric file"},
		{"proposed.input_watts", "112", "as in the photometric file"},
		{"proposed.maintenance_category", `"III"`, "from 0 percent upward light; a bare strip is I"},
		unsaid, midLife,
		{"calculation.spacing", "2", "grid spacing on the work plane"},
		{"calculation.interreflection", "true", "light that bounces is part of the light"},
		byRule,
	}, j.Defaults)
	assert.Empty(t, j.Warnings)
	assert.InDelta(t, 2.5*foot, j.Room.WorkPlane, rounding)
	assert.InDelta(t, 25, j.Upkeep.AmbientCelsius, rounding)

	metric := read(t, "units = \"metric\"\n"+minimal)
	assert.Equal(t, 0.76, metric.Room.WorkPlane)
	assert.Equal(t, 0.5, metric.Spacing)
	assert.Equal(t, 25.0, metric.Upkeep.AmbientCelsius)
}

// A default as it is listed can be written into the file, and changes nothing.
func TestDefaultsWrittenOut(t *testing.T) {
	j := read(t, minimal)
	full := read(t, `units = "imperial"
title = "Untitled job"
[room]
length = 40
width = 20
height = 15
work_plane = 2.5
reflectance = { ceiling = 0.5, walls = 0.3, floor = 0.2 }
[layout]
mounting_height = 12
rows = 2
columns = 4
lamps_along = "length"
[existing]
photometry = "strip.ies"
lamps = 4
lamp_kind = "fluorescent"
lamp_lumens = 2900
ballast_factor = 0.88
input_watts = 112
maintenance_category = "III"
[proposed]
photometry = "strip.ies"
lamps = 4
lamp_kind = "fluorescent"
lamp_lumens = 2900
ballast_factor = 0.88
input_watts = 112
maintenance_category = "III"
[upkeep]
hours_per_year = 4000
clean_months = 24
atmosphere = "medium"
ambient_temperature = 77
judged_at = "mid-life"
[calculation]
spacing = 2
interreflection = true
`)
	const unknown = "not known: 90 percent of the initial lumens, assumed"
	require.Equal(t, []job.Default{{"existing.mean_lumens", "2610", unknown}, {"proposed.mean_lumens", "2610", unknown}, unsaid, byRule}, full.Defaults)
	assert.NotEqual(t, j.InputsDigest, full.InputsDigest, "another text")
	j.Defaults, full.Defaults, j.InputsDigest, full.InputsDigest = nil, nil, "", ""
	assert.True(t, j.Existing.Lamp.Same(*full.Existing.Lamp) && j.Proposed.Lamp.Same(*full.Proposed.Lamp))
	for _, s := range []*job.System{&j.Existing, &j.Proposed, &full.Existing, &full.Proposed} {
		s.BallastOrigin, s.BallastFrom, s.Lamp = "", nil, nil // its figures may be NaN, which equal nothing
	}
	assert.Equal(t, j, full)
}

// The same job in feet and in metres is the same job.
func TestUnits(t *testing.T) {
	imperial := read(t, minimal+"[upkeep]\nambient_temperature = 50\n[[criteria]]\nat_least = 10\n[[criteria]]\nstatistic = \"average_to_minimum\"\nat_most = 3\n[calculation]\nspacing = 2\n")
	metric := read(t, `units = "metric"
[room]
length = 12.192
width = 6.096
height = 4.572
work_plane = 0.762
[layout]
mounting_height = 3.6576
rows = 2
columns = 4
[existing]
photometry = "strip.ies"
[proposed]
photometry = "strip.ies"
[upkeep]
ambient_temperature = 10
[[criteria]]
at_least = 107.63910416709722   # 10 fc
[[criteria]]
statistic = "average_to_minimum"
at_most = 3
[calculation]
spacing = 0.6096
`)
	assert.InDelta(t, imperial.Room.Length, metric.Room.Length, rounding)
	assert.InDelta(t, imperial.Room.WorkPlane, metric.Room.WorkPlane, rounding)
	assert.InDelta(t, imperial.Spacing, metric.Spacing, rounding)
	assert.InDelta(t, imperial.Upkeep.AmbientCelsius, metric.Upkeep.AmbientCelsius, rounding)
	for i, p := range imperial.Existing.Layout.Placements {
		assert.InDelta(t, 0, p.Position.Sub(metric.Existing.Layout.Placements[i].Position).Length(), rounding)
	}
	require.Len(t, metric.Criteria, 2)
	for i := range metric.Criteria {
		assert.InEpsilon(t, imperial.Criteria[i].RequiredIn(false), metric.Criteria[i].RequiredIn(false), rounding)
	}
	assert.Equal(t, levels.Ratio, metric.Criteria[1].Unit)
	assert.Equal(t, levels.Lux, metric.Criteria[0].Unit)
}

func TestReadFile(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(folder, "ies"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(folder, "ies", "strip.ies"), []byte(stripIES), 0o600))
	path := filepath.Join(folder, "bay.toml")
	require.NoError(t, os.WriteFile(path, []byte(replaced(t, minimal, "[existing]\nphotometry = \"strip.ies\"", "[existing]\nphotometry = \"ies/strip.ies\"")), 0o600))
	_, err := job.ReadFile(path)
	require.EqualError(t, err, path+`:12:14: proposed.photometry: "strip.ies" cannot be read (no such file or directory), want an LM-63 file beside the job file`)
	require.NoError(t, os.WriteFile(filepath.Join(folder, "strip.ies"), []byte(stripIES), 0o600))
	j, err := job.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "ies/strip.ies", j.Existing.Photometry)
	_, err = job.ReadFile(filepath.Join(folder, "none.toml"))
	require.ErrorIs(t, err, os.ErrNotExist)
}

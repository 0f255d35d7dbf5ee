package interreflect_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry"
	"lampswap/photometry/cavity"
	"lampswap/photometry/direct"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/longtest"
	"lampswap/photometry/room"
)

// The zonal cavity method against the point method in ten empty rooms of 1.6 to 1, cosine luminaires on the
// ceiling: two methods that share nothing but the distribution. The zonal multipliers of the published
// procedure are a fit, not geometry (constants from memory, unverified): it reads up to 2 percent low at
// middle ratios. In tall rooms it reads high, since its direct ratio for a cosine ceiling exceeds the exact
// form factor of the room, .2235 against .2028 at ratio 10, 10.2 percent. So 5 percent is allowed up to a
// room cavity ratio of 5, and beyond it those 10.2 percent and one more for what bounces.
func TestZonalCavityAgainstPoints(t *testing.T) {
	var verticalDeg, row []float64
	for g := 0.0; g <= 90; g++ {
		verticalDeg, row = append(verticalDeg, g), append(row, max(0, 1000*math.Cos(g*math.Pi/180)))
	}
	d, err := photometry.NewDistribution([]float64{0}, verticalDeg, [][]float64{row})
	require.NoError(t, err)
	lamp := photometry.Luminaire{Distribution: d, LampLumens: d.Flux()}
	const height = 3.0
	for _, ratio := range longtest.Pick([]float64{1, 3, 10}, []float64{0.5, 1, 1.5, 2, 3, 4, 5, 6, 8, 10}) {
		width := 5 * height * 2.6 / (1.6 * ratio) // from ratio = 5 h (L + W) / (L W), L = 1.6 W
		r := room.Room{
			Length: 1.6 * width, Width: width, Height: height,
			Reflectance: room.Reflectances{Ceiling: 0.8, Walls: 0.5, Floor: 0.2},
		}
		rows := int(math.Ceil(width / (0.4 * height)))
		places := r.Lattice(rows, int(math.Ceil(1.6*float64(rows))), height, 0)
		scene := direct.Scene{Sources: []direct.Source{{Luminaire: lamp, Placements: places}}}
		average := meanOnFloor(t, r, scene)
		points := average * r.Length * r.Width / (float64(len(places)) * lamp.LampLumens)
		zonal := cavity.Utilization(cavity.FluxesOf(lamp).Share, ratio, 0.8, 0.5, 0.2)
		t.Logf(
			"room cavity ratio %4.1f: zonal cavity %.3f, points %.3f, deviation %+.1f percent", ratio, zonal, points,
			100*(zonal/points-1),
		)
		allowed := 0.05
		if ratio > 5 {
			allowed = 0.112
		}
		assert.InEpsilon(t, points, zonal, allowed, "room cavity ratio %v", ratio)
	}
}

func meanOnFloor(t *testing.T, r room.Room, scene direct.Scene) float64 {
	t.Helper()
	g := r.WorkPlaneGrid(min(r.Width/30, 0.25))
	solution, err := interreflect.Solve(t.Context(), r, scene, interreflect.Options{})
	require.NoError(t, err)
	light, err := scene.Illuminance(t.Context(), g)
	require.NoError(t, err)
	bounced, err := solution.Illuminance(t.Context(), g)
	require.NoError(t, err)
	for i := range light {
		light[i] += bounced[i]
	}
	return room.Summarize(light).Average
}

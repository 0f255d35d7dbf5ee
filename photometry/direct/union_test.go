package direct_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry"
	"lampswap/photometry/direct"
	"lampswap/photometry/room"
)

// Racks that touch, cross, share volume and are there twice: a strip's light at the points of a grid is that
// of the plain sum, a point's the inverse square behind what the racks let through, and none falls where they
// cover the grid.
func TestRacksThatShareVolume(t *testing.T) {
	ctx := t.Context()
	d, err := photometry.NewDistribution([]float64{0}, []float64{0, 180}, [][]float64{{100, 100}})
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		whole := func(name string, least, most int) float64 {
			return float64(rapid.IntRange(least, most).Draw(t, name))
		}
		var racks []room.Rack
		for range rapid.IntRange(1, 5).Draw(t, "racks") {
			racks = append(racks, room.Rack{Corner: room.Vec{X: whole("x", 0, 8), Y: whole("y", 0, 6)},
				Size:          room.Vec{X: whole("long", 1, 6), Y: whole("wide", 1, 4), Z: whole("high", 1, 3)},
				Transmittance: rapid.SampledFrom([]float64{0, 0.3, 0.3, 0.01, 0.6}).Draw(t, "transmittance")})
		}
		racks = append(racks, racks[rapid.IntRange(0, len(racks)-1).Draw(t, "twice")])
		places := []room.Placement{
			{Position: room.Vec{X: 1.3, Y: 2.2, Z: 3.6}},
			{Position: room.Vec{X: 7.7, Y: 6.1, Z: 3.6}, Rotation: math.Pi / 2},
		}
		g := room.HorizontalGrid("plane", room.Vec{X: 0.017, Y: 0.013}, room.Vec{X: 10.017, Y: 8.013}, 0.8, 1)
		between := room.NewObstructions(racks)
		for _, o := range []photometry.Opening{{}, {Length: 1.2}} {
			scene := direct.Scene{
				Racks: racks,
				Sources: []direct.Source{
					{Luminaire: photometry.Luminaire{Distribution: d, Opening: o}, Placements: places},
				},
			}
			light, err := scene.Illuminance(ctx, g)
			require.NoError(t, err)
			for i, x := range light {
				p := g.Point(i%g.NX, i/g.NX)
				if slices.ContainsFunc(racks, func(r room.Rack) bool { return r.Contains(p) }) {
					require.True(t, math.IsNaN(x), "%v", p)
					continue
				}
				want := scene.At(p, g.Normal)
				require.InDelta(t, want, x, 3e-3*want+1e-3, "%v", p) // faint light behind many racks
				if o.Length > 0 {
					continue
				}
				plain := 0.0
				for _, place := range places {
					v := place.Position.Sub(p)
					one := 100 * v.Z / math.Pow(v.Length(), 3)
					for _, b := range between.Boxes {
						if b.Hides(p, place.Position) {
							one *= b.Passes
						}
					}
					plain += one
				}
				require.InDelta(t, plain, x, 1e-4*plain+1e-3, "%v", p) // resampling
			}
		}
	})
}

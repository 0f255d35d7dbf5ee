package interreflect

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"lampswap/photometry/room"
)

// nearestOfAll asks every rack.
func nearestOfAll(e *Enclosure, r *room.Ray) hit {
	h := e.wall(r)
	for i := range e.racks {
		if s, ok := e.crosses(i, r, h.t); ok && s.t > -touching {
			h = s.hit
		}
	}
	return h
}

// Grid traversal finds what asking every rack finds, from open places and from faces, among racks that may
// touch, overlap, hang and leave the room.
func TestTraversalMeetsTheNearestRack(t *testing.T) {
	r := room.Room{Length: 10, Width: 8, Height: 5}
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.IntRange(-1, 9)
		var racks []room.Rack
		for range rapid.IntRange(1, 6).Draw(t, "racks") {
			racks = append(racks, room.Rack{Corner: room.Vec{
				X: float64(whole.Draw(t, "x")), Y: float64(whole.Draw(t, "y")),
			},
				Size: room.Vec{X: float64(rapid.IntRange(1, 5).Draw(t, "length")),
					Y: float64(rapid.IntRange(1, 3).Draw(t, "width")),
					Z: float64(rapid.IntRange(1, 4).Draw(t, "height"))}})
			if k := &racks[len(racks)-1]; rapid.Bool().Draw(t, "hangs") {
				k.Corner.Z = min(float64(rapid.IntRange(1, 4).Draw(t, "bottom")), 5-k.Size.Z)
			}
		}
		e := &Enclosure{room: r, racks: racks, between: room.NewObstructions(racks), under: make([]int, len(racks))}
		for i := range racks {
			if racks[i].Hangs() {
				e.under[i] = roomFaces + rackSides*len(racks) + i
			}
		}
		e.solids = room.NewSolids(racks)
		// off the edges
		part := rapid.Custom(
			func(t *rapid.T) float64 { return 0.0123 + 0.97*rapid.Float64Range(0, 1).Draw(t, "part") },
		)
		from := room.Vec{
			X: 10 * part.Draw(t, "from x"), Y: 8 * part.Draw(t, "from y"), Z: 5 * part.Draw(t, "from z"),
		}
		z, turn := 2*part.Draw(t, "z")-1, 2*math.Pi*part.Draw(t, "turn")
		towards := room.Vec{X: math.Sqrt(1-z*z) * math.Cos(turn), Y: math.Sqrt(1-z*z) * math.Sin(turn), Z: z}
		if side := rapid.IntRange(0, 6).Draw(t, "side"); side < 6 { // from a face of the first rack
			k, far := racks[0], racks[0].Far()
			on := func(from, to, part float64) float64 { return from + (to-from)*part }
			at := [3]float64{
				on(k.Corner.X, far.X, from.X/10), on(k.Corner.Y, far.Y, from.Y/8), on(k.Corner.Z, far.Z, from.Z/5),
			}
			a := [6]axis{axisZ, axisX, axisX, axisY, axisY, axisZ}[side]
			at[a] = [6]float64{far.Z, k.Corner.X, far.X, k.Corner.Y, far.Y, k.Corner.Z}[side]
			outward := [6]float64{1, -1, 1, -1, 1, -1}[side]
			if along(towards, a)*outward < 0 {
				towards = towards.Sub(unit(a).Scale(2 * along(towards, a)))
			}
			from = room.Vec{X: at[0], Y: at[1], Z: at[2]}
		}
		if !e.within(from) || !e.open(from) {
			t.Skip("inside a rack or outside the room")
		}
		line := room.NewRay(from, towards)
		want, got := nearestOfAll(e, &line), e.nearest(&line)
		// rounding; racks that share a place share its light, too
		require.InDelta(t, want.t, got.t, 1e-9, "%+v, %+v", want, got)
		below := func(h hit) bool { return h.face >= roomFaces+rackSides*len(racks) || h.face == ceiling }
		require.Equal(t, below(want), below(got), "%+v, %+v", want, got)
		way := e.wall(&line).t
		var passed []int32
		e.solids.March(&line, way, func(racks []int32, _ float64) bool {
			passed = append(passed, racks...)
			return true
		})
		for i := range racks {
			if s, ok := e.crosses(i, &line, way); ok && s.to > touching {
				require.Contains(t, passed, int32(i), "rack %d is crossed from %g to %g m", i, s.t, s.to)
			}
		}
	})
}

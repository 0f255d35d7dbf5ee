package interreflect

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"lampswap/photometry/direct"
	"lampswap/photometry/internal/hall"
	"lampswap/photometry/room"
)

func TestNookX(t *testing.T) {
	r := room.Room{Length: 60 * ft, Width: 40 * ft, Height: 18 * ft, WorkPlane: 2.5 * ft, Reflectance: room.Reflectances{Ceiling: .7, Walls: .5, Floor: .2}}
	var racks []room.Rack
	for i := range 3 {
		racks = append(racks, room.Rack{Corner: room.Vec{X: 3 * ft, Y: (4 + 12*float64(i)) * ft}, Size: room.Vec{X: 50 * ft, Y: 8 * ft, Z: 18 * ft}, Reflectance: 0.4})
	}
	strip, err := hall.Strip()
	require.NoError(t, err)
	var places []room.Placement
	for j := range 2 {
		for i := range 5 {
			places = append(places, room.Placement{Position: room.Vec{X: (6 + 12*float64(i)) * ft, Y: (14 + 12*float64(j)) * ft, Z: 17 * ft}})
		}
	}
	scene := direct.Scene{Racks: racks, Sources: []direct.Source{{Luminaire: strip, Placements: places}}}
	for _, patch := range []float64{0, 4, 2, 1, 0.5} {
		for _, rays := range []int{128, 1024} {
			if patch == .5 && rays > 128 {
				continue
			}
			e, err := NewEnclosure(t.Context(), r, racks, Options{Patch: patch * ft, Rays: rays})
			require.NoError(t, err)
			s, err := e.Solve(t.Context(), scene)
			require.NoError(t, err)
			fmt.Printf("patch %.2f %5.2f rays %4d: ", patch, e.options.Patch/ft, rays)
			for _, p := range []room.Vec{{X: 2.5, Y: 8}, {X: 2.5, Y: 6}, {X: 1.5, Y: 8}, {X: 2.5, Y: 20}, {X: 2.5, Y: 14}, {X: 30, Y: 12.5}, {X: 30, Y: 14}, {X: 2.5, Y: 1}, {X: 30, Y: 2}, {X: 53.5, Y: 8}, {X: 57, Y: 8}} {
				p.Z = 2.5
				fmt.Printf(" %7.3f", at(s, p.Scale(ft), room.Vec{Z: 1})*ft*ft)
			}
			fmt.Printf("   e %.4f\n", s.balance.Arrived/s.balance.Emitted)
		}
	}
}

// Package hall is the yardstick of speed, a warehouse for the benchmarks of all methods: 432 by 240 by 24 ft, 15 rows of 27 strips at
// 20 ft, racks of 300 by 8 by 16 ft. All of it is invented.
package hall

import (
	"math"

	"lampswap/photometry"
	"lampswap/photometry/room"
)

const ft = photometry.Foot

// Room returns the warehouse.
func Room() room.Room {
	return room.Room{Length: 432 * ft, Width: 240 * ft, Height: 24 * ft, WorkPlane: 2.5 * ft,
		Reflectance: room.Reflectances{Ceiling: 0.5, Walls: 0.3, Floor: 0.2}}
}

// Strip returns an 8-foot luminaire with a table of 37 by 10 angles.
func Strip() (photometry.Luminaire, error) {
	var horizontal, vertical []float64
	for c := 0.0; c <= 90; c += 10 {
		horizontal = append(horizontal, c)
	}
	for g := 0.0; g <= 180; g += 5 {
		vertical = append(vertical, g)
	}
	table := make([][]float64, len(horizontal))
	for h, c := range horizontal {
		for _, g := range vertical {
			c, g := c*math.Pi/180, g*math.Pi/180
			table[h] = append(table[h], 3000*math.Max(0, math.Cos(g))*(1+0.3*math.Pow(math.Sin(g)*math.Sin(c), 2))+200*math.Sin(g)*math.Sin(g))
		}
	}
	d, err := photometry.NewDistribution(horizontal, vertical, table)
	return photometry.Luminaire{Distribution: d, Opening: photometry.Opening{Length: 8 * ft, Width: 4 * photometry.Inch}}, err
}

// Places returns where the luminaires hang, their lamps along the warehouse.
func Places() []room.Placement { return Room().Lattice(15, 27, 20*ft, 0) }

// Racks returns as many racks as asked for, 20 at most, with aisles of 4 ft.
func Racks(count int) []room.Rack {
	racks := make([]room.Rack, count)
	for i := range racks {
		racks[i] = room.Rack{Corner: room.Vec{X: 66 * ft, Y: (2 + 12*float64(i)) * ft}, Size: room.Vec{X: 300 * ft, Y: 8 * ft, Z: 16 * ft}, Reflectance: 0.3}
	}
	return racks
}

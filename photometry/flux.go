package photometry

import "math"

// Zones is the number of ten-degree zones from nadir to zenith that the zonal cavity method works with.
const Zones = 18

// Flux returns the luminous flux of the distribution, lm.
func (d *Distribution) Flux() float64 { return d.FluxBetween(0, math.Pi) }

// ZonalFlux returns the flux, lm, of the eighteen ten-degree zones from nadir to zenith.
func (d *Distribution) ZonalFlux() [Zones]float64 {
	var zones [Zones]float64
	ring := d.ring()
	for i := range zones {
		zones[i] = d.between(ring, float64(i)*math.Pi/Zones, float64(i+1)*math.Pi/Zones)
	}
	return zones
}

// FluxBetween returns the flux, lm, between two vertical angles, rad. The integral of the interpolated intensity is exact:
// linear over the horizontal angle it gives the trapezoidal rule, and over each vertical interval
//
//	∫ (I + s (γ - γ1)) sin γ dγ = I1 cos γ1 - I2 cos γ2 + s (sin γ2 - sin γ1)
//
// Source: our derivation, integration by parts.
func (d *Distribution) FluxBetween(from, to float64) float64 { return d.between(d.ring(), from, to) }

// ring integrates the intensity over the horizontal angle, cd rad, at every tabulated vertical angle.
func (d *Distribution) ring() []float64 {
	n := len(d.angles.values)
	ring := make([]float64, n)
	for p := range len(d.planes.values) - 1 {
		half := (d.planes.values[p+1] - d.planes.values[p]) / 2
		for v := range ring {
			ring[v] += half * (d.candela[p*n+v] + d.candela[(p+1)*n+v])
		}
	}
	return ring
}

func (d *Distribution) between(ring []float64, from, to float64) float64 {
	flux := 0.0
	for v := range len(ring) - 1 {
		g1, g2 := d.angles.values[v], d.angles.values[v+1]
		slope := (ring[v+1] - ring[v]) / (g2 - g1)
		a, b := math.Max(g1, from), math.Min(g2, to)
		if a >= b {
			continue
		}
		ia, ib := ring[v]+slope*(a-g1), ring[v]+slope*(b-g1)
		flux += ia*math.Cos(a) - ib*math.Cos(b) + slope*(math.Sin(b)-math.Sin(a))
	}
	return flux
}

// Package cavity finds the average illuminance of an empty rectangular room by the zonal cavity (lumen) method.
//
//	E = N Φ CU LLF / A        cavity ratio = 5 h (L + W) / (L W)
//
// The plane of the luminaires and the work plane cut the room into a ceiling, a room and a floor cavity. The ceiling and the
// floor cavity become one flat surface each, of the effective reflectance of their opening; the coefficient of utilization CU is the
// share of the lamps' lumens Φ that arrives at the opening of the floor cavity, straight and after every reflection.
//
// Sources:
//   - cavity ratio, effective cavity reflectance: IES Lighting Handbook, lighting calculations chapter, from memory, unverified as text;
//     the reflectance derived again as an exchange of light (our derivation).
//   - form factor of two equal parallel rectangles: closed form of the textbooks of radiative transfer (from memory, unverified as
//     text; its tests integrate it numerically).
//   - zonal multipliers, fitted form factor, coefficients: IESNA Calculation Procedures Committee, "Recommended procedure for
//     calculating coefficients of utilization, wall exitance coefficients, and ceiling cavity exitance coefficients", J. Illum. Eng.
//     Soc., Oct. 1982, 12:3; the constants are from memory, unverified (Source says so to the reader of a result).
//
// Surfaces are diffuse, each of one reflectance; luminaires are evenly spaced, many, and all alike.
//
// A room of another plan is given as the rectangle of its area A and perimeter P, whose cavity ratios are its own, 2.5 h P / A
// (room.Room.Rectangle): how far its floor sees past inner corners is left out.
//
// Limits: racks are not seen: for rooms with racks use direct and interreflect. The zonal multipliers are a fit over many rooms, not
// the geometry of one, and read up to about 10 percent low against a point-by-point calculation of a real room.
package cavity

import (
	"errors"
	"fmt"
	"math"

	"lampswap/photometry"
)

// Ratio returns the cavity ratio 5 h (L + W) / (L W) of a cavity of the given height, length and width, all in the same unit.
func Ratio(height, length, width float64) float64 {
	return 5 * height * (length + width) / (length * width)
}

// A Room is what the method needs to know of a rectangular room; lengths in m, reflectances 0 to 1.
type Room struct {
	Length, Width, Height float64
	WorkPlane             float64 // height of the task plane above the floor
	MountingHeight        float64 // height of the luminaires' photometric centre above the floor
	Ceiling, Walls, Floor float64 // reflectances; the walls have theirs in all three cavities
}

// A Result is what the method finds for a room and a luminaire; all its numbers are pure.
type Result struct {
	RoomCavityRatio, CeilingCavityRatio, FloorCavityRatio  float64
	EffectiveCeilingReflectance, EffectiveFloorReflectance float64
	CoefficientOfUtilization                               float64 // lumens on the work plane over lamp lumens, all losses left out
}

// ErrNoAbsorption says that every surface of a room reflects all light, so that its illuminance has no bound.
var ErrNoAbsorption = errors.New("cavity: a room whose ceiling, walls and floor all reflect everything has no finite illuminance")

// Solve applies the method to a room and to the zonal fluxes of its luminaires. The effective reflectances rest on the exact form factor
// of the room's own shape, the coefficient of utilization on the published procedure.
//
// It errs if the room has no positive length, width or height, if the work plane, the luminaires and the ceiling do not follow
// each other upwards (luminaires may touch the ceiling and the work plane the floor), or if a reflectance is not 0 to 1; with
// ErrNoAbsorption if all three are 1.
func Solve(r Room, fluxes Fluxes) (Result, error) {
	if err := r.check(); err != nil {
		return Result{}, err
	}
	above, between, below := r.Height-r.MountingHeight, r.MountingHeight-r.WorkPlane, r.WorkPlane
	result := Result{
		RoomCavityRatio:    Ratio(between, r.Length, r.Width),
		CeilingCavityRatio: Ratio(above, r.Length, r.Width),
		FloorCavityRatio:   Ratio(below, r.Length, r.Width),
	}
	result.EffectiveCeilingReflectance = EffectiveReflectance(r.Ceiling, r.Walls,
		ParallelFormFactor(r.Length, r.Width, above), result.CeilingCavityRatio)
	result.EffectiveFloorReflectance = EffectiveReflectance(r.Floor, r.Walls,
		ParallelFormFactor(r.Length, r.Width, below), result.FloorCavityRatio)
	result.CoefficientOfUtilization = Utilization(fluxes.Share, result.RoomCavityRatio,
		result.EffectiveCeilingReflectance, r.Walls, result.EffectiveFloorReflectance)
	return result, nil
}

// check uses comparisons that NaN fails.
func (r Room) check() error {
	positive := func(x float64) bool { return x > 0 && !math.IsInf(x, 1) }
	if !positive(r.Length) || !positive(r.Width) || !positive(r.Height) {
		return fmt.Errorf("cavity: a room of %v by %v by %v m, want three lengths above 0", r.Length, r.Width, r.Height)
	}
	if !(r.WorkPlane >= 0 && r.WorkPlane < r.MountingHeight && r.MountingHeight <= r.Height) {
		return fmt.Errorf("cavity: work plane at %v m, luminaires at %v m, ceiling at %v m, want them in this order upwards from the floor",
			r.WorkPlane, r.MountingHeight, r.Height)
	}
	for _, reflectance := range []float64{r.Ceiling, r.Walls, r.Floor} {
		if !(reflectance >= 0 && reflectance <= 1) {
			return fmt.Errorf("cavity: reflectance %v, want a fraction from 0 to 1", reflectance)
		}
	}
	if r.Ceiling == 1 && r.Walls == 1 && r.Floor == 1 {
		return ErrNoAbsorption
	}
	return nil
}

// Average returns the average initial illuminance of the work plane, lx, at ballast factor 1: the lumens of all lamps (lampLumensEach
// are those of one luminaire, all its lamps together), times the coefficient of utilization, over the area, m². Multiply by the light
// loss factor to maintain it.
func Average(luminaires int, lampLumensEach, coefficientOfUtilization, area float64) float64 {
	return float64(luminaires) * lampLumensEach * coefficientOfUtilization / area
}

// Fluxes are the shares of the lamps' lumens that a luminaire sends into the eighteen ten-degree zones from nadir to zenith.
type Fluxes struct {
	Share [photometry.Zones]float64
}

const noLampLumens = "cavity: relative photometry needs lamp lumens above 0"

// FluxesOf returns the zonal fluxes of a luminaire over its lamp lumens, or over its own flux where the photometry is absolute, so that
// the coefficient of utilization is then per luminaire lumen. A dark luminaire has none. It panics if relative photometry comes
// with lamp lumens of 0 or less.
//
// The zones are integrated exactly where the published procedure multiplies the mid-zone candela by a zonal constant: that rule
// counts a cosine distribution as 1.004 of its flux.
func FluxesOf(l photometry.Luminaire) Fluxes {
	var f Fluxes
	lumens := l.LampLumens
	if l.Absolute {
		lumens = l.Distribution.Flux()
	} else if !(lumens > 0) {
		panic(noLampLumens)
	}
	if lumens == 0 {
		return f
	}
	for i, flux := range l.Distribution.ZonalFlux() {
		f.Share[i] = flux / lumens
	}
	return f
}

// Down returns the share of the lamps' lumens sent below the horizontal.
func (f Fluxes) Down() float64 { return sum(f.Share[:photometry.Zones/2]) }

// Up returns the share of the lamps' lumens sent above the horizontal.
func (f Fluxes) Up() float64 { return sum(f.Share[photometry.Zones/2:]) }

func sum(shares []float64) float64 {
	total := 0.0
	for _, s := range shares {
		total += s
	}
	return total
}

package uncertainty

import (
	"math"
	"reflect"

	"lampswap/photometry/job"
	"lampswap/photometry/losses"
)

// shared tells that an error of the input is the same for two systems: they have the part in common, or the building.
func shared(input job.Input, a, b *job.System) bool {
	switch input {
	case job.LuminaireDirt, job.RoomSurfaceDirt, job.AmbientTemperature, job.Voltage,
		job.CeilingReflectance, job.WallReflectance, job.FloorReflectance:
		return true // of the building
	case job.MountingHeight: // one plan, or one tape
		return a.Layout.MountingHeight == b.Layout.MountingHeight
	case job.Photometry:
		return sameFixture(a, b)
	case job.LampsInFixture:
		return sameFixture(a, b) && sameTubes(a, b)
	case job.LampLumens:
		return sameLamp(a, b) && a.LampLumens == b.LampLumens || alike(*a, *b)
	case job.LampDepreciation:
		return sameLamp(a, b) || alike(*a, *b)
	case job.TemperatureEstimate:
		named := a.Lamp != nil && b.Lamp != nil && a.Lamp.Diameter > 0
		return named && losses.TubeOf(a.Lamp.Diameter) == losses.TubeOf(b.Lamp.Diameter) || alike(*a, *b)
	case job.BallastFactor:
		return a.BallastFactor == b.BallastFactor && sameBallast(a, b) || alike(*a, *b)
	}
	panic("uncertainty: unknown input")
}

// sameLamp tells that a lamp stays; two of which no more is known than equal lumens may be two kinds.
func sameLamp(a, b *job.System) bool {
	return a.Lamp != nil && b.Lamp != nil && a.Lamp.Known() && a.Lamp.Same(*b.Lamp)
}

// sameBallast tells that a ballast of the list stays, or one that is known by its label alone: as many lamps, and the same watts.
func sameBallast(a, b *job.System) bool {
	if a.Ballast == nil || b.Ballast == nil {
		return a.Ballast == b.Ballast && a.Lamps == b.Lamps && a.InputWatts == b.InputWatts
	}
	return a.Ballast.Name == b.Ballast.Name
}

// sameFixture tells that the light of two systems rests on the same cross-section, or on the same photometric data, by whatever name.
func sameFixture(a, b *job.System) bool {
	if a.Section == nil || b.Section == nil {
		return a.Section == b.Section && reflect.DeepEqual(a.Luminaire, b.Luminaire)
	}
	return reflect.DeepEqual(a.Section, b.Section)
}

// sameTubes tells that light spreads in a cross-section as before, if not as much of it: neither lumens nor length matter to that.
func sameTubes(a, b *job.System) bool {
	x, y := a.Tubes, b.Tubes
	return x.Across == y.Across && x.Diameter == y.Diameter && x.BeamAngle == y.BeamAngle
}

// alike tells that two systems have the same luminaires by all that the job says of them, so that no error is one's alone.
func alike(a, b job.System) bool {
	if sameFixture(&a, &b) {
		a.Photometry = b.Photometry
	}
	if a.Lamp != nil && b.Lamp != nil && a.Lamp.Same(*b.Lamp) {
		a.Lamp = b.Lamp // a lamp's figures may be NaN, which equal nothing
	}
	if a.Ballast != nil && b.Ballast != nil && sameBallast(&a, &b) {
		a.Ballast = b.Ballast
	}
	a.Layout, a.Costs, a.Kind, a.Use, a.Group, a.Emergency = b.Layout, b.Costs, b.Kind, b.Use, b.Group, b.Emergency
	return reflect.DeepEqual(a, b)
}

// A doubtfulSection has the relative standard deviations of light computed from a cross-section.
type doubtfulSection struct {
	common float64 // in which all lamps in the section are off alike
	own    float64 // of one kind of lamp beyond that
}

// sectionStandard is how far the light computed from a cross-section is off, by kinds of section and of lamp. What shines all round lives by
// the sheets above it; what shines down hardly meets them, unless it is behind a cover.
//
// Source: our study of drawn variations of all built-in sections, in tests: of reflectances (sheets and lamps 0.08, backs 0.10, a cover's
// 0.03 and its transmittance 0.05), of width and depth (10 percent), of the lamps' place (6 mm up or down, 10 percent sideways), all
// rectangular and our choice. The light on the work plane had standard deviations of 1.9 to 4.5 percent with lamps that shine all round,
// up to 1.8 with those that shine down, 6.6 and 5.3 behind a cover; the ratio of two kinds of lamp 0.5 to 1.8 percent, 2.2 to 4.1 where one of
// them shines down. The largest are taken. The bare strips' largest distance from a published coefficient, 9 percent, is two of 0.045.
func sectionStandard(of *job.System) doubtfulSection {
	down := of.Tubes.BeamAngle > 0 && of.Tubes.BeamAngle <= math.Pi
	covered := of.Section.Cover != nil
	switch {
	case down && covered:
		return doubtfulSection{0.05, 0.025}
	case down:
		return doubtfulSection{0.01, 0.025}
	case covered:
		return doubtfulSection{0.065, 0.0125}
	}
	return doubtfulSection{0.045, 0.0125}
}

package lm63

import (
	"fmt"
	"slices"

	"lampswap/photometry"
	"lampswap/photometry/diag"
)

// Luminaire returns what the file tells of the luminaire in SI and in the type C frame, with lamps of the file's own lumens at ballast
// factor 1:
//
//	I = tabulated candela x multiplier x ballast-lamp photometric factor (up to 1991, relative photometry)
//
// LampLumens is lamps x lumens per lamp; in absolute photometry it is the luminaire's own flux and nothing but the multiplier counts. The
// tables of types B and A are resampled (package comment). It errs with a diag.List, without places, where Write would.
func (f *File) Luminaire() (photometry.Luminaire, error) {
	var found faults
	f.check(&found)
	if err := found.err(); err != nil {
		return photometry.Luminaire{}, err
	}
	return f.luminaire()
}

// luminaire is Luminaire of a file that has been checked.
func (f *File) luminaire() (photometry.Luminaire, error) {
	horizontal, vertical, candela := snapped(f.HorizontalDeg, 0, 90, 180, 270, 360), snapped(f.VerticalDeg, 0, 90, 180), f.Candela
	if f.Type != TypeC {
		horizontal, vertical, candela = f.web().typeC()
	}
	tabulated, err := photometry.NewDistribution(horizontal, vertical, candela)
	if err != nil {
		return photometry.Luminaire{}, err
	}
	l := photometry.Luminaire{Distribution: tabulated.Scaled(f.scale()), Opening: f.opening(), Absolute: f.Absolute(),
		LampLumens: float64(f.Lamps) * f.LumensPerLamp}
	if f.Absolute() {
		l.LampLumens = l.Distribution.Flux()
	}
	return l, nil
}

// scale is what the tabulated candela are multiplied by.
func (f *File) scale() float64 {
	if f.Edition <= Edition1991 && !f.Absolute() {
		return f.Multiplier * f.BallastLampFactor
	}
	return f.Multiplier
}

// snapped puts the first and the last angle on the round value that they are within the tolerance of.
func snapped(anglesDeg []float64, round ...float64) []float64 {
	anglesDeg = slices.Clone(anglesDeg)
	for _, i := range []int{0, len(anglesDeg) - 1} {
		for _, r := range round {
			if near(anglesDeg[i], r) {
				anglesDeg[i] = r
			}
		}
	}
	return anglesDeg
}

// judge warns of what a user should know of a file that is read and free of faults.
func (r *reading) judge() error {
	f := r.file
	l, err := f.luminaire()
	if err != nil { // the checks are stricter than the distribution's own; should they not be, it is a fault of the file all the same
		return diag.List{{Pos: r.src.pos(0), Key: "candela", Wrong: "the table is refused", Err: err}}
	}
	r.judgeFactors()
	r.judgeTable(l.Distribution.Flux() / f.scale())
	if _, _, odd := f.shape(); odd != "" {
		r.warn("width %v, length %v, height %v are read as %s, %s: %s", f.Width, f.Length, f.Height, f.Shape(), f.Size(), odd)
	}
	switch flux := l.Distribution.Flux(); {
	case flux == 0:
		r.warn("all candela are 0: the luminaire gives no light")
	case !l.Absolute && flux > 1.005*l.LampLumens: // the excess that rounded tables of bare lamps show
		r.warn("the candela add up to %.0f lm, more than the %.0f lm of the lamps", flux, l.LampLumens)
	}
	return nil
}

func (r *reading) judgeFactors() {
	f := r.file
	switch x := f.BallastLampFactor; {
	case f.Edition <= Edition1991 && x != 1 && f.Absolute():
		r.warn("the ballast-lamp photometric factor %v is not applied: the photometry is absolute", x)
	case f.Edition <= Edition1991 && x != 1:
		r.warn("the candela are multiplied by the ballast-lamp photometric factor %v", x)
	case f.Edition == Edition2019 && x == Simulated:
		r.warn(Simulation)
	case f.Edition == Edition2019 && f.Generation() == "":
		r.warn("the file generation type %v is not known", x)
	case f.Edition > Edition1991 && f.Edition < Edition2019 && x != 1:
		r.warn("%v after the ballast factor is not applied: %s keeps that field for future use", x, f.Edition)
	}
	if f.Absolute() && f.BallastFactor != 1 {
		r.warn("the ballast factor %v is not applied: the photometry is absolute", f.BallastFactor)
	}
	if f.InputWatts == 0 {
		r.warn("the input watts are 0: the file does not tell them")
	}
}

// judgeTable warns of angles that leave a choice; flux is that of the type C table before any multiplier, lm.
func (r *reading) judgeTable(flux float64) {
	f := r.file
	last := len(f.HorizontalDeg) - 1
	from, to := f.VerticalDeg[0], f.VerticalDeg[len(f.VerticalDeg)-1]
	if f.Type != TypeC {
		r.warn("type %s: the luminaire is taken to hang with its (0, 0) axis straight down, and the table is resampled to type C", f.Type)
		if near(from, 0) {
			r.warn("type %s with vertical angles from 0: the table is taken as mirrored in the horizontal plane", f.Type)
		}
		native := f.web().flux()
		if diff := flux/native - 1; native > 0 && (diff > 0.01 || diff < -0.01) {
			r.warn("the flux after resampling is %+.1f percent off that of the table: the beam is narrow for it", 100*diff)
		}
		return
	}
	if !((near(from, 0) || near(from, 90)) && (near(to, 90) || near(to, 180))) {
		r.warn("vertical angles from %v to %v are none of 0-90, 90-180, 0-180: beyond them there is taken to be no light", from, to)
	}
	if f.openCircle() {
		r.warn("the closing plane at 360 is left out: it is taken to be that at 0")
	}
	if near(f.HorizontalDeg[last], 360) && last > 0 && !slices.Equal(f.Candela[0], f.Candela[last]) {
		r.warn("the planes at 0 and 360 differ: that at 0 is used for both")
	}
}

// String sums up the file in a line for people.
func (f *File) String() string {
	kind := fmt.Sprintf("%d x %v lm", f.Lamps, f.LumensPerLamp)
	if f.Absolute() {
		kind = "absolute"
	}
	return fmt.Sprintf("%s, type %s, %s, %d x %d candela, %s, %v W", f.Edition, f.Type, kind, len(f.HorizontalDeg), len(f.VerticalDeg), f.Shape(), f.InputWatts)
}

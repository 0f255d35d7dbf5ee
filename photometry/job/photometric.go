package job

import (
	"fmt"
	"math"
	"strconv"

	"lampswap/photometry"
	"lampswap/photometry/diag"
	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/lm63"
	"lampswap/photometry/number"
)

const (
	// mostEfficiency leaves room for relative photometry of lamps that give more in a warm luminaire than at the 25 °C of their rating, and for
	// rounded tables. Common practice, no source.
	mostEfficiency = 1.10
	// mostEfficacy is the luminous efficacy of green light of 540 THz, lm/W, which defines the candela in the SI: no source of light gives more.
	mostEfficacy = 683
	leastFactor  = 0.1 // of a ballast
	mostFactor   = 2
)

// A beyond is a value of a photometric file that a job refuses.
type beyond struct {
	fault diag.Error
	keys  []string // of the job, each of which stands in for the value
}

// Beyond tells what of a photometric file is out of the ranges that a job's own keys have, or cannot be: a job refuses the file, unless it gives
// ballast factor and input watts itself.
func Beyond(name string, f *lm63.File, l photometry.Luminaire) diag.List {
	var list diag.List
	for _, b := range beyondOf(name, f, l) {
		list = append(list, &b.fault)
	}
	return list
}

func beyondOf(name string, f *lm63.File, l photometry.Luminaire) (all []beyond) {
	add := func(good bool, field lm63.Field, wrong, want string, keys ...string) {
		if good {
			return
		}
		at, key := f.Place(field)
		at.File = name
		all = append(all, beyond{diag.Error{Pos: at, Key: key, Wrong: wrong, Want: want}, keys})
	}
	within := func(x float64, rule tomlfile.Rule, field lm63.Field, keys ...string) {
		want := rule.Want
		if len(keys) > 0 {
			want += ", or " + keys[0] + " in the job"
		}
		add(rule.Holds(x), field, "is "+strconv.FormatFloat(x, 'g', -1, 64), want, keys...)
	}
	scaled := lm63.FieldLumensPerLamp // what a wrong flux comes from, more likely than the candela
	if f.Multiplier != 1 || f.Absolute() {
		scaled = lm63.FieldMultiplier
	}
	flux := l.Distribution.Flux()
	emitted := flux
	if f.Absolute() {
		add(flux == 0 || flux >= leastLumens && flux <= mostLumens, scaled, fmt.Sprintf("the candela add up to %s lm", lumens(flux)),
			fmt.Sprintf("%s to %s lm of one luminaire", lumens(leastLumens), lumens(mostLumens)))
	} else {
		within(float64(f.Lamps), tomlfile.Between(1, mostLamps), lm63.FieldLamps)
		within(f.LumensPerLamp, tomlfile.Between(leastLumens, mostLumens), lm63.FieldLumensPerLamp)
		within(f.BallastFactor, tomlfile.Between(leastFactor, mostFactor), lm63.FieldBallastFactor, "ballast_factor", "ballast")
		efficiency := flux / l.LampLumens
		add(flux == 0 || efficiency >= leastShare && efficiency <= mostEfficiency, scaled,
			fmt.Sprintf("the candela add up to %s lm and the lamps to %s lm, an efficiency of %s", lumens(flux), lumens(l.LampLumens), lumens(efficiency)),
			fmt.Sprintf("%g to %g: candela, multiplier or lamp lumens are wrong", leastShare, mostEfficiency))
		emitted *= f.BallastFactor
	}
	if f.InputWatts != 0 {
		within(f.InputWatts, tomlfile.Between(leastWatts, mostWatts), lm63.FieldInputWatts, "input_watts", "ballast")
		add(emitted <= mostEfficacy*f.InputWatts, lm63.FieldInputWatts, fmt.Sprintf("%s lm come of %g W, %.0f lm/W", lumens(emitted), f.InputWatts, emitted/f.InputWatts),
			fmt.Sprintf("at most %d lm/W, which no light exceeds, or input_watts in the job", mostEfficacy), "input_watts", "ballast")
	}
	return all
}

// judged notes what of a photometric file a job refuses, and a luminaire that has no room in it. It tells whether there is none.
func (r *reader) judged(t *tomlfile.Table, name string, f *lm63.File, l photometry.Luminaire) bool {
	var faults diag.List
	for _, b := range beyondOf(name, f, l) {
		given := false
		for _, key := range b.keys {
			given = given || t.Has(key)
		}
		if !given {
			faults = append(faults, &b.fault)
		}
	}
	if r.largerThanRoom(l.Opening) {
		at, _ := f.Place(lm63.FieldWidth)
		at.File = name
		faults = append(faults, &diag.Error{Pos: at, Key: "width, length and height", Wrong: "the luminous opening is larger than the room: " + f.Size(),
			Want: "one that fits, in the units that the file names"})
	}
	r.foreign(faults)
	return len(faults) == 0
}

// largerThanRoom tells that an opening does not fit into the room however it is turned: its longer side against the room's longer one, the
// shorter against the shorter one.
func (r *reader) largerThanRoom(o photometry.Opening) bool {
	rm := r.job.Room
	if min(rm.Length, rm.Width, rm.Height) < leastRoom { // a fault tells of it
		return false
	}
	long, short := math.Max(o.Length, o.Width), math.Min(o.Length, o.Width)
	return long > math.Max(rm.Length, rm.Width)+slack || short > math.Min(rm.Length, rm.Width)+slack || o.Height > rm.Height+slack
}

// lumens writes a number of any size without an exponent: whole, or to three digits.
func lumens(x float64) string {
	if x >= 1000 {
		return number.Fixed(x, 0)
	}
	return number.Fixed(number.Significant(x, 3), -1)
}

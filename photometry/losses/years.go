package losses

import (
	"iter"
	"math"
)

// A Replacement is how lamps are replaced.
type Replacement int

// The ways to replace lamps.
const (
	// Group: all lamps together at the relamping hours; one that fails earlier is replaced at once and counts as old as the rest, as in the job's factors.
	Group Replacement = iota
	// GroupOnly: all lamps together at the relamping hours; one that fails earlier stays dark until then.
	GroupOnly
	// Spot: each lamp when it fails, and no other. LED tubes, whose L70 life tells nothing of failures, together at the end of that.
	Spot
)

// A Course is all that the light of one system depends on through the years, from day 0 with new lamps and clean surfaces. Shares that are
// given (above 0) replace what would be computed and stay as they are, since how they came about is not known.
type Course struct {
	HoursPerYear float64 // of burning, 0 or more

	InitialLumens, MeanLumens float64 // lm, of one lamp; where one is 0 no loss of lumens is known
	RatedLifeHours            float64 // h; 0 is not known
	L70                       bool    // LED: the life is the time after which 70 percent of the lumens are left
	RelampHours               float64 // h; 0: as with Spot
	Replacement               Replacement
	LampShare                 float64 // lamp lumen depreciation as given; 0 is computed

	Category           Category
	Atmosphere         Atmosphere
	CleanYears         float64 // between cleanings of luminaires and room surfaces; 0 is always clean
	DirtShare          float64 // luminaire dirt depreciation as given; 0 is computed
	Distribution       DistributionType
	RoomCavityRatio    float64
	RoomSurfaceShare   float64 // room surface dirt depreciation as given; 0 is computed
	ConstantShare      float64 // product of what does not change: Factors.Constant
	TotalShareOverride float64 // replaces all; 0 for none
}

// A Moment is the share of the light that is kept at some time.
type Moment struct {
	Years float64 // since day 0
	Kept  float64 // of the light of lamps with rated lumens on the reference ballast, all clean: as Factors.Total
}

// Constant is the product of the factors that time does not change in a Course: ballast, burnout, temperature, voltage and other.
func (f Factors) Constant() float64 {
	return f.BallastFactor.Value * f.LampBurnout.Value * f.Temperature.Value * f.Voltage.Value * f.Other.Value
}

// Kept returns the share of light kept after some years, at a moment of cleaning or relamping that just after it:
//
//	Kept(t) = lamp share(t) × LDD(time since cleaning) × RSDD(time since cleaning) × ConstantShare
//
// The ballast factor is in ConstantShare: maintained = initial × Kept / ballast factor, as with Factors.Total. It panics if years are below 0 or the
// course makes no sense: an hour, year or share below 0 or not finite, ConstantShare not above 0, or a kind that is no constant of this package.
func (c Course) Kept(years float64) float64 { return c.at(years, false) }

// KeptBefore returns what Kept does, at a moment of cleaning or relamping that just before it.
func (c Course) KeptBefore(years float64) float64 { return c.at(years, true) }

func (c Course) at(years float64, before bool) float64 {
	if !(years >= 0) {
		panic(errYears)
	}
	w := c.works()
	return w.kept(years, last(years, w.Relamped, before), last(years, w.Cleaned, before))
}

// Series returns the course from year 0 to a horizon in steps of years, with two moments at each cleaning and relamping, just before and just
// after it, so that a line through them has the teeth of the saw sharp. It panics where Kept does, if the step is not above 0 or the horizon below 0.
func (c Course) Series(horizonYears, step float64) []Moment {
	if !(step > 0) || !(horizonYears >= 0) {
		panic("losses: the step is not above 0 or the horizon below 0")
	}
	w := c.works()
	series := []Moment{{0, w.kept(0, 0, 0)}}
	for p := range w.pieces(horizonYears) {
		if p.from > 0 {
			series = append(series, Moment{p.from, w.keptIn(p, p.from)})
		}
		for i := math.Floor(p.from/step*(1+sameTime)) + 1; i*step < p.to*(1-sameTime); i++ {
			series = append(series, Moment{i * step, w.keptIn(p, i*step)})
		}
		series = append(series, Moment{p.to, w.keptIn(p, p.to)})
	}
	return series
}

// Works are what is done for the light through the years, and what is held.
type Works struct {
	Lumens   float64 // share that is held; 0 where lumens fall with the hours of burning
	Singly   bool    // lamps of all ages, replaced one by one
	Dark     bool    // lamps that fail stay dark until the next relamping
	Relamped float64 // years between relampings of all lamps; +Inf where there is none, or it changes nothing
	Cleaned  float64 // years between cleanings; +Inf likewise
}

// Works are those of the course, whose total is not given.
func (c Course) Works() Works { return c.works().Works }

// works is a Course made ready: what is constant, what ages, and when work is done.
type works struct {
	Course
	Works
	dirt      dirtConstants
	surfaces  *surfaceTable
	luminaire float64 // dirt share held; 0 where it falls with time
	room      float64 // the same of room surfaces
}

// leastYears is the shortest time between works that is followed, a day. Where they come oftener the share just before them is held.
const leastYears = 1.0 / 365

func (c Course) works() works {
	for _, x := range []float64{c.HoursPerYear, c.InitialLumens, c.MeanLumens, c.RatedLifeHours, c.RelampHours, c.LampShare,
		c.CleanYears, c.DirtShare, c.RoomSurfaceShare, c.TotalShareOverride} {
		if !(x >= 0) || math.IsInf(x, 1) {
			panic("losses: a number of the course is below 0 or not finite")
		}
	}
	w := works{Course: c, Works: Works{Relamped: math.Inf(1), Cleaned: math.Inf(1)}}
	if c.TotalShareOverride > 0 {
		return w
	}
	if !(c.ConstantShare > 0) || c.Replacement < Group || c.Replacement > Spot {
		panic("losses: the constant share of the course is not above 0, or its replacement is none of the kinds")
	}
	w.planLamps()
	w.planDirt()
	return w
}

// ages tells that lumens fall with the hours of burning, as far as is known.
func (w *works) ages() bool { return w.Lumens == 0 }

func (w *works) planLamps() {
	switch {
	case w.LampShare > 0:
		w.Lumens = w.LampShare
	case w.RatedLifeHours == 0:
		w.Lumens = LampLumenDepreciation(w.InitialLumens, w.MeanLumens, w.L70, Basis{}.Age(0, 0)).Value
	case !w.L70 && (w.InitialLumens == 0 || w.MeanLumens == 0):
		w.Lumens = 1
	}
	hours := w.RelampHours
	switch singly := w.Replacement == Spot || hours == 0; {
	case w.RatedLifeHours == 0:
	case singly && !w.L70:
		w.Singly = w.ages() // if lumens do not fall, lamps of all ages give what new ones give
		return
	case singly:
		hours = w.RatedLifeHours
	case w.Replacement == GroupOnly:
		w.Dark = !w.L70 // an L70 life tells nothing of failures
	}
	if hours == 0 || w.HoursPerYear == 0 || !w.ages() && !w.Dark {
		return
	}
	if years := hours / w.HoursPerYear; years >= leastYears {
		w.Relamped = years
		return
	}
	w.Lumens, w.Dark = w.lamps(hours/w.HoursPerYear), false
}

func (w *works) planDirt() {
	w.luminaire, w.room = w.DirtShare, w.RoomSurfaceShare
	if w.luminaire == 0 {
		w.dirt = dirtOf(w.Category, w.Atmosphere)
	}
	if w.room == 0 {
		w.surfaces = surfacesOf(w.Distribution, w.RoomCavityRatio)
	}
	switch {
	case w.CleanYears < leastYears:
		w.luminaire, w.room = w.dirtShares(w.CleanYears)
	case w.luminaire == 0 || w.room == 0:
		w.Cleaned = w.CleanYears
	}
}

// lamps returns the share of light of all lamps together, some years after they were last new.
func (w *works) lamps(years float64) float64 {
	hours := years * w.HoursPerYear
	if w.Singly {
		return w.mixedAges(hours / w.RatedLifeHours)
	}
	share := w.Lumens
	if w.ages() {
		share = LumenMaintenance(w.InitialLumens, w.MeanLumens, w.RatedLifeHours, hours, w.L70)
	}
	if w.Dark {
		share *= survival(hours/w.RatedLifeHours) / survival(0)
	}
	return share
}

// dirtShares returns those of luminaires and room surfaces, some years after they were last cleaned.
func (w *works) dirtShares(years float64) (luminaire, room float64) {
	luminaire, room = w.luminaire, w.room
	if luminaire == 0 {
		luminaire = w.dirt.share(years)
	}
	if room == 0 {
		room = w.surfaces.share(ExpectedDirt(w.Atmosphere, years), w.RoomCavityRatio)
	}
	return luminaire, room
}

// kept returns the share at a time when lamps and surfaces were last new and clean at the times given.
func (w *works) kept(years, relamped, cleaned float64) float64 {
	if w.TotalShareOverride > 0 {
		return w.TotalShareOverride
	}
	luminaire, room := w.dirtShares(years - cleaned)
	return w.lamps(years-relamped) * luminaire * room * w.ConstantShare
}

// sameTime is the relative difference below which two times are one: rounding.
const sameTime = 1e-9

// last returns when work that comes every period was last done, before the moment itself or including it. A moment that is one but for rounding is
// one: lamps lose light as the root of time, and would turn rounding of 1e-16 into 1e-8 of the light.
func last(years, period float64, before bool) float64 {
	if math.IsInf(period, 1) {
		return 0
	}
	n := math.Floor(years / period * (1 + sameTime))
	switch done := n * period; {
	case n == 0 || years-done > sameTime*years:
		return done
	case before:
		return done - period
	}
	return years
}

// A piece is a time without work, with the moments of the last relamping and cleaning before it.
type piece struct{ from, to, relamped, cleaned float64 }

func (w *works) keptIn(p piece, years float64) float64 { return w.kept(years, p.relamped, p.cleaned) }

// pieces cuts the years up to a horizon at each work. A horizon of 0 leaves none.
func (w *works) pieces(horizon float64) iter.Seq[piece] {
	return func(yield func(piece) bool) {
		p := piece{}
		relampings, cleanings := 0.0, 0.0
		for p.from < horizon {
			relamp, clean := (relampings+1)*w.Relamped, (cleanings+1)*w.Cleaned
			p.to = min(relamp, clean)
			if p.to >= horizon*(1-sameTime) {
				p.to = horizon
			}
			if !yield(p) || p.to == horizon {
				return
			}
			p.from = p.to
			if relamp <= p.to*(1+sameTime) {
				p.relamped, relampings = p.to, relampings+1
			}
			if clean <= p.to*(1+sameTime) {
				p.cleaned, cleanings = p.to, cleanings+1
			}
		}
	}
}

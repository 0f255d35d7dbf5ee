package losses

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/integrate/quad"
)

// Lamps that are replaced one by one, times in rated lives:
//
//	F(a)  share of lamps failed at age a, normal about 1 with the standard deviation LifeSpread
//	S(a)  = 1 - F(a)                                        share that lives to age a
//	h(t)  = Σ φ((t - n) / (σ√n)) / (σ√n),  n = 1, 2, ...    lamps replaced per lamp in unit time; the n-th lamp of a place ends after n lives
//	M(t)  = m(t) S(t) + ∫0^t m(a) S(a) h(t-a) da            mean of the lumen maintenance m over the ages at t
//
// Source: renewal theory, our derivation. The sum of n normal lives is normal, so h needs no integral equation. Lives below 0 (3 in 10 million) are
// divided out, which keeps M(0) at 1.
const (
	// LifeSpread is the standard deviation of the lives over the rated life, which is their mean and median. Our assumption: no published
	// mortality curve was found.
	LifeSpread = 0.2
	// farOut is beyond what the normal distribution reaches, in standard deviations.
	farOut = 9.0
	// settled is the time from which the ages no longer change, in rated lives: the waves of renewal fade as exp(-2π²σ²t), here below 1e-15.
	settled = 45.0
	// ageNodes is the number of Gauss-Legendre nodes over the ages: another doubling changes M by less than 1e-12.
	ageNodes = 160
)

// survival is S.
func survival(age float64) float64 { return math.Erfc((age-1)/(LifeSpread*math.Sqrt2)) / 2 }

// renewals is h.
func renewals(t float64) float64 {
	const norm = 0.3989422804014327 // 1/√(2π)
	sum := 0.0
	for n := 1.0; ; n++ {
		spread := LifeSpread * math.Sqrt(n)
		x := (t - n) / spread
		if x < -farOut {
			return sum
		}
		if x < farOut {
			sum += norm * math.Exp(-x*x/2) / spread
		}
	}
}

// Failures returns how many lamps a place is expected to need within some hours after it had a new one, each replaced when it fails: that
// first one not counted. A life of 0 is not known, and gives none.
//
//	H(t) = Σ Φ((t - n) / (σ√n)),  n = 1, 2, ...    t in rated lives
func Failures(hours, ratedLifeHours float64) float64 {
	if !(ratedLifeHours > 0) || !(hours > 0) {
		return 0
	}
	t, sum := hours/ratedLifeHours, 0.0
	for n := 1.0; ; n++ {
		x := (t - n) / (LifeSpread * math.Sqrt(n))
		if x < -farOut {
			return sum
		}
		sum += math.Erfc(-x/math.Sqrt2) / 2
	}
}

// An ageNodeRule holds the nodes and weights of a Gauss-Legendre rule over 0 to 1.
type ageNodeRule struct{ x, weight []float64 }

func legendre(nodes int) ageNodeRule {
	rule := ageNodeRule{make([]float64, nodes), make([]float64, nodes)}
	quad.Legendre{}.FixedLocations(rule.x, rule.weight, 0, 1)
	return rule
}

var ageRule = sync.OnceValue(func() ageNodeRule { return legendre(ageNodes) })

// mixedAges is M for the lamps of the course, at a time in rated lives since all were new. A course asks for the same times again and again (its
// series, its dips, when it first falls below each level), and so does one that differs in dirt or ballast only: what was found is kept.
func (w *works) mixedAges(t float64) float64 {
	key := ageKey{w.InitialLumens, w.MeanLumens, t, w.L70}
	if m, ok := ages.find(key); ok {
		return m
	}
	light, lamps := w.overAges(t, ageRule())
	return ages.keep(key, light/lamps)
}

// An ageKey is all that M depends on.
type ageKey struct {
	initial, mean, t float64
	l70              bool
}

// mostAges bounds what is kept of M, to about 2 MB; a course of 25 years asks for some 600 times.
const mostAges = 1 << 15

// ages is what is kept of M, by all that it depends on, so that it is the same to the bit whether it is found or worked out.
var ages = ageTable{kept: map[ageKey]float64{}}

type ageTable struct {
	mutex sync.RWMutex
	kept  map[ageKey]float64
}

func (a *ageTable) find(key ageKey) (m float64, ok bool) {
	a.mutex.RLock()
	defer a.mutex.RUnlock()
	m, ok = a.kept[key]
	return m, ok
}

func (a *ageTable) keep(key ageKey, m float64) float64 {
	a.mutex.Lock()
	defer a.mutex.Unlock()
	if len(a.kept) >= mostAges {
		clear(a.kept)
	}
	a.kept[key] = m
	return m
}

// overAges returns the sum of light and of lamps over the ages, the second 1 but for lives below 0 and, once the ages no longer change, too.
func (w *works) overAges(t float64, rule ageNodeRule) (light, lamps float64) {
	maintained := func(age float64) float64 { return LumenMaintenance(w.InitialLumens, w.MeanLumens, 1, age, w.L70) }
	first := 0.0 // share of the lamps of day 0 that still burn
	if t < settled {
		first = survival(t)
	}
	lamps = first
	if first > 0 {
		light = first * maintained(t)
	}
	// Lumens fall as the root of the age at first: the root is the variable, x² = a, da = 2x dx.
	oldest := math.Sqrt(min(t, 1+farOut*LifeSpread))
	for i, u := range rule.x {
		x := u * oldest
		age := x * x
		density := 1.0 // of renewals, where it no longer changes
		if t < settled {
			density = renewals(t - age)
		}
		share := rule.weight[i] * oldest * 2 * x * survival(age) * density
		lamps += share
		light += share * maintained(age)
	}
	return light, lamps
}

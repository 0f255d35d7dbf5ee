package cavity

import (
	_ "embed" // the fitted form factor
	"math"
	"sync"

	"lampswap/photometry/internal/table"
)

// ParallelFormFactor returns the exact share of the light of a diffuse rectangle that falls on an equal one facing it at a distance, all
// three in the same unit; 1 at distance 0.
//
//	f = 2/(π x y) [ ½ ln((1+x²)(1+y²)/(1+x²+y²)) + x √(1+y²) atan(x/√(1+y²)) + y √(1+x²) atan(y/√(1+x²)) - x atan x - y atan y ]
//	x = length/distance, y = width/distance
//
// Rounding grows as (distance/width)²: twelve digits hold up to distances of some 30 widths.
func ParallelFormFactor(length, width, distance float64) float64 {
	if distance < 1e-17*min(length, width) {
		return 1 // what escapes through the gap, of the order of distance/width, is below the last bit
	}
	x, y := length/distance, width/distance
	rx, ry := math.Hypot(1, x), math.Hypot(1, y)
	bracket := math.Log1p(x*y/(1+x*x+y*y)*x*y)/2 +
		x*ry*math.Atan(x/ry) + y*rx*math.Atan(y/rx) - x*math.Atan(x) - y*math.Atan(y)
	return min(1, 2*bracket/(math.Pi*x*y)) // rounding may pass 1 where the two nearly touch
}

//go:embed formfactor.csv
var formFactorCSV string

type fitTerm struct{ share, decay float64 }

var formFactorFit = sync.OnceValue(func() []fitTerm {
	var terms []fitTerm
	for _, row := range table.Load("formfactor.csv", formFactorCSV, "term", "share", "decay", "source") {
		terms = append(terms, fitTerm{row.Number("share"), row.Number("decay")})
	}
	return terms
})

// FittedFormFactor returns the published three-term fit of the form factor between floor and ceiling cavity of a room of the given
// cavity ratio, whatever its shape. It is within 0.0007 of a room 1.6 times as long as wide at ratios 0.1 to 10; at ratio 0 it is 0.999.
func FittedFormFactor(roomCavityRatio float64) float64 {
	f := 0.0
	for _, term := range formFactorFit() {
		f += term.share * math.Exp(-term.decay*roomCavityRatio)
	}
	return f
}

// EffectiveReflectance returns the reflectance, 0 to 1, of the opening of a cavity whose base and walls have the given reflectances
// (0 to 1), formFactor being that of opening and base. At cavity ratio 0 it is the base's own.
//
//	ρ = [ρb ρw f (2 q (1-f) - f) + ρb f² + ρw q (1-f)²] / [1 - ρb ρw q (1-f)² - ρw (1 - 2 q (1-f))]
//
// with q = base area / wall area = 2.5 / cavity ratio. Source: IES Lighting Handbook, lighting calculations chapter, from memory,
// unverified as text; it is the exchange of light between base and walls under an opening of unit exitance (our derivation).
// The result is finite for every reflectance from 0 to 1, and 1 if both are 1.
func EffectiveReflectance(base, walls, formFactor, cavityRatio float64) float64 {
	if cavityRatio == 0 || formFactor == 1 { // no depth, or none that the last bit shows
		return base
	}
	f, q := formFactor, 2.5/cavityRatio
	toBase := q * (1 - f) // form factor from the walls to the base, and to the opening
	through := toBase * (1 - f)
	numerator := base*walls*f*(2*toBase-f) + base*f*f + walls*through
	return numerator / (1 - base*walls*through - walls*(1-2*toBase))
}

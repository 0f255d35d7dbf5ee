package losses

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"lampswap/photometry/internal/table"
)

//go:embed luminaire_dirt.csv
var luminaireDirtCSV string

// A Category is an IES luminaire maintenance category, I to VI: how a luminaire is open or closed above and below its lamps.
type Category int

// The categories. Source: public course slide of 2012 on the IES table (seen), in our own words.
const (
	CategoryI   Category = iota + 1 // nothing above, nothing below; a bare strip
	CategoryII                      // at least 15 percent uplight through openings; below nothing, louvers or baffles
	CategoryIII                     // less than 15 percent uplight through openings; below nothing, louvers or baffles
	CategoryIV                      // closed above; below nothing or louvers
	CategoryV                       // closed above; closed below, clear or translucent
	CategoryVI                      // nothing or closed above; closed below
)

var categoryNames = []string{"I", "II", "III", "IV", "V", "VI"}

// String returns the Roman numeral.
func (c Category) String() string { return word(categoryNames, int(c)-1, "Category") }

// CategoryNames returns "I" to "VI".
func CategoryNames() []string { return slices.Clone(categoryNames) }

// ParseCategory returns the category of a Roman numeral, in any letter case.
func ParseCategory(text string) (Category, bool) {
	i := slices.Index(categoryNames, strings.ToUpper(strings.TrimSpace(text)))
	return Category(i + 1), i >= 0
}

// An Atmosphere is how dirty the air around a luminaire is.
type Atmosphere int

// The atmospheres, cleanest first.
const (
	VeryClean Atmosphere = iota + 1
	Clean
	Medium
	Dirty
	VeryDirty
)

var atmosphereNames = []string{"very-clean", "clean", "medium", "dirty", "very-dirty"}

// String returns the contract's word: "very-clean".
func (a Atmosphere) String() string { return word(atmosphereNames, int(a)-1, "Atmosphere") }

// AtmosphereNames returns the contract's words, cleanest first.
func AtmosphereNames() []string { return slices.Clone(atmosphereNames) }

// ParseAtmosphere returns the atmosphere of the contract's word.
func ParseAtmosphere(text string) (Atmosphere, bool) {
	i := slices.Index(atmosphereNames, text)
	return Atmosphere(i + 1), i >= 0
}

func word(words []string, i int, kind string) string {
	if i < 0 || i >= len(words) {
		return fmt.Sprintf("%s(%d)", kind, i+1)
	}
	return words[i]
}

type dirtKey struct {
	category   Category
	atmosphere Atmosphere
}

type dirtConstants struct {
	a, b   float64
	source string
	check  string
}

var luminaireDirt = sync.OnceValue(func() map[dirtKey]dirtConstants {
	all := map[dirtKey]dirtConstants{}
	for _, r := range table.Load("luminaire_dirt", luminaireDirtCSV, "category", "atmosphere", "a", "b", "source", "confidence", "check") {
		category, ok := ParseCategory(r.Text("category"))
		if !ok {
			r.Fail("category", "is not known")
		}
		atmosphere, ok := ParseAtmosphere(r.Text("atmosphere"))
		if !ok {
			r.Fail("atmosphere", "is not known")
		}
		all[dirtKey{category, atmosphere}] = dirtConstants{r.Number("a"), r.Number("b"), r.Text("source"), r.Text("check")}
	}
	return all
})

const (
	errCategory = "losses: no such category or atmosphere"
	errYears    = "losses: years are below 0"
)

// LuminaireDirt returns the share of light left after some years without cleaning, exp(-A t^B), from the embedded constants. It panics if category or
// atmosphere is none of the constants of this package, or years are below 0 or NaN.
func LuminaireDirt(category Category, atmosphere Atmosphere, years float64) Factor {
	constants := dirtOf(category, atmosphere)
	share := constants.share(years)
	return Factor{share, FromTable, Dirt{category, atmosphere, 12 * years, constants.a, constants.b, constants.source, constants.check}}
}

// Dirt is what a factor of luminaire dirt rests on: exp(-A t^B), with the source of A and B and what of them was checked.
type Dirt struct {
	Category      Category
	Atmosphere    Atmosphere
	Months, A, B  float64
	Source, Check string
}

// dirtOf panics if category or atmosphere is none of the constants of this package.
func dirtOf(category Category, atmosphere Atmosphere) dirtConstants {
	constants, ok := luminaireDirt()[dirtKey{category, atmosphere}]
	if !ok {
		panic(errCategory)
	}
	return constants
}

// share is exp(-A t^B). It panics if years are below 0 or NaN.
func (c dirtConstants) share(years float64) float64 {
	if !(years >= 0) {
		panic(errYears)
	}
	return math.Exp(-c.a * math.Pow(years, c.b))
}

// openUplight is the share of the luminaire's light going up that parts category II from III.
const openUplight = 0.15

// SuggestCategory guesses the maintenance category of a luminaire that is open below from the share of its light that goes up, for a file that
// does not tell its closures: from 15 percent on II, below that III, since these openings are what parts the two.
func SuggestCategory(upwardShare float64) Category {
	if upwardShare >= openUplight {
		return CategoryII
	}
	return CategoryIII
}

package losses

import (
	_ "embed"
	"math"
	"slices"
	"sync"

	"lampswap/photometry/internal/table"
)

//go:embed room_surface_dirt.csv
var roomSurfaceDirtCSV string

//go:embed expected_dirt.csv
var expectedDirtCSV string

// A DistributionType is the CIE class of a luminaire by the share of its light that goes up.
type DistributionType int

// The classes, with the upward share of each. Source: CIE classification as in the IES handbook, from memory, unverified.
const (
	Direct         DistributionType = iota + 1 // up to 10 percent
	SemiDirect                                 // to 40
	DirectIndirect                             // to 60
	SemiIndirect                               // to 90
	Indirect                                   // above 90
)

var (
	distributionNames = []string{"direct", "semi-direct", "direct-indirect", "semi-indirect", "indirect"}
	upwardLimits      = []float64{0.10, 0.40, 0.60, 0.90} // of all classes but the last
)

// String returns the class in words: "semi-direct".
func (d DistributionType) String() string {
	return word(distributionNames, int(d)-1, "DistributionType")
}

// DistributionOf returns the class of a luminaire of which the given share of light, 0 to 1, goes up. A share on a limit belongs to the class below.
func DistributionOf(upwardShare float64) DistributionType {
	for i, limit := range upwardLimits {
		if upwardShare <= limit {
			return Direct + DistributionType(i)
		}
	}
	return Indirect
}

// dirtExponent carries the dirt of 12 months to other times: the exponent B of luminaire dirt is near 0.7 for most categories. Assumed.
const dirtExponent = 0.7

type expectedDirt struct {
	percent float64
	source  string
}

var dirtAt12Months = sync.OnceValue(func() map[Atmosphere]expectedDirt {
	all := map[Atmosphere]expectedDirt{}
	for _, r := range table.Load("expected_dirt", expectedDirtCSV, "atmosphere", "percent_at_12_months", "source", "confidence") {
		atmosphere, ok := ParseAtmosphere(r.Text("atmosphere"))
		if !ok {
			r.Fail("atmosphere", "is not known")
		}
		all[atmosphere] = expectedDirt{r.Number("percent_at_12_months"), r.Text("source")}
	}
	return all
})

// ExpectedDirt returns the expected dirt depreciation of room surfaces, percent, after some years without cleaning:
//
//	D(t) = 100 (1 - (1 - D12/100)^(t^0.7))
//
// through 0 at once and the value D12 at 12 months, from memory, about 2 points. The law in time is ours, assumed: that of luminaire dirt. It panics if the atmosphere
// is no constant of this package, or years are below 0 or NaN.
func ExpectedDirt(atmosphere Atmosphere, years float64) (percent float64) {
	at12, ok := dirtAt12Months()[atmosphere]
	if !ok {
		panic(errCategory)
	}
	if !(years >= 0) {
		panic(errYears)
	}
	return 100 * (1 - math.Pow(1-at12.percent/100, math.Pow(years, dirtExponent)))
}

// A surfaceTable is the factor over percent (outer) and room cavity ratio (inner). Its first row is 0 percent, factor 1: no dirt, no loss.
type surfaceTable struct {
	percents, ratios []float64
	factors          [][]float64
	source           string
}

var roomSurfaceDirt = sync.OnceValue(func() map[DistributionType]*surfaceTable {
	all := map[DistributionType]*surfaceTable{}
	rows := table.Load("room_surface_dirt", roomSurfaceDirtCSV, "distribution", "expected_dirt_percent", "room_cavity_ratio", "factor", "source", "confidence")
	percents, ratios := axisOf(rows, "expected_dirt_percent"), axisOf(rows, "room_cavity_ratio")
	for _, r := range rows {
		d := DistributionType(slices.Index(distributionNames, r.Text("distribution")) + 1)
		if d == 0 {
			r.Fail("distribution", "is not known")
		}
		t := all[d]
		if t == nil {
			t = &surfaceTable{percents: append([]float64{0}, percents...), ratios: ratios, source: r.Text("source")}
			for range t.percents {
				t.factors = append(t.factors, slices.Repeat([]float64{math.NaN()}, len(ratios)))
			}
			for j := range ratios {
				t.factors[0][j] = 1
			}
			all[d] = t
		}
		i, j := slices.Index(t.percents, r.Number("expected_dirt_percent")), slices.Index(ratios, r.Number("room_cavity_ratio"))
		t.factors[i][j] = r.Number("factor")
	}
	return all
})

// axisOf lists the values of a column, ascending, each once.
func axisOf(rows []table.Row, column string) []float64 {
	var values []float64
	for _, r := range rows {
		values = append(values, r.Number(column))
	}
	slices.Sort(values)
	return slices.Compact(values)
}

// RoomSurfaceDirt returns the share of light left after some years of dirt on ceiling, walls and floor: the table's value for the
// class of luminaire, bilinear in the expected percent of dirt (ExpectedDirt) and in the room cavity ratio. Outside the table its
// edge counts, and Why says so; towards no dirt it goes to 1. All of it is from memory, unverified. It panics if class or
// atmosphere is no constant of this package, years are below 0 or NaN, or the ratio is NaN.
func RoomSurfaceDirt(distribution DistributionType, atmosphere Atmosphere, years, roomCavityRatio float64) Factor {
	t := surfacesOf(distribution, roomCavityRatio)
	percent := ExpectedDirt(atmosphere, years)
	i, _, offPercent := between(t.percents, percent)
	_, _, offRatio := between(t.ratios, roomCavityRatio)
	why := SurfaceDirt{Distribution: distribution, Atmosphere: atmosphere, Months: 12 * years, Percent: percent, Ratio: roomCavityRatio, Source: t.source}
	if offPercent {
		why.MostPercent = t.percents[i+1]
	}
	if offRatio {
		why.LeastRatio, why.MostRatio = t.ratios[0], t.ratios[len(t.ratios)-1]
	}
	return Factor{t.share(percent, roomCavityRatio), FromTable, why}
}

// SurfaceDirt is what a factor of dirt on the room's surfaces rests on.
type SurfaceDirt struct {
	Distribution          DistributionType
	Atmosphere            Atmosphere
	Months                float64
	Percent, Ratio        float64 // expected dirt, room cavity ratio
	MostPercent           float64 // where the table ends, if dirt is beyond it
	LeastRatio, MostRatio float64 // likewise
	Source                string
}

// surfacesOf panics if the class is no constant of this package or the ratio is NaN.
func surfacesOf(distribution DistributionType, roomCavityRatio float64) *surfaceTable {
	t, ok := roomSurfaceDirt()[distribution]
	if !ok {
		panic("losses: no such distribution type")
	}
	if math.IsNaN(roomCavityRatio) {
		panic("losses: the room cavity ratio is NaN")
	}
	return t
}

// share is the table's factor, bilinear, its edge outside.
func (t *surfaceTable) share(percent, roomCavityRatio float64) float64 {
	i, u, _ := between(t.percents, percent)
	j, w, _ := between(t.ratios, roomCavityRatio)
	return (1-u)*((1-w)*t.factors[i][j]+w*t.factors[i][j+1]) + u*((1-w)*t.factors[i+1][j]+w*t.factors[i+1][j+1])
}

// between finds x in an ascending axis: x = (1-t) axis[i] + t axis[i+1]; outside, the nearest end and clamped.
func between(axis []float64, x float64) (i int, t float64, clamped bool) {
	last := len(axis) - 1
	switch {
	case x < axis[0]:
		return 0, 0, true
	case x > axis[last]:
		return last - 1, 1, true
	}
	for i < last-1 && x >= axis[i+1] {
		i++
	}
	return i, (x - axis[i]) / (axis[i+1] - axis[i]), false
}

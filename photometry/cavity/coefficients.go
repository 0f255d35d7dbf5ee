package cavity

import (
	_ "embed" // the zonal multipliers
	"math"
	"sync"

	"lampswap/photometry"
	"lampswap/photometry/internal/table"
)

// Zones below the horizontal; only they send light straight to the floor cavity.
const downwardZones = photometry.Zones / 2

//go:embed multipliers.csv
var multipliersCSV string

type multiplier struct{ a, b float64 }

type multiplierTable struct {
	zones  [downwardZones]multiplier
	source string
}

var multipliers = sync.OnceValue(func() multiplierTable {
	var m multiplierTable
	for i, row := range table.Load("multipliers.csv", multipliersCSV, "zone", "a", "b", "source") {
		if i >= downwardZones || row.Number("zone") != float64(i+1) {
			panic("cavity: multipliers.csv does not list the zones 1 to 9 in order")
		}
		m.zones[i] = multiplier{row.Number("a"), row.Number("b")}
		m.source = row.Text("source")
	}
	return m
})

// Source returns where the zonal multipliers come from, and that they are remembered, to be shown with a result.
func Source() string { return multipliers().source }

const noSuchZone = "cavity: zonal multipliers are for the zones 1 to 9"

// Multiplier returns the zonal multiplier K = exp(-A G^B): the share of the flux of a ten-degree zone (1 from nadir to 10 degrees, 9 from 80
// to 90) that falls straight on the opening of the floor cavity of a room of cavity ratio G. It panics for any other zone.
func Multiplier(zone int, roomCavityRatio float64) float64 {
	if zone < 1 || zone > downwardZones {
		panic(noSuchZone)
	}
	return math.Exp(-multipliers().zones[zone-1].exponent(roomCavityRatio))
}

func (m multiplier) exponent(g float64) float64 {
	if m.a == 0 {
		return 0
	}
	return m.a * math.Pow(g, m.b)
}

// Coefficients tell where the light of a room ends, per lamp lumen over floor area: times lamp lumens over floor area, m², the utilization
// and the wall direct radiation coefficient are illuminances (lx) of the floor cavity's opening and of the walls, the other two exitances
// (lm/m²).
type Coefficients struct {
	Utilization         float64 // the coefficient of utilization
	WallExitance        float64 // 0 at room cavity ratio 0, where there are no walls
	CeilingExitance     float64 // of the ceiling cavity's opening
	WallDirectRadiation float64 // 0 at room cavity ratio 0
}

// Utilization returns the coefficient of utilization, a pure number; see CoefficientsOf for what it takes.
func Utilization(zonalShare [photometry.Zones]float64, roomCavityRatio, ceiling, walls, floor float64) float64 {
	return CoefficientsOf(zonalShare, roomCavityRatio, ceiling, walls, floor).Utilization
}

// CoefficientsOf returns the coefficients of a room cavity of the given ratio, 0 or more, for zonal fluxes over lamp lumens (Fluxes.Share).
// ceiling and floor are the effective reflectances of the two cavities, all three reflectances 0 to 1. With G the room cavity ratio, f =
// FittedFormFactor(G), D φD the downward share that falls straight on the floor, ρ1 walls, ρ2 ceiling, ρ3 floor, the procedure has
//
//	C1 = (1-ρ1)(1-f²) G / [2.5 ρ1 (1-f²) + G f (1-ρ1)]   C2 = (1-ρ2)(1+f)/(1+ρ2 f)   C3 = (1-ρ3)(1+f)/(1+ρ3 f)   C0 = C1 + C2 + C3
//	CU = 2.5 ρ1 C1 C3 (1-D) φD / [G (1-ρ1)(1-ρ3) C0] + ρ2 C2 C3 φU / [(1-ρ2)(1-ρ3) C0] + [1 - ρ3 C3 (C1+C2) / ((1-ρ3) C0)] D φD / (1-ρ3)
//	CU = (φD + ρ2 φU) / (1 - ρ2 ρ3) at G = 0
//
// and the exitances alike. Here each factor 1-ρ is cancelled by hand (our algebra), so that a reflectance of 1 is as good as any other.
// Where nothing at all absorbs (all three 1, or ceiling and floor at ratio 0), no light ever ends: every coefficient is then +Inf.
func CoefficientsOf(zonalShare [photometry.Zones]float64, roomCavityRatio, ceiling, walls, floor float64) Coefficients {
	g := roomCavityRatio
	var direct, spilled, up float64 // D φD, (1-D) φD, φU
	for i, share := range zonalShare {
		if i >= downwardZones {
			up += share
			continue
		}
		lost := -math.Expm1(-multipliers().zones[i].exponent(g))
		direct += share * (1 - lost)
		spilled += share * lost
	}
	if g == 0 {
		return withoutWalls(direct, up, ceiling, floor)
	}

	f := FittedFormFactor(g)
	// c_i is C_i without its factor 1-ρ_i, own_i the share of C_i's surface that 1 - ρ_i c_i leaves, over 1-ρ_i.
	wallSide := 2.5*walls*(1-f*f) + g*f*(1-walls)
	c1, c2, c3 := (1-f*f)*g/wallSide, (1+f)/(1+ceiling*f), (1+f)/(1+floor*f)
	own1, own2, own3 := g*f/wallSide, 1/(1+ceiling*f), 1/(1+floor*f)
	C1, C2, C3 := (1-walls)*c1, (1-ceiling)*c2, (1-floor)*c3
	c0 := C1 + C2 + C3
	if c0 == 0 {
		return unbounded()
	}

	wallDirect := 2.5 * spilled / g
	fromWalls, fromCeiling, fromFloor := walls*c1*wallDirect, ceiling*c2*up, floor*c3*direct // first exitances, weighted
	return Coefficients{
		Utilization: (c3*(fromWalls+fromCeiling) + (c3+(C1+C2)*own3)*direct) / c0,
		WallExitance: (walls*wallDirect*(c1+(C2+C3)*own1) +
			2.5*walls*c1/g*(fromCeiling+fromFloor)) / c0,
		CeilingExitance:     (ceiling*up*(c2+(C1+C3)*own2) + ceiling*c2*(fromWalls+fromFloor)) / c0,
		WallDirectRadiation: wallDirect,
	}
}

// withoutWalls is the limit of a room without height: ceiling and floor see only each other.
func withoutWalls(down, up, ceiling, floor float64) Coefficients {
	absorbed := 1 - ceiling*floor
	if absorbed == 0 {
		return unbounded()
	}
	return Coefficients{
		Utilization:     (down + ceiling*up) / absorbed,
		CeilingExitance: ceiling * (up + floor*down) / absorbed,
	}
}

func unbounded() Coefficients {
	inf := math.Inf(1)
	return Coefficients{inf, inf, inf, inf}
}

// An Entry is one cell of a table of coefficients of utilization.
type Entry struct {
	RoomCavityRatio, Ceiling, Walls float64
	CoefficientOfUtilization        float64
}

// The columns of the trade's table, and its last ratio.
var (
	tableCeilings = []float64{.80, .70, .50, .30, .10}
	tableWalls    = []float64{.70, .50, .30, .10}
)

const tableRatios = 10

// Table returns the coefficients of utilization for the room cavity ratios 0 to 10, effective ceiling reflectances .80 .70 .50 .30 .10 with wall
// reflectances .70 .50 .30 .10 each, and 0 with 0, in this order, ratio by ratio, at the effective floor reflectance given.
func Table(zonalShare [photometry.Zones]float64, floor float64) []Entry {
	entries := make([]Entry, 0, (tableRatios+1)*(len(tableCeilings)*len(tableWalls)+1))
	add := func(ratio, ceiling, walls float64) {
		entries = append(entries, Entry{ratio, ceiling, walls, Utilization(zonalShare, ratio, ceiling, walls, floor)})
	}
	for i := range tableRatios + 1 {
		ratio := float64(i)
		for _, ceiling := range tableCeilings {
			for _, walls := range tableWalls {
				add(ratio, ceiling, walls)
			}
		}
		add(ratio, 0, 0)
	}
	return entries
}

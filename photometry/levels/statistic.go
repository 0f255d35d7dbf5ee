package levels

import (
	"fmt"
	"slices"
	"strings"
)

// A Statistic is the number that a level is about: one drawn from a grid of illuminances, or one of the whole room.
type Statistic int

// The statistics, in the order of the contract.
const (
	Average Statistic = iota
	Minimum
	Maximum
	AverageToMinimum
	MaximumToMinimum
	PowerDensity   // of the lighting, over the floor; no grid
	Glare          // unified glare rating of the observer who has most; no grid
	ColorRendering // the least index of all lamps; no grid
)

var statisticNames = []string{"average", "minimum", "maximum", "average_to_minimum", "maximum_to_minimum", "power_density", "ugr", "cri"}

// String returns the word that job files and output use: "average", "maximum_to_minimum".
func (s Statistic) String() string {
	if s < 0 || int(s) >= len(statisticNames) {
		return fmt.Sprintf("Statistic(%d)", int(s))
	}
	return statisticNames[s]
}

// Ratio tells whether the statistic is a plain ratio rather than an illuminance or a power density.
func (s Statistic) Ratio() bool { return s == AverageToMinimum || s == MaximumToMinimum }

// Words name the statistic for a reader: "average to minimum", "UGR".
func (s Statistic) Words() string {
	switch s {
	case Glare:
		return "UGR"
	case ColorRendering:
		return "color rendering"
	case Average, Minimum, Maximum, AverageToMinimum, MaximumToMinimum, PowerDensity:
	}
	return strings.ReplaceAll(s.String(), "_", " ")
}

// OfGrid tells whether the statistic is that of the light on a grid, which a meter can prove.
func (s Statistic) OfGrid() bool { return s < PowerDensity }

// Comfort tells whether the statistic is about how light is to live with, not how much there is of it or what it draws.
func (s Statistic) Comfort() bool { return s == Glare || s == ColorRendering }

// Plain tells whether the statistic is a number without a unit.
func (s Statistic) Plain() bool { return s.Ratio() || s.Comfort() }

// StatisticNames returns the words for all statistics, the contract's first.
func StatisticNames() []string { return slices.Clone(statisticNames) }

// ParseStatistic returns the statistic of a word as String gives it.
func ParseStatistic(word string) (Statistic, bool) {
	i := slices.Index(statisticNames, word)
	return Statistic(max(i, 0)), i >= 0
}

// A Unit is what the required value of a criterion is stated in.
type Unit int

// The units of criteria.
const (
	Lux Unit = iota
	Footcandles
	Ratio // or any other plain number
	WattsPerSquareMeter
	WattsPerSquareFoot
)

// String returns the unit's sign: "lx", "fc", "W/ft2"; a ratio has none.
func (u Unit) String() string {
	switch u {
	case Lux:
		return "lx"
	case Footcandles:
		return "fc"
	case Ratio:
		return ""
	case WattsPerSquareMeter:
		return "W/m2"
	case WattsPerSquareFoot:
		return "W/ft2"
	}
	return fmt.Sprintf("Unit(%d)", int(u))
}

// UnitOf returns the unit in which a job states a value of that statistic.
func UnitOf(s Statistic, imperial bool) Unit {
	switch {
	case s.Plain():
		return Ratio
	case s == PowerDensity && imperial:
		return WattsPerSquareFoot
	case s == PowerDensity:
		return WattsPerSquareMeter
	case imperial:
		return Footcandles
	}
	return Lux
}

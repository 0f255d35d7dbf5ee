package levels

import (
	"math"
	"strconv"

	"lampswap/photometry"
	"lampswap/photometry/internal/table"
	"lampswap/photometry/number"
)

// A Criterion is one test of one statistic of one grid: a published level's, or one of the owner's own.
type Criterion struct {
	Name       string // what is shown
	Level      string // id of the published level; empty for an owner's criterion
	Grid       string // name of the grid, WholeRoom or Observers for what is of none; empty where a level does not say and the caller must choose
	Statistic  Statistic
	AtLeast    bool // the value must be at least Required; else at most
	Required   float64
	Unit       Unit   // of Required, as published
	Source     string // empty for an owner's criterion
	Confidence string
	Caveat     string // what a reader must know beside the number; may be empty
}

// WholeRoom stands for the name of a grid where a criterion is about no grid.
const WholeRoom = "whole room"

// Observers stands for the name of a grid where a criterion is about what observers see.
const Observers = "observers"

// rounding is what a value may lack, relative, so that a number and its conversion there and back still meet.
const rounding = 1e-9

// Met tells whether a value meets the criterion. The value is in lx or W/m², or the plain ratio where the statistic is one; it is tested in the unit of the requirement.
// A value that is no finite number meets nothing: a ratio over a minimum of 0 does not meet a limit.
func (c Criterion) Met(value float64) bool {
	value = c.inUnit(value)
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return false
	}
	slack := rounding * math.Abs(c.Required)
	if c.AtLeast {
		return value >= c.Required-slack
	}
	return value <= c.Required+slack
}

// Margin returns by how much of the requirement a value (lx, W/m², or the plain ratio) is on the right side of it: 0.10 is a tenth to spare, -0.10 a tenth short.
// It is NaN where the value is no finite number, or where 0 is required or so little that no number says how often it goes into the value.
func (c Criterion) Margin(value float64) float64 {
	margin := (c.inUnit(value) - c.Required) / c.Required
	if math.IsInf(margin, 0) {
		return math.NaN()
	}
	if c.AtLeast {
		return margin
	}
	return -margin
}

// RequiredIn returns the required value in the job's units, for display: fc or W/ft2 if imperial, else lx or W/m2; a ratio as it is.
func (c Criterion) RequiredIn(imperial bool) float64 {
	switch {
	case c.Unit.perFoot() && !imperial:
		return c.Required * photometry.Footcandle
	case (c.Unit == Lux || c.Unit == WattsPerSquareMeter) && imperial:
		return c.Required / photometry.Footcandle
	}
	return c.Required
}

// mostFiner is how many digits more than usual a value is ever shown with.
const mostFiner = 9

// Finer returns with how many digits more than usual (number.Finer) the required value and what is reached (lx, W/m² or a ratio) are to be shown
// in the job's unit, so that a reader who compares the two sees which of them meets the criterion.
func (c Criterion) Finer(imperial bool, reached ...float64) int {
	required, most := c.RequiredIn(imperial), 0
	for _, x := range reached {
		shown := x
		if imperial && c.Unit != Ratio {
			shown = x / photometry.Footcandle
		}
		if math.IsNaN(x) || math.IsInf(x, 0) {
			continue
		}
		more := most
		for more < mostFiner && c.seems(shown, required, more) != c.Met(x) {
			more++
		}
		most = more
	}
	return most
}

// seems tells whether a value as it is shown meets the required value as that is shown.
func (c Criterion) seems(reached, required float64, more int) bool {
	a, _ := strconv.ParseFloat(number.Finer(reached, more), 64)
	b, _ := strconv.ParseFloat(number.Finer(required, more), 64)
	if c.AtLeast {
		return a >= b
	}
	return a <= b
}

// perFoot tells that the unit is one per square foot: lm/ft2 or W/ft2, both 1/0.3048² of the SI unit.
func (u Unit) perFoot() bool { return u == Footcandles || u == WattsPerSquareFoot }

// SI is one of the unit in SI; 1 for a ratio.
func (u Unit) SI() float64 {
	if u.perFoot() {
		return photometry.Footcandle
	}
	return 1
}

func (c Criterion) inUnit(value float64) float64 { return value / c.Unit.SI() }

// Direction returns the contract's word: "at_least" or "at_most".
func (c Criterion) Direction() string {
	if c.AtLeast {
		return "at_least"
	}
	return "at_most"
}

// ConfidenceWords says for a reader how sure the required value is; "" for one that was seen, and for an owner's criterion.
func (c Criterion) ConfidenceWords() string {
	if c.Confidence == "" {
		return ""
	}
	return table.ConfidenceWords(c.Confidence)
}

// FromMemory tells that the required value is from memory, unverified, and must not be shown as published.
func (c Criterion) FromMemory() bool { return table.FromMemory(c.Confidence) }

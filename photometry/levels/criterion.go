package levels

import (
	"math"

	"lampswap/photometry"
)

// A Criterion is one test of one statistic of one grid: a published level's, or a rule of the owner's own.
type Criterion struct {
	Name       string // what is shown
	Level      string // id of the published level; empty for an owner's rule
	Grid       string // name of the grid; empty where a level does not say and the caller must choose
	Statistic  Statistic
	AtLeast    bool // the value must be at least Required; else at most
	Required   float64
	Unit       Unit   // of Required, as published
	Source     string // empty for an owner's rule
	Confidence string
	Caveat     string // what a reader must know beside the number; may be empty
}

// rounding is what a value may lack, relative, so that a number and its conversion there and back still meet.
const rounding = 1e-9

// Met tells whether a value meets the criterion. The value is in lx, or the plain ratio where the statistic is one; it is tested in the unit of the requirement.
// A value that is no finite number meets nothing: a ratio over a minimum of 0 does not meet a limit.
func (c Criterion) Met(valueLux float64) bool {
	value := c.inUnit(valueLux)
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return false
	}
	slack := rounding * math.Abs(c.Required)
	if c.AtLeast {
		return value >= c.Required-slack
	}
	return value <= c.Required+slack
}

// Margin returns by how much of the requirement a value (lx, or the plain ratio) is on the right side of it: 0.10 is a tenth to spare, -0.10 a tenth short.
// It is NaN where the value is no finite number or 0 is required.
func (c Criterion) Margin(valueLux float64) float64 {
	value := c.inUnit(valueLux)
	if math.IsInf(value, 0) || c.Required == 0 {
		return math.NaN()
	}
	margin := (value - c.Required) / c.Required
	if c.AtLeast {
		return margin
	}
	return -margin
}

// RequiredIn returns the required value in the job's units, for display: fc if imperial, else lx; a ratio as it is.
func (c Criterion) RequiredIn(imperial bool) float64 {
	switch {
	case c.Unit == Footcandles && !imperial:
		return c.Required * photometry.Footcandle
	case c.Unit == Lux && imperial:
		return c.Required / photometry.Footcandle
	}
	return c.Required
}

func (c Criterion) inUnit(valueLux float64) float64 {
	if c.Unit == Footcandles {
		return valueLux / photometry.Footcandle
	}
	return valueLux
}

// Direction returns the contract's word: "at_least" or "at_most".
func (c Criterion) Direction() string {
	if c.AtLeast {
		return "at_least"
	}
	return "at_most"
}

// FromMemory tells that the required value is from memory, unverified, and must not be shown as published.
func (c Criterion) FromMemory() bool { return fromMemory(c.Confidence) }

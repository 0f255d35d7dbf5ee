package proposal

import (
	"strings"

	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/glare"
	"lampswap/photometry/levels"
)

// name is what a criterion is called: as the job has it, or a published level by its name in the language
// of the offer.
func (c *content) name(v levels.Criterion) string {
	l, known := levels.Find(v.Level)
	rest, is := strings.CutPrefix(v.Name, l.Space)
	if !known || !is {
		return v.Name
	}
	level := c.In.Of("level.", l.Space)
	value, evenness := strings.CutPrefix(rest, ", minimum over average ")
	switch {
	case rest == "":
		return level
	case rest == ", any point":
		return c.In.Say("level.any", "level", level)
	case rest == ", UGR":
		return c.In.Say("level.glare", "level", level)
	case rest == ", color rendering":
		return c.In.Say("level.color", "level", level)
	case evenness:
		return c.In.Say("level.evenness", "level", level, "value", value)
	}
	return v.Name
}

// criterionWords says which number of what is tested.
func (c *content) criterionWords(v levels.Criterion) string {
	return typeset.Capital(c.In.Say("criteria.what", "statistic", c.statistic(v.Statistic), "grid",
		c.grid(v.Grid)))
}

func (c *content) statistic(s levels.Statistic) string { return c.In.Say("statistic." + s.String()) }

// onEmergency ends the name of a grid that is lit on emergency power.
const onEmergency = ", on emergency power"

// grid is the name of a grid: the job's own, or a word for one that every job may have.
func (c *content) grid(name string) string {
	if grid, emergency := strings.CutSuffix(name, onEmergency); emergency {
		return c.In.Say("grid.emergency", "grid", grid)
	}
	return c.In.Of("grid.", name)
}

// why says for an owner why there is no value of glare or color; "" where there is one.
func (c *content) why(reason string) string {
	switch glare.Reason(reason) {
	case glare.NothingSeen:
		return c.In.Say("why.seen")
	case glare.NoSize:
		return c.In.Say("why.size")
	case glare.NoBackground:
		return c.In.Say("why.background")
	case glare.NoBouncing:
		return c.In.Say("why.bounce")
	case glare.Rated:
	}
	return c.In.Of("why.", reason)
}

package study

import (
	"fmt"
	"strings"

	"lampswap/photometry/job"
	"lampswap/photometry/levels"
)

// Required says what it takes to meet a criterion, with more digits than usual, in the job's unit, and beside that in the unit in which it was published where that is another:
// at least 53.8 lx (5 fc as published). What is from memory is not said to be published.
func Required(j *job.Job, c levels.Criterion, more int) string {
	text := strings.ReplaceAll(c.Direction(), "_", " ") + " " + Quantity(j, c, c.RequiredIn(false), more)
	if own := levels.UnitOf(c.Statistic, j.Imperial); c.Unit != own {
		text += fmt.Sprintf(" (%.4g %s %s)", c.Required, c.Unit, map[bool]string{true: "from memory", false: "as published"}[c.FromMemory()])
	}
	return text
}

// asks says what a level asks for: average at least 10.0 fc, minimum at least 5.00 fc.
func asks(j *job.Job, l levels.Level) string {
	var all []string
	for _, c := range l.Criteria(j.Imperial) {
		all = append(all, c.Statistic.Words()+" "+Required(j, c, 0))
	}
	return strings.Join(all, ", ")
}

package job

import (
	"fmt"
	"strconv"

	"lampswap/photometry/diag"
	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/levels"
)

func (r *reader) criteria(top *tomlfile.Table) {
	for i, t := range top.Tables("criteria", mostTables) {
		if t.Has("level") {
			r.publishedLevel(t)
		} else {
			r.ownRule(t, i)
		}
		t.Done()
	}
}

// gridOf asks which grid a criterion looks at.
func (r *reader) gridOf(t *tomlfile.Table) string {
	name, ok := t.Word("grid", r.gridNames...)
	if !ok {
		name = workPlane
		if !t.Has("grid") {
			r.default_(t, "grid", strconv.Quote(name), "the task plane")
		}
	}
	return name
}

func (r *reader) publishedLevel(t *tomlfile.Table) {
	grid := r.gridOf(t)
	name, named := t.Text("name")
	id, ok := t.Text("level")
	if !ok {
		return
	}
	level, found := levels.Find(id)
	if !found {
		want := "an id of `lampswap levels`"
		if near := diag.Nearest(id, levels.Names()); near != "" {
			want = near + ", perhaps; " + want
		}
		t.Fault("level", strconv.Quote(id)+" is not in the list of levels", want)
		return
	}
	for _, c := range level.Criteria(r.job.Imperial) {
		c.Grid = grid
		if named {
			c.Name = name
		}
		r.job.Criteria = append(r.job.Criteria, c)
	}
}

func (r *reader) ownRule(t *tomlfile.Table, i int) {
	c := levels.Criterion{Grid: r.gridOf(t), Source: "the owner's own rule"}
	var ok bool
	if c.Name, ok = t.Text("name"); !ok && !t.Has("name") {
		c.Name = fmt.Sprintf("rule %d", i+1)
		r.default_(t, "name", strconv.Quote(c.Name), "rules are numbered")
	}
	word, okStatistic := t.Word("statistic", levels.StatisticNames()...)
	if !t.Has("statistic") {
		word, okStatistic = "average", true
		r.default_(t, "statistic", strconv.Quote(word), "what levels are usually stated for")
	}
	c.Statistic, _ = levels.ParseStatistic(word)
	c.Unit = levels.UnitOf(c.Statistic, r.job.Imperial)
	least, okLeast := t.Number("at_least", tomlfile.NotNegative)
	most, okMost := t.Number("at_most", tomlfile.NotNegative)
	switch {
	case t.Has("at_least") && t.Has("at_most"):
		t.Fault("at_most", "stands beside at_least", "one of the two; two rules for both")
	case !t.Has("at_least") && !t.Has("at_most"):
		t.Missing("at_least", "at_least or at_most, or a published level")
	case okStatistic && okLeast:
		c.AtLeast, c.Required = true, least
		r.job.Criteria = append(r.job.Criteria, c)
	case okStatistic && okMost:
		c.Required = most
		r.job.Criteria = append(r.job.Criteria, c)
	}
}

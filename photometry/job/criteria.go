package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry/codes"
	"lampswap/photometry/diag"
	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/levels"
	"lampswap/photometry/room"
)

func (r *reader) criteria(top *tomlfile.Table) {
	for i, t := range top.Tables("criteria", mostTables) {
		switch {
		case t.Has("level"):
			r.publishedLevel(t)
		case t.Has("energy_code"):
			r.energyCode(t)
		default:
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
			r.default_(t, "grid", strconv.Quote(name), "the usual grid")
		}
	}
	return name
}

func (r *reader) publishedLevel(t *tomlfile.Table) {
	grid := ""
	if !t.Has("statistic") {
		grid = r.gridOf(t)
	}
	name, named := t.Text("name")
	id, ok := t.Text("level")
	if !ok {
		return
	}
	level, found := r.level(t, id)
	if !found {
		return
	}
	if t.Has("statistic") {
		r.comfort(t, level, name, named)
		return
	}
	cylinders := slices.ContainsFunc(r.job.Grids, func(g room.Grid) bool { return g.Name == grid && g.Quantity() == room.Cylindrical })
	switch named := grid == workPlane || slices.ContainsFunc(r.job.Grids, func(g room.Grid) bool { return g.Name == grid }); {
	case named && level.Cylindrical() && !cylinders:
		t.Fault("level", strconv.Quote(id)+" is about cylindrical illuminance, and "+strconv.Quote(grid)+" has another", "a grid with quantity = \"cylindrical\"")
		return
	case cylinders && !level.Cylindrical():
		t.Fault("level", strconv.Quote(id)+" is not about cylindrical illuminance, which "+strconv.Quote(grid)+" has", "a level that is, en2011-faces say, or a rule of your own")
		return
	}
	for _, c := range level.Criteria(r.job.Imperial) {
		c.Grid = grid
		if named {
			c.Name = name
		}
		r.judge(t, "level", c)
	}
}

// comfort reads what of a published level is about glare or color: its statistic says which.
func (r *reader) comfort(t *tomlfile.Table, level levels.Level, name string, named bool) {
	word, ok := t.Word("statistic", levels.Glare.String(), levels.ColorRendering.String())
	if !ok {
		return
	}
	statistic, _ := levels.ParseStatistic(word)
	c, ok := level.Comfort(statistic)
	if !ok {
		t.Fault("statistic", strconv.Quote(level.ID)+" has no limit of "+word, "a level that has one, or a rule of your own")
		return
	}
	if named {
		c.Name = name
	}
	r.gridless(t, c)
	r.judge(t, "level", c)
}

// gridless refuses a grid beside what is of none.
func (r *reader) gridless(t *tomlfile.Table, c levels.Criterion) {
	if name, given := t.Text("grid"); given && name != c.Grid {
		t.Fault("grid", strconv.Quote(name)+" stands beside "+c.Statistic.String(), "no grid: it is of the "+c.Grid)
	}
}

// level finds a published level, or notes that there is none of the name.
func (r *reader) level(t *tomlfile.Table, id string) (level levels.Level, found bool) {
	level, found = levels.Find(id)
	if !found {
		want := "an id of `lampswap levels`"
		if near := diag.Nearest(id, levels.Names()); near != "" {
			want = near + ", perhaps; " + want
		}
		t.Fault("level", strconv.Quote(id)+" is not in the list of levels", want)
	}
	return level, found
}

// energyCode reads a limit of lighting power density: one of the table by its id, or an edition with its space.
func (r *reader) energyCode(t *tomlfile.Table) {
	name, named := t.Text("name")
	id, ok := t.Text("energy_code")
	space, given := t.Text("space")
	if !ok {
		return
	}
	limit, found := codes.Find(id)
	if !found && codes.LimitsFor(id) != nil {
		if limit, found = r.limitFor(t, id, space, given); !found {
			return
		}
	}
	if !found {
		want := "an edition: one of " + strings.Join(codes.Editions(), ", ")
		if near := diag.Nearest(id, codes.Editions()); near != "" {
			want = near + ", perhaps; " + want
		}
		t.Fault("energy_code", strconv.Quote(id)+" is not known", want)
		return
	}
	if !named {
		name = limit.Label()
	}
	r.judge(t, "energy_code", levels.Criterion{Name: name, Level: limit.ID, Grid: levels.WholeRoom, Statistic: levels.PowerDensity,
		Required: limit.WPerFt2, Unit: levels.WattsPerSquareFoot, Source: limit.Citation(), Confidence: limit.Confidence, Caveat: limit.Caveat()})
}

// limitFor finds which limit of an edition is meant: that for the named space, or else that for the kind of space that the room is, space by space
// before the building as a whole. What is not said is not guessed: an office would be held to a warehouse's limit.
func (r *reader) limitFor(t *tomlfile.Table, id, space string, given bool) (limit codes.Limit, found bool) {
	edition, listed := codes.LimitsFor(id), []string{}
	for _, l := range edition {
		listed = append(listed, strconv.Quote(l.Space))
	}
	want := "one of " + strings.Join(listed, ", ")
	if !given && t.Has("space") {
		return codes.Limit{}, false // and has its fault already
	}
	if given {
		for _, l := range edition {
			if strings.EqualFold(l.Space, space) {
				return l, true
			}
		}
		t.Fault("space", strconv.Quote(space)+" is no space of "+id, want)
		return codes.Limit{}, false
	}
	if r.job.Space == nil {
		t.Missing("space", "what the limit is for: [room] space, or "+want)
		return codes.Limit{}, false
	}
	for _, l := range edition {
		if slices.Contains(r.job.Space.CodeSpaces, l.Space) && (!found || l.Method == codes.SpaceBySpace && limit.Method != codes.SpaceBySpace) {
			limit, found = l, true
		}
	}
	if !found {
		t.Fault("energy_code", strconv.Quote(id)+" has no limit in the list for "+r.job.Space.ID,
			"statistic = \"power_density\" and at_most, from the adopted code")
		return codes.Limit{}, false
	}
	r.default_(t, "space", strconv.Quote(limit.Space), "the limit for "+r.job.Space.ID+", which the room is")
	return limit, true
}

func (r *reader) ownRule(t *tomlfile.Table, i int) {
	c := levels.Criterion{Source: "set by the owner"}
	var ok bool
	if c.Name, ok = t.Text("name"); !ok && !t.Has("name") {
		c.Name = fmt.Sprintf("criterion %d", i+1)
		r.default_(t, "name", strconv.Quote(c.Name), "criteria are numbered")
	}
	word, okStatistic := t.Word("statistic", levels.StatisticNames()...)
	if !t.Has("statistic") {
		word, okStatistic = "average", true
		r.default_(t, "statistic", strconv.Quote(word), "what levels usually state")
	}
	c.Statistic, _ = levels.ParseStatistic(word)
	c.Unit = levels.UnitOf(c.Statistic, r.job.Imperial)
	switch {
	case c.Statistic.OfGrid():
		c.Grid = r.gridOf(t)
	case c.Statistic == levels.Glare:
		c.Grid = levels.Observers
		r.gridless(t, c)
	default:
		c.Grid = levels.WholeRoom
		r.gridless(t, c)
	}
	r.limit(t, c, okStatistic)
}

// required is the rule for what a criterion requires: 0 would be met by every light, or by none.
func required() tomlfile.Rule {
	rule := upTo(mostRequired)
	return tomlfile.Rule{Want: strings.Replace(rule.Want, "from 0 to", "above 0 and up to", 1), Holds: func(x float64) bool { return x > 0 && rule.Holds(x) }}
}

// scales are the rules for what is required of numbers that have a scale of their own. CIE 117:1995 uses ratings from 10 to 30 (from memory).
var scales = map[levels.Statistic]tomlfile.Rule{levels.Glare: tomlfile.Between(5, 40), levels.ColorRendering: tomlfile.Between(1, 100)}

// limit reads at_least or at_most, whichever makes sense of the statistic, if that is known.
func (r *reader) limit(t *tomlfile.Table, c levels.Criterion, known bool) {
	rule, scaled := scales[c.Statistic]
	if !scaled || !known {
		rule = required()
	}
	least, okLeast := t.Number("at_least", rule)
	most, okMost := t.Number("at_most", rule)
	switch ratio := c.Statistic.Ratio(); {
	case t.Has("at_least") && t.Has("at_most"):
		t.Fault("at_most", "stands beside at_least", "one of the two; two criteria for both")
	case !t.Has("at_least") && !t.Has("at_most"):
		t.Missing("at_least", "at_least or at_most, or a published level")
	case !known:
	case okLeast && ratio && least <= 1:
		t.Fault("at_least", fmt.Sprintf("is %g of %s, which is 1 or more in every light", least, c.Statistic),
			fmt.Sprintf("at_most; at_most = %.4g limits it as at least %.4g of the inverse would", 1/least, least))
	case okMost && c.Statistic == levels.ColorRendering:
		t.Fault("at_most", "stands with "+c.Statistic.String()+", of which more is better", "at_least")
	case okLeast && (ratio || c.Statistic == levels.PowerDensity || c.Statistic == levels.Glare):
		t.Fault("at_least", "stands with "+c.Statistic.String()+", of which less is better", "at_most")
	case okMost && ratio && most < 1:
		t.Fault("at_most", fmt.Sprintf("is %g of %s, which is 1 or more in every light", most, c.Statistic),
			fmt.Sprintf("1 or more; at_most = %.4g limits it as at least %.4g of the inverse would", 1/most, most))
	case okLeast:
		c.AtLeast, c.Required = true, least
		r.judge(t, "at_least", c)
	case okMost:
		c.Required = most
		r.judge(t, "at_most", c)
	}
}

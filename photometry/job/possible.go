package job

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/levels"
)

// A place is where the file asks for a criterion.
type place struct {
	table *tomlfile.Table
	key   string
}

// path is that of the key, or of the table alone.
func (p place) path() string { return strings.TrimSuffix(p.table.Path(p.key), ".") }

func (p place) of() string { return place{p.table, ""}.path() }

// judge keeps a criterion and where it is asked for.
func (r *reader) judge(t *tomlfile.Table, key string, c levels.Criterion) {
	r.job.Criteria = append(r.job.Criteria, c)
	r.places = append(r.places, place{t, key})
}

// sameNames refuses two criteria of one name: a reader could not tell which of them is met. A level keeps its published name on every grid;
// it stands once on each.
func (r *reader) sameNames() {
	type called struct {
		at    place
		typed bool
		c     levels.Criterion
	}
	before := map[string][]called{}
	for i, c := range r.job.Criteria {
		if i > 0 && r.places[i].table == r.places[i-1].table {
			continue // a further test of one level
		}
		this := called{r.places[i], r.places[i].table.Has("name"), c}
		name := strings.ToLower(strings.TrimSpace(c.Name))
		for _, other := range before[name] {
			switch {
			case this.typed || other.typed || c.Level == "" || other.c.Level == "":
				this.at.table.Fault("name", strconv.Quote(c.Name)+" is the name of "+other.at.of()+" too", "a name of its own for each criterion")
			case c.Level == other.c.Level && c.Grid == other.c.Grid:
				this.at.table.Fault(this.at.key, strconv.Quote(c.Level)+" stands in "+other.at.of()+" too, for the same grid", "each once")
			default:
				continue
			}
			break
		}
		before[name] = append(before[name], this)
	}
}

// The quantities between which criteria draw bounds: the statistics of one grid, and 1 lx.
const (
	minimum = iota
	average
	maximum
	oneLux
	quantities
)

// A bound is by how much, at most, the logarithm of one quantity exceeds that of another, and which criteria ask for that.
type bound struct {
	most   float64
	asking []int // by their number
}

// bounds are those of each quantity over each other, as tight as the criteria so far make them.
type bounds [quantities][quantities]bound

// ofAnyLight are the bounds of every light: no minimum is above the average, no average above the maximum.
func ofAnyLight() *bounds {
	b := &bounds{}
	for i := range b {
		for k := range b[i] {
			b[i][k].most = math.Inf(1)
		}
		b[i][i].most = 0
	}
	b[minimum][average].most, b[average][maximum].most, b[minimum][maximum].most = 0, 0, 0
	return b
}

// add bounds the logarithm of one quantity over that of another. Where no light keeps that, it returns the criteria that are in its way and
// adds nothing. All bounds stay shortest ways, as in Floyd and Warshall's algorithm: one new edge can only shorten ways that lead over it.
func (b *bounds) add(of, over int, most float64, criterion int) (against []int, possible bool) {
	const slack = 2e-9 // a criterion is met within 1e-9 of its limit
	if back := b[over][of]; back.most+most < -slack {
		return back.asking, false
	}
	before := *b
	for i := range b {
		for k := range b[i] {
			to, from := before[i][of], before[over][k]
			if way := to.most + most + from.most; way < before[i][k].most {
				b[i][k] = bound{way, slices.Concat(to.asking, []int{criterion}, from.asking)}
			}
		}
	}
	return nil, true
}

// keep adds what a criterion asks of its grid.
func (b *bounds) keep(c levels.Criterion, criterion int) (against []int, possible bool) {
	limit := math.Log(c.RequiredIn(false))
	if c.Statistic.Ratio() {
		above := map[levels.Statistic]int{levels.AverageToMinimum: average, levels.MaximumToMinimum: maximum}[c.Statistic]
		return b.add(above, minimum, limit, criterion)
	}
	of := map[levels.Statistic]int{levels.Minimum: minimum, levels.Average: average, levels.Maximum: maximum}[c.Statistic]
	if c.AtLeast {
		return b.add(oneLux, of, -limit, criterion)
	}
	return b.add(of, oneLux, limit, criterion)
}

// contradictions refuses criteria of one grid that no light meets together, whatever lamps give it: one of at least 20 beside one of at
// most 10, or a minimum of at least 30 beside a maximum of at most 20.
func (r *reader) contradictions() {
	grids := map[string]*bounds{}
	for i, c := range r.job.Criteria {
		if !c.Statistic.OfGrid() {
			continue
		}
		if grids[c.Grid] == nil {
			grids[c.Grid] = ofAnyLight()
		}
		against, possible := grids[c.Grid].keep(c, i)
		if possible {
			continue
		}
		var others []string
		for _, k := range against {
			others = append(others, r.asks(k)+" in "+r.places[k].of())
		}
		at := r.places[i]
		at.table.Fault(at.key, fmt.Sprintf("no light has %s beside %s", r.asks(i), strings.Join(others, " and ")),
			"limits that one light can meet on "+strconv.Quote(c.Grid))
	}
}

// asks says what a criterion asks, in the job's unit: average of at most 10.
func (r *reader) asks(criterion int) string {
	c := r.job.Criteria[criterion]
	return strings.ReplaceAll(fmt.Sprintf("%s of %s %.5g", c.Statistic, c.Direction(), c.RequiredIn(r.job.Imperial)), "_", " ")
}

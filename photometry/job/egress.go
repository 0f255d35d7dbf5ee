package job

import (
	"fmt"
	"strconv"

	"lampswap/photometry/internal/tomlfile"
)

// An Egress is the light of the luminaires that stay lit on emergency power, on the path out.
type Egress struct {
	Luminaires []int   // places in the order of the layout, from 0
	Grid       string  // the path: one of the job's grids
	Share      float64 // of its normal light that a luminaire gives on emergency power
	Name       string  // of the path on emergency power, as its criteria name it
}

// usualEgressLevel asks for an average, a least value and a limit of maximum over minimum.
const usualEgressLevel = "ibc-emergency"

func (r *reader) egress(t *tomlfile.Table) {
	if !t.Exists() {
		return
	}
	defer t.Done()
	e := &Egress{Share: 1}
	good := r.egressLuminaires(t, e)
	r.need(t, "grid", "the path out: the name of one of the [[grids]], at the floor")
	name, ok := t.Word("grid", r.gridNames...)
	e.Grid, e.Name = name, name+", on emergency power"
	if share, given := t.Number("light_share", tomlfile.Between(leastShare, 1)); given {
		e.Share = share
	} else if !t.Has("light_share") {
		r.default_(t, "light_share", "1", "full light, as from a generator or inverter; a battery pack gives less: see its label")
	}
	id, named := t.Text("level")
	if !named {
		id = usualEgressLevel
		if !t.Has("level") {
			r.default_(t, "level", strconv.Quote(id), "the building code's levels, where it is adopted")
		}
	}
	level, found := r.level(t, id)
	if !ok || !good || !found {
		return
	}
	r.job.Egress = e
	for _, c := range level.Criteria(r.job.Imperial) {
		c.Grid = e.Name
		r.judge(t, "level", c)
	}
}

// egressLuminaires asks for the numbers of the luminaires, which every system must have.
func (r *reader) egressLuminaires(t *tomlfile.Table, e *Egress) bool {
	r.need(t, "luminaires", "the numbers of the luminaires that stay lit, 1 for the first of the layout, counted along x, then row by row")
	numbers, ok := t.Counts("luminaires", mostPlaces, 1, mostPlaces)
	if !ok {
		return false
	}
	fewest := len(r.job.Existing.Layout.Placements)
	systems := []*System{&r.job.Proposed}
	if r.job.Replacement != nil {
		systems = append(systems, r.job.Replacement)
	}
	for _, s := range systems {
		fewest = min(fewest, len(s.Layout.Placements))
	}
	seen := map[int]bool{}
	for _, n := range numbers {
		switch {
		case fewest > 0 && n > fewest:
			t.Fault("luminaires", fmt.Sprintf("names luminaire %d", n), fmt.Sprintf("a number up to %d, that each system has", fewest))
			return false
		case seen[n]:
			t.Fault("luminaires", fmt.Sprintf("names luminaire %d twice", n), "each once")
			return false
		}
		seen[n] = true
		e.Luminaires = append(e.Luminaires, n-1)
	}
	return fewest > 0
}

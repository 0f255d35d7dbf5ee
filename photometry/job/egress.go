package job

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/number"
)

// An Egress is the path out on emergency power; which luminaires light it then stands with each system.
type Egress struct {
	Grid string // the path: one of the job's grids
	Name string // of the path on emergency power, as its criteria name it
}

// A Pack is one luminaire that stays lit on emergency power.
type Pack struct {
	Place  int     // in the order of the layout, from 0
	Share  float64 // of its normal light; counts where Lumens is 0
	Lumens float64 // that a battery pack makes its lamps give, lm
}

// EmergencyShare returns how much of its light at full output a luminaire of this kind gives on emergency power: a pack's lumens over those of its
// lamps, ballast factor included, as the pack burns them without it, and no more than all; or the share of its normal light, dimmed where it is.
func (s *System) EmergencyShare(p Pack) float64 {
	if p.Lumens > 0 {
		return min(1, p.Lumens/(s.LampLumensEach()*s.BallastFactor))
	}
	return p.Share * s.Output()
}

// FedLit returns the luminaires of one kind that emergency power feeds and that give light; those that failed are dark then too.
func (s *System) FedLit() []Pack {
	return slices.DeleteFunc(slices.Clone(s.Emergency), func(p Pack) bool {
		_, failed := slices.BinarySearch(s.Use.Failed, p.Place)
		return failed
	})
}

// Fed counts the luminaires that emergency power feeds, those that failed too.
func (s *System) Fed() int {
	n := 0
	for _, kind := range s.Kinds() {
		n += len(kind.Emergency)
	}
	return n
}

// usualEgressLevel asks for an average, a least value and a limit of maximum over minimum.
const usualEgressLevel = "ibc-emergency"

// A standby is what one table says of luminaires on emergency power.
type standby struct {
	table         *tomlfile.Table
	listed        bool // it names luminaires
	packs         []Pack
	share, lumens *float64
	most          int // luminaires of every system that it is for
}

// standbys are what is said for a group: of all systems, and of single ones by name.
type standbys struct {
	all   *standby
	bySys map[string]*standby
}

// tables are all of them.
func (g standbys) tables() []*standby {
	all := []*standby{g.all}
	for _, name := range SystemNames {
		if f := g.bySys[name]; f != nil {
			all = append(all, f)
		}
	}
	return all
}

func (r *reader) egress(t *tomlfile.Table) {
	if !t.Exists() {
		for _, g := range r.fed {
			if f := g.all; f.table.Exists() {
				f.table.Fault(first(f.table, "luminaires", "packs"), "stands in a job without [egress]", "[egress] with the grid that is the path out")
			}
		}
		return
	}
	defer t.Done()
	e := &Egress{}
	good := r.egressLuminaires(t)
	r.need(t, "grid", "the path out: the name of one of the [[grids]], at the floor")
	name, ok := t.Word("grid", r.gridNames...)
	e.Grid, e.Name = name, name+", on emergency power"
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

// standbys reads what a table and the tables of single systems in it say of luminaires on emergency power.
func (r *reader) standbys(t *tomlfile.Table) standbys {
	g := standbys{r.standby(t), map[string]*standby{}}
	for i := range r.job.Systems() {
		name := SystemNames[i]
		sub := t.Table(name)
		g.bySys[name] = r.standby(sub)
		sub.Done()
	}
	return g
}

func (r *reader) standby(t *tomlfile.Table) *standby {
	f := &standby{table: t}
	numbers, _ := t.Counts("luminaires", mostPlaces, 1, mostPlaces)
	for _, n := range numbers {
		f.packs = append(f.packs, Pack{Place: n - 1})
	}
	lumens := tomlfile.Between(leastLumens, mostLumens)
	number := tomlfile.Rule{Want: fmt.Sprintf("a luminaire's number, from 1 to %d", mostPlaces), Holds: func(x float64) bool { return x == math.Trunc(x) && x >= 1 && x <= mostPlaces }}
	if packs, ok := t.NumberLists("packs", mostPlaces, 2, number, lumens); ok {
		for _, p := range packs {
			f.packs = append(f.packs, Pack{Place: int(p[0]) - 1, Lumens: p[1]})
		}
	}
	f.listed = t.Has("luminaires") || t.Has("packs")
	if share, ok := t.Number("light_share", tomlfile.Between(leastShare, 1)); ok {
		f.share = &share
	}
	if x, ok := t.Number("pack_lumens", lumens); ok {
		f.lumens = &x
		if t.Has("light_share") {
			t.Fault("pack_lumens", "stands beside light_share", "one of the two: the lumens of a pack, or the share of the luminaire's light that it gives")
		}
	}
	return f
}

// egressLuminaires finds which luminaires of each system stay lit, and by how much; it tells whether that is known.
func (r *reader) egressLuminaires(t *tomlfile.Table) bool {
	whole := r.standbys(t)
	grouped := len(r.job.Groups) > 1
	if !grouped && named(r.tellers(whole)) == nil {
		t.Missing("luminaires", "the numbers of the luminaires that stay lit, 1 for the first of the layout, counted along x, then row by row")
	}
	for _, f := range whole.tables() {
		if grouped && f.listed {
			f.table.Fault(first(f.table, "luminaires", "packs"), "stands in a job with groups", "[groups.egress] of the group in which they hang, with their numbers there")
			return false
		}
	}
	// which tables each kind of luminaire is told by, the nearest first
	type told struct {
		s     *System
		chain []*standby
	}
	var kinds []told
	for i, s := range r.job.Systems() {
		for _, kind := range s.Kinds() {
			chain := []*standby{whole.bySys[SystemNames[i]], whole.all}
			if g, ok := r.fed[kind.Group]; ok {
				chain = append([]*standby{g.bySys[SystemNames[i]], g.all}, chain...)
			}
			kinds = append(kinds, told{kind, chain})
		}
	}
	for _, k := range kinds {
		if f := named(k.chain); f != nil {
			n := len(k.s.Layout.Placements)
			f.most = cmp.Or(min(f.most, n), max(f.most, n)) // of two, the least that is not 0
		}
	}
	checked, good, some := map[*standby]bool{}, true, false
	for _, k := range kinds {
		f := named(k.chain)
		if f == nil {
			continue
		}
		if !checked[f] {
			checked[f] = true
			good = f.sound() && good
		}
		k.s.Emergency = r.packs(t, k.s, f, k.chain)
		some = some || len(k.s.Emergency) > 0
	}
	if grouped && !some && good {
		t.Missing("luminaires", "in a group at least: [groups.egress] luminaires, the numbers of those that stay lit, as they are counted in the group")
	}
	return good && some
}

// tellers are all tables that may name luminaires.
func (r *reader) tellers(whole standbys) []*standby {
	all := whole.tables()
	for _, g := range r.fed {
		all = append(all, g.tables()...)
	}
	return all
}

// named is the first table that names luminaires; nil if none does.
func named(chain []*standby) *standby {
	if i := slices.IndexFunc(chain, func(f *standby) bool { return f.listed }); i >= 0 {
		return chain[i]
	}
	return nil
}

// sound tells that a table names luminaires that there are, each once.
func (f *standby) sound() bool {
	seen := map[int]bool{}
	for _, p := range f.packs {
		key, n := "luminaires", p.Place+1
		if p.Lumens > 0 {
			key = "packs"
		}
		switch {
		case f.most > 0 && n > f.most:
			f.table.Fault(key, fmt.Sprintf("names luminaire %d", n), fmt.Sprintf("a number up to %d, that each system has", f.most))
			return false
		case seen[n]:
			f.table.Fault(key, fmt.Sprintf("names luminaire %d twice", n), "each once")
			return false
		}
		seen[n] = true
	}
	return f.most > 0 && len(f.packs) > 0
}

// packs are the luminaires that a table names with what each gives: what the table says of it, else what the nearest table says of all.
func (r *reader) packs(t *tomlfile.Table, s *System, f *standby, chain []*standby) []Pack {
	usual, at := Pack{Share: 1}, slices.IndexFunc(chain, func(f *standby) bool { return f.share != nil || f.lumens != nil })
	if at >= 0 {
		if by := chain[at]; by.lumens != nil {
			usual = Pack{Lumens: *by.lumens}
		} else {
			usual.Share = *by.share
		}
	}
	all := slices.Clone(f.packs)
	full := s.LampLumensEach() * s.BallastFactor
	tooMuch := func(t *tomlfile.Table, key string, lumens float64) {
		if full > 0 && lumens > full {
			t.Fault(key, fmt.Sprintf("is more than the %s lm that the lamps of a luminaire in %q give", number.Thousands(full), s.Group), "the lumens of its pack, of the label")
		}
	}
	for i := range all {
		if all[i].Lumens > 0 {
			tooMuch(f.table, "packs", all[i].Lumens)
			continue
		}
		all[i].Share, all[i].Lumens = usual.Share, usual.Lumens
		if i == 0 && usual.Lumens > 0 {
			tooMuch(chain[at].table, "pack_lumens", usual.Lumens)
		}
		if i == 0 && at < 0 && !t.Has("light_share") && !t.Has("pack_lumens") && !r.defaulted(t, "light_share") {
			r.default_(t, "light_share", "1", "full light, as from a generator or inverter; a battery pack gives less: see its label")
		}
	}
	slices.SortFunc(all, func(a, b Pack) int { return a.Place - b.Place })
	return all
}

// defaulted tells that a default of a key is listed already.
func (r *reader) defaulted(t *tomlfile.Table, key string) bool {
	return slices.ContainsFunc(r.job.Defaults, func(d Default) bool { return d.Key == t.Path(key) })
}

package job

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/room"
)

// noKind is what a group is of in a system in which it does not hang.
const noKind = "none"

// mostGroups is how many groups of luminaires a job may have.
const mostGroups = 200

// A grouping is what the reading of groups gathers.
type grouping struct {
	*reader
	tables map[string]*tomlfile.Table // of the kinds, by name
	names  []string                   // theirs, in the order of the file
	kinds  map[string]*System         // those that are read
	uses   []map[string]string        // of each group: of which kind it is in each system; "" where that is not known
	third  bool                       // the job compares a replacement
	places int                        // of luminaires so far
}

// groups reads kinds of luminaires, named once, and the groups in which they hang before and after.
func (r *reader) groups(top *tomlfile.Table, roomGood bool) {
	for _, key := range []string{"layout", "existing", "proposed", "replacement"} {
		if top.Table(key); top.Has(key) {
			top.Fault(key, "stands beside [kinds] and [[groups]]", "either of the two: a kind has what ["+key+"] would have, and a group says where it hangs")
		}
	}
	r.fed = map[string]standbys{}
	g := &grouping{reader: r, tables: map[string]*tomlfile.Table{}, kinds: map[string]*System{}}
	kinds := top.Table("kinds")
	r.need(top, "kinds", "tables [kinds.NAME] of the luminaires, as [existing] would have them")
	for _, name := range kinds.Keys() {
		g.tables[name] = kinds.Table(name)
		if name == noKind {
			kinds.Fault(name, `is the word for no luminaires`, "another name")
		}
		g.names = append(g.names, name)
	}
	r.need(top, "groups", "tables [[groups]] of luminaires: name, existing, proposed, and where they hang")
	tables := top.Tables("groups", mostGroups)
	for _, t := range tables {
		g.third = g.third || t.Has("replacement")
	}
	if g.third {
		r.job.Replacement = &System{}
	}
	for _, t := range tables {
		g.uses = append(g.uses, g.usesOf(t))
	}
	for _, name := range g.names {
		g.kind(name)
	}
	kinds.Done()
	for i, t := range tables {
		g.group(t, g.uses[i], roomGood)
	}
	g.whole(top, len(tables) > 0)
}

// usesOf reads of which kind a group is in each system.
func (g *grouping) usesOf(t *tomlfile.Table) map[string]string {
	uses := map[string]string{}
	for _, key := range SystemNames {
		if key != "replacement" {
			g.need(t, key, "a kind of luminaire, or \"none\"")
		}
		uses[key], _ = t.Word(key, append(slices.Clone(g.names), noKind)...)
	}
	return uses
}

// kind reads the luminaires of a name, those that they replace first.
func (g *grouping) kind(name string) {
	if g.kinds[name] != nil {
		return
	}
	t, s := g.tables[name], &System{Kind: name}
	g.kinds[name] = s
	before, used := g.replaced(name)
	if !used && t.Lent() {
		return // of a building, for other rooms
	}
	if !used {
		g.warn(t, "counts for nothing: no group is of this kind")
	}
	g.before = &System{}
	if before != "" {
		g.kind(before)
		g.before = g.kinds[before]
	}
	g.reader.kind(t, s)
	costs := t.Table("costs")
	for _, key := range []string{"installed_cost", "rebate", "other_per_year", "residual"} {
		if costs.Has(key) {
			costs.Fault(key, "stands with one kind of luminaire", "what a system costs as a whole in [costs.proposed], [costs.replacement] or [costs.existing]")
		}
	}
	t.Done()
}

// replaced is the kind in whose place luminaires of a kind come in every group, for what they take over from it; "" where they hang before the
// swap, or come in the place of several or of none: the order of the groups must not matter. used tells that a group is of the kind.
func (g *grouping) replaced(name string) (before string, used bool) {
	var all []string
	for _, uses := range g.uses {
		switch name {
		case uses["existing"]:
			all = append(all, noKind)
		case uses["proposed"], uses["replacement"]:
			all = append(all, uses["existing"])
		}
	}
	slices.Sort(all)
	if same := slices.Compact(all); len(same) == 1 && same[0] != noKind {
		return same[0], true
	}
	return "", len(all) > 0
}

// group reads one group, which becomes a part of each system.
func (g *grouping) group(t *tomlfile.Table, uses map[string]string, roomGood bool) {
	defer t.Done()
	name := g.name(t)
	layout := g.hung(t, roomGood, g.area(t, roomGood), true)
	if t.Has("count") && (t.Has("positions") || t.Has("rows") || t.Has("columns")) {
		t.Count("count", 1, mostPlaces)
		t.Fault("count", "stands beside the places themselves", "a count alone, or rows and columns, or positions")
	}
	if t.Has("area") && t.Has("positions") {
		t.Fault("area", "stands beside positions", "either of the two")
	}
	if layout == nil {
		layout = &Layout{}
	}
	if g.places += len(layout.Placements); g.places > mostPlaces {
		t.Fault("name", fmt.Sprintf("is of a group with which there are %d luminaires", g.places), fmt.Sprintf("at most %d", mostPlaces))
	}
	before, after := g.side(uses["existing"], name, layout), g.side(uses["proposed"], name, layout)
	third := after
	if t.Has("replacement") {
		third = g.side(uses["replacement"], name, layout)
	} else if g.third && after.Kind != "" {
		g.default_(t, "replacement", strconv.Quote(after.Kind), "as proposed")
	}
	if before.Kind == noKind && after.Kind == noKind && third.Kind == noKind {
		t.Fault("proposed", "leaves the group without luminaires before and after", "a kind of luminaire in one system at least")
	}
	g.use(t, before, after, third)
	before.Use.Note, _ = t.Text("note")
	after.Use.Note, third.Use.Note = before.Use.Note, before.Use.Note
	emergency := t.Table("egress")
	g.fed[name] = g.standbys(emergency)
	emergency.Done()
	for i, to := range g.job.Systems() {
		if s := []*System{before, after, third}[i]; s.Kind != noKind {
			to.Parts = append(to.Parts, *s)
		}
	}
}

// name is what a group is called: its number where the job does not say.
func (g *grouping) name(t *tomlfile.Table) string {
	name, ok := t.Text("name")
	if !ok {
		name = fmt.Sprintf("group %d", len(g.job.Groups)+1)
	}
	switch taken := slices.ContainsFunc(g.job.Groups, func(other string) bool { return strings.EqualFold(other, name) }); {
	case taken && ok:
		t.Fault("name", strconv.Quote(name)+" is the name of another group too", "a name of its own for each group")
	case taken && !t.Has("name"):
		t.Missing("name", "a name of its own for each group: "+strconv.Quote(name)+", its number, is the name of another")
	case !t.Has("name"):
		g.default_(t, "name", strconv.Quote(name), "groups are numbered")
	}
	g.job.Groups = append(g.job.Groups, name)
	return name
}

// side is a group in one system, where it is of a kind.
func (g *grouping) side(kind, group string, layout *Layout) *System {
	s := &System{Kind: kind}
	if known := g.kinds[kind]; known != nil {
		*s = *known
		s.Layout = *layout
	}
	s.Group = group
	return s
}

// area reads where in plan a group is spread; the whole room where the job does not say.
func (g *grouping) area(t *tomlfile.Table, roomGood bool) room.Box {
	x, y := tomlfile.Any, tomlfile.Any
	if roomGood {
		x, y = g.within(g.job.Room.Length), g.within(g.job.Room.Width)
	}
	a, ok := t.Numbers("area", 4, x, y, x, y)
	if !ok {
		return g.wholeRoom()
	}
	u := g.unit()
	box := room.Box{Low: room.Vec{X: min(a[0], a[2]) * u, Y: min(a[1], a[3]) * u}.Snap(), High: room.Vec{X: max(a[0], a[2]) * u, Y: max(a[1], a[3]) * u}.Snap()}
	if box.Low.X == box.High.X || box.Low.Y == box.High.Y {
		t.Fault("area", "has no extent", "two corners that differ in x and in y")
		return g.wholeRoom()
	}
	return box
}

// controls are the names that a control may have.
var controls = []string{noKind, "occupancy", "daylight", "dimming", "schedule"}

// use reads how the luminaires of a group are used: which of the existing give no light, for how long they burn, and what is done about it after.
func (g *grouping) use(t *tomlfile.Table, before, after, third *System) {
	if hours, ok := t.Number("hours_per_year", tomlfile.Between(0, 8784)); ok {
		before.Use.HoursPerYear, after.Use.HoursPerYear, third.Use.HoursPerYear = &hours, &hours, &hours
	}
	if s := g.schedule(t, t, "hours_per_year"); s != nil {
		for _, side := range []*System{before, after, third} {
			side.Use.Schedule, side.Use.HoursPerYear = s, &s.HoursPerYear
		}
	}
	g.failed(t, before)
	g.control(t, after)
	g.dimmed(t, after)
}

// failed reads which existing luminaires give no light.
func (g *grouping) failed(t *tomlfile.Table, s *System) {
	u, n := &s.Use, len(s.Layout.Placements)
	number, numbers, ok := t.CountOrCounts("failed", mostPlaces, 0, mostPlaces)
	watts, okWatts := t.Number("failed_watts", tomlfile.Between(0, mostWatts))
	switch {
	case (t.Has("failed") || t.Has("failed_watts")) && s.Kind == noKind && t.Has("existing"):
		t.Fault(first(t, "failed", "failed_watts"), "stands with a group that has no existing luminaires", "a group that has some")
		return
	case okWatts && !t.Has("failed"):
		t.Missing("failed", "how many of the existing luminaires give no light, beside failed_watts")
	}
	if !ok || n == 0 {
		return
	}
	if numbers == nil {
		u.Failed = g.evenly(t, number, n)
	} else {
		u.Failed = g.numbered(t, numbers, n)
	}
	switch {
	case okWatts && watts > s.InputWatts && s.InputWatts > 0:
		t.Fault("failed_watts", fmt.Sprintf("is more than the %.4g W of one that is lit", s.InputWatts), "what the ballast of a failed luminaire still draws")
	case okWatts:
		u.FailedWatts = watts
	case len(u.Failed) > 0 && !t.Has("failed_watts"):
		g.default_(t, "failed_watts", "0", "a failed luminaire draws nothing, assumed")
	}
}

// evenly spreads a number of failed luminaires over the n of a group.
func (g *grouping) evenly(t *tomlfile.Table, number, n int) []int {
	if number > n {
		t.Fault("failed", fmt.Sprintf("is %d, and the group has %d luminaires", number, n), "no more than these")
		return nil
	}
	var places []int
	for i := range number {
		places = append(places, (2*i+1)*n/(2*number))
	}
	if number > 0 {
		g.default_(t, "failed", numbersOf(places), "a number alone is spread evenly over the group, assumed: give the luminaires' numbers")
	}
	return places
}

// numbered are the places of failed luminaires by their numbers, of the n of a group.
func (g *grouping) numbered(t *tomlfile.Table, numbers []int, n int) []int {
	named := map[int]bool{}
	var places []int
	for i, number := range numbers {
		key := fmt.Sprintf("failed[%d]", i)
		switch {
		case number == 0:
			t.Fault(key, "is 0", "numbers from 1, in the order of positions, or along x and then row by row")
		case number > n:
			t.Fault(key, fmt.Sprintf("is %d, and the group has %d luminaires", number, n), "no more than these")
		case named[number]:
			t.Fault(key, fmt.Sprintf("is %d a second time", number), "each once")
		default:
			places = append(places, number-1)
		}
		named[number] = true
	}
	slices.Sort(places)
	return places
}

// numbersOf writes places as the file has them, from 1.
func numbersOf(places []int) string {
	var all []string
	for _, i := range places {
		all = append(all, strconv.Itoa(i+1))
	}
	return "[" + strings.Join(all, ", ") + "]"
}

// first is the first of two keys that is there.
func first(t *tomlfile.Table, a, b string) string {
	if t.Has(a) {
		return a
	}
	return b
}

// control reads what a control saves after the swap.
func (g *grouping) control(t *tomlfile.Table, s *System) {
	name, named := t.Word("control", controls...)
	saving, ok := t.Number("control_saving", tomlfile.Between(0, 0.99))
	controlled := named && name != noKind
	switch {
	case (controlled || ok) && s.Kind == noKind && t.Has("proposed"):
		t.Fault(first(t, "control", "control_saving"), "stands with a group that has no proposed luminaires", "a group that has some")
		return
	case ok && saving > 0 && !controlled && (named || !t.Has("control")):
		t.Fault("control_saving", "stands without a control", "control = "+`"occupancy", "daylight", "dimming" or "schedule" beside it`)
	case controlled && !t.Has("control_saving"):
		g.default_(t, "control_saving", "0", "no saving is taken that the job does not give"+g.offered(name))
	}
	s.Use.Control, s.Use.ControlSaving = name, saving
}

// offered is the published saving of a sensor in the job's kind of space, to be taken or not.
func (g *grouping) offered(control string) string {
	if g.job.Space == nil || control != "occupancy" {
		return ""
	}
	share, source, ok := g.job.Space.SensorSaving()
	if !ok {
		return ""
	}
	return fmt.Sprintf("; a model counts %.2g for %s (%s)", share, g.job.Space.ID, source)
}

// dimmed reads at how much of its light each proposed luminaire is set.
func (g *grouping) dimmed(t *tomlfile.Table, s *System) {
	to, ok := t.Number("dimmed_to", tomlfile.Between(0.01, 1))
	watts, okWatts := t.Number("dimmed_watts", tomlfile.Between(leastWatts, mostWatts))
	switch {
	case (ok || okWatts) && s.Kind == noKind && t.Has("proposed"):
		t.Fault(first(t, "dimmed_to", "dimmed_watts"), "stands with a group that has no proposed luminaires", "a group that has some")
		return
	case okWatts && !t.Has("dimmed_to"):
		t.Missing("dimmed_to", "at what share of their light the luminaires are set, beside dimmed_watts")
		return
	case okWatts && s.InputWatts > 0 && watts > s.InputWatts:
		t.Fault("dimmed_watts", fmt.Sprintf("is more than the %.4g W at full output", s.InputWatts), "what one luminaire draws when it is dimmed")
		return
	case !ok || to == 1 && !okWatts:
		return
	}
	s.Use.DimmedTo, s.Use.DimmedWatts = to, watts
	if !okWatts && !t.Has("dimmed_watts") {
		s.Use.DimmedWatts = to * s.InputWatts
		g.default_(t, "dimmed_watts", strconv.FormatFloat(s.Use.DimmedWatts, 'g', 6, 64), "in proportion to the light, assumed")
	}
}

// meanHeight is the mean mounting height of luminaires of several kinds, each counting by its lamp lumens. It is no higher than the highest, to the
// last bit, as all may hang at the ceiling.
func meanHeight(parts []System) float64 {
	sum, lumens, low, high := 0.0, 0.0, math.Inf(1), math.Inf(-1)
	for _, p := range parts {
		weight, height := float64(len(p.Layout.Placements))*p.LampLumensEach(), p.Layout.MountingHeight
		sum, lumens = sum+weight*height, lumens+weight
		low, high = min(low, height), max(high, height)
	}
	return min(max(sum/lumens, low), high)
}

// whole settles each system: one kind of luminaire stands for itself.
func (g *grouping) whole(top *tomlfile.Table, some bool) {
	for i, s := range g.job.Systems() {
		switch {
		case len(s.Parts) == 0 && some:
			top.Fault("groups", "leave the "+SystemNames[i]+" system without a luminaire", "one group at least that is not \"none\" in it")
		case len(s.Parts) == 1:
			*s = s.Parts[0]
		default:
			s.Layout.MountingHeight = meanHeight(s.Parts)
		}
	}
	lit := 0
	for _, s := range g.job.Existing.Kinds() {
		lit += len(s.Layout.Placements) - len(s.Use.Failed)
	}
	if lit == 0 && g.job.Existing.Number() > 0 {
		top.Fault("groups", "have no existing luminaire that gives light", "one at least: light that is none cannot be compared")
	}
}

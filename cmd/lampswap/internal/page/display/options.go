package display

import (
	"fmt"
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/page/form"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/catalog"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/number"
	"lampswap/photometry/options"
	"lampswap/photometry/wording"
)

// Options are the page of every lamp and ballast for the job's fixtures.
type Options struct {
	Title, Note, Sorry string
	Origin             string
	Asked              OptionsAsked
	Groups             []form.OptionView // nil of a job of one group
	Sorts              []form.OptionView
	Sentences          []string
	Columns            []string
	Parts              []optionsPart
	Shown, All         int
	Hidden             []string
	Criteria, Notes    []string
	NotAllowed         []string
	LeftOut            []string
	Power              string // what the cost of power holds
	Group              string // whose proposed luminaires vary
}

// OptionsAsked is which of them are shown.
type OptionsAsked struct {
	Group, Lamp, Sort string
	Every             bool
}

type optionsPart struct {
	Name string
	Rows []optionRow
}

type optionRow struct {
	Name   string // in words
	Cells  []string
	Keys   []OptionKey // what puts it into the job; nil where it is there, or cannot be put there
	Darker bool
}

// An OptionKey is a field of the form that puts a row into the job.
type OptionKey struct{ Name, Value string }

// OptionsAskedOf reads what is asked for.
func OptionsAskedOf(q url.Values) OptionsAsked {
	short := func(key string) string { s := q.Get(key); return strings.ToValidUTF8(s[:min(len(s), 200)], "") }
	return OptionsAsked{Group: short("group"), Lamp: strings.TrimSpace(short("lamp")), Sort: short("sort"), Every: q.Get("every") != ""}
}

// GroupsOf are the groups that propose luminaires; nil where there is one only.
func (a *OptionsAsked) GroupsOf(j *job.Job) []form.OptionView {
	var names []string
	for _, kind := range j.Proposed.Kinds() {
		names = append(names, kind.Group)
	}
	if len(names) < 2 {
		a.Group = ""
		return nil
	}
	if !slices.Contains(names, a.Group) {
		a.Group = names[0]
	}
	var all []form.OptionView
	for _, name := range names {
		all = append(all, form.OptionView{Value: name, Label: name, Selected: name == a.Group})
	}
	return all
}

// takes tells whether a row is asked for; the job's own systems always are.
func (a OptionsAsked) takes(p *options.Option) bool {
	lamp := p.From.Lamp
	switch {
	case p.Own():
		return true
	case lamp == nil || a.Sort == "led" && !lamp.LED || a.Sort == "fluorescent" && lamp.LED:
		return false
	}
	return strings.Contains(strings.ToLower(lamp.Name+" "+lamp.Family), strings.ToLower(a.Lamp))
}

// Fill shows the options that are asked for.
func (v *Options) Fill(o *options.Options) {
	view := units.Of(o.Job)
	glare, priced := ledger.AsksOfGlare(o.Job), len(o.List) > 0 && o.List[0].EnergyCost != nil
	for _, s := range [][2]string{{"", "all"}, {"led", "LED tubes"}, {"fluorescent", "fluorescent"}} {
		v.Sorts = append(v.Sorts, form.OptionView{Value: s[0], Label: s[1], Selected: s[0] == v.Asked.Sort})
	}
	v.Group, v.Sentences = o.Group, typeset.All(wording.Options(o))
	v.Columns = []string{"lamps", "ballast", "W", typeset.Text("W/" + view.Length + "2"), "average, " + view.Illuminance, "minimum, " + view.Illuminance, "of existing"}
	if glare {
		v.Columns[6] = "UGR"
	}
	if priced {
		v.Columns = append(v.Columns, "power, cost a year")
		v.Power = ledger.PowerCost
	}
	v.Columns = append(v.Columns, "note")
	var shown []*options.Option
	hidden, nearest := map[string]int{}, o.Nearest()
	for i := range o.List {
		p := &o.List[i]
		if !v.Asked.takes(p) {
			continue
		}
		v.All++
		part := ledger.OptionPart(o, p)
		if !v.Asked.Every && !ledger.ShowsFirst(p, len(shown)) && p != nearest {
			hidden[part]++
			continue
		}
		shown = append(shown, p)
		if n := len(v.Parts); n == 0 || v.Parts[n-1].Name != part {
			v.Parts = append(v.Parts, optionsPart{Name: part})
		}
		last := &v.Parts[len(v.Parts)-1]
		last.Rows = append(last.Rows, optionRowOf(o, p, glare, priced))
	}
	v.Shown = len(shown)
	for _, part := range slices.Sorted(maps.Keys(hidden)) {
		v.Hidden = append(v.Hidden, fmt.Sprintf("%d more: %s", hidden[part], part))
	}
	v.Criteria, v.Notes, v.NotAllowed = typeset.All(ledger.OptionCriteria(o, shown)), signed(ledger.NoteLines(o.Job, shown)), typeset.All(ledger.NotAllowed(shown))
	v.LeftOut = typeset.All(wording.LeftOut(o))
}

// signed are notes with the signs of paper; their own signs stay as they are.
func signed(notes []string) []string {
	var all []string
	for _, n := range notes {
		all = append(all, typeset.Text(n))
	}
	return all
}

func optionRowOf(o *options.Options, p *options.Option, glare, priced bool) optionRow {
	kind, watts := ledger.BallastCell(p)
	lamps := wording.Lamps(p)
	if p.Empty() {
		lamps += " in " + wording.Filled(p) + " of the length"
	}
	if b := p.From.Ballast; b != nil && len(b.Parts) > 1 {
		kind = b.Set()
	}
	row := optionRow{Name: wording.Option(p), Darker: p.Darker, Keys: optionKeys(o, p)}
	last := number.Decimals(0)(100*p.OfExisting) + " %"
	if glare {
		last = ledger.OptionLight(o.Job, p, levels.Glare)
	}
	if p.Darker {
		last += ", darker"
	}
	row.Cells = []string{lamps, kind, watts, ledger.OptionLight(o.Job, p, levels.PowerDensity), ledger.OptionLight(o.Job, p, levels.Average), ledger.OptionLight(o.Job, p, levels.Minimum), last}
	if priced {
		row.Cells = append(row.Cells, units.Of(o.Job).Money(*p.EnergyCost))
	}
	row.Cells = append(row.Cells, strings.TrimSpace(ledger.OptionMarks(p)+" "+ledger.OptionSigns(p)))
	for i, c := range row.Cells {
		row.Cells[i] = typeset.Text(c)
	}
	return row
}

// optionKeys are the fields that put a row into the job: lamps and ballast, and whose fixture they are in. A row that must not be chosen has none, nor
// has one in a fixture that hangs otherwise than the proposed.
func optionKeys(o *options.Options, p *options.Option) []OptionKey {
	if len(p.Keys()) == 0 || !p.May() {
		return nil
	}
	after := o.Job.Proposed.Find(o.Group)
	if after == nil {
		return nil
	}
	host := "proposed"
	if p.From.Section != after.Section || p.From.Photometry != after.Photometry {
		before := o.Job.Existing.Find(o.Group)
		if before == nil || p.From.Section != before.Section || p.From.Photometry != before.Photometry || len(before.Layout.Placements) != len(after.Layout.Placements) {
			return nil
		}
		for i, place := range before.Layout.Placements {
			if place != after.Layout.Placements[i] {
				return nil
			}
		}
		host = "existing"
	}
	keys := []OptionKey{{"group", o.Group}, {"host", host}, {"lamp", p.From.Lamp.Name}, {"lamps", strconv.Itoa(p.From.Lamps)}, {"ballast", p.From.Ballast.Kind}}
	if p.From.Section != nil {
		keys = append(keys, OptionKey{"end_to_end", strconv.Itoa(p.From.Tubes.EndToEnd)})
	}
	return keys
}

// ofTheLamp are the keys that describe a lamp or a ballast in place of the lists.
var ofTheLamp = []string{"lamp_lumens", "mean_lumens", "lamp_kind", "led_type", "lamp_watts", "lamp_length", "lamp_diameter", "beam_angle", "rated_life_hours", "minimum_temperature",
	"cri", "cct", "ballast_factor", "input_watts", "end_to_end"}

// A BadOptionError is a row that no page of ours shows.
type BadOptionError struct{ error }

// PutOption writes a row of the options into the text of its job: the lamps and the ballast, and the fixture where they are in the existing one.
// It errs for what no row has.
func PutOption(text string, posted url.Values) (string, error) {
	t, err := tomltext.Read(text)
	if err != nil {
		return "", err
	}
	lamp, known := catalog.FindLamp(posted.Get("lamp"))
	lamps, err := strconv.Atoi(posted.Get("lamps"))
	if !known || err != nil {
		return "", BadOptionError{fmt.Errorf("there is no such lamp in the list")}
	}
	ballast, known := catalog.FindBallast(lamp, lamps, posted.Get("ballast"))
	if !known {
		return "", BadOptionError{fmt.Errorf("there is no such ballast for these lamps")}
	}
	to, from, err := kindToChange(t, posted.Get("group"))
	if err != nil {
		return "", err
	}
	if posted.Get("host") == "existing" {
		if err := takeFixture(t, to, from); err != nil {
			return "", err
		}
	}
	was, _ := catalog.FindLamp(form.Shown(t, to+"lamp"))
	gone := slices.Clone(ofTheLamp)
	if was.Name != lamp.Name {
		gone = append(gone, "losses.lamp_lumen_depreciation", "losses.total")
	}
	if was.Family != lamp.Family {
		gone = append(gone, "losses.temperature", "temperature_points")
	}
	for _, key := range gone {
		if err := t.Delete(to + key); err != nil {
			return "", err
		}
	}
	pairs := [][2]string{{"lamp", tomltext.Quote(lamp.Name)}, {"lamps", strconv.Itoa(lamps)}}
	if n, err := strconv.Atoi(posted.Get("end_to_end")); err == nil && n > 0 && n <= lamps {
		pairs = append(pairs, [2]string{"end_to_end", strconv.Itoa(n)})
	}
	for _, p := range append(pairs, [2]string{"ballast", tomltext.Quote(ballast.Kind)}) {
		if err := t.Set(to+p[0], p[1]); err != nil {
			return "", err
		}
	}
	return t.String(), nil
}

// kindToChange is the table of the proposed luminaires of a group, and that of its existing ones, each with a point behind it. A kind that hangs
// elsewhere too is not changed: the group gets a kind of its own, alike to it.
func kindToChange(t *tomltext.Text, group string) (to, from string, err error) {
	if !t.Has("groups") && !t.Has("kinds") {
		return "proposed.", "existing.", nil
	}
	at, uses := -1, map[string]int{}
	for i := range t.Count("groups") {
		of := func(key string) string { return form.Shown(t, fmt.Sprintf("groups[%d].%s", i, key)) }
		for _, system := range job.SystemNames {
			uses[of(system)]++
		}
		if name := of("name"); at < 0 && (name == group || name == "" && group == fmt.Sprintf("group %d", i+1)) {
			at = i
		}
	}
	if at < 0 {
		return "", "", BadOptionError{fmt.Errorf("there is no such group in the job")}
	}
	path := fmt.Sprintf("groups[%d].", at)
	kind, before := form.Shown(t, path+"proposed"), form.Shown(t, path+"existing")
	if !t.Has("kinds." + kind) {
		return "", "", BadOptionError{fmt.Errorf("nothing is proposed in this group")}
	}
	if uses[kind] > 1 {
		name := kind
		for n := 2; t.Has("kinds." + name); n++ {
			name = fmt.Sprintf("%s-%d", kind, n)
		}
		if err := t.CopyTable("kinds."+kind, name); err != nil {
			return "", "", err
		}
		if err := t.Set(path+"proposed", tomltext.Quote(name)); err != nil {
			return "", "", err
		}
		kind = name
	}
	return "kinds." + kind + ".", "kinds." + before + ".", nil
}

// takeFixture gives the proposed luminaires the fixture of the existing ones, with how it gathers dirt.
func takeFixture(t *tomltext.Text, to, from string) error {
	losses := []string{"losses.luminaire_dirt_depreciation", "losses.room_surface_dirt_depreciation", "losses.lamp_burnout", "losses.voltage", "losses.other"}
	for _, key := range append([]string{"photometry", "fixture", "maintenance_category"}, losses...) {
		raw := t.Raw(from + key)
		if err := t.Delete(to + key); err != nil {
			return err
		}
		if raw == "" {
			continue
		}
		if err := t.Set(to+key, raw); err != nil {
			return err
		}
	}
	return nil
}

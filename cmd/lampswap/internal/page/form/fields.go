package form

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/lists"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry"
	"lampswap/photometry/catalog"
	"lampswap/photometry/fixture"
	"lampswap/photometry/levels"
	"lampswap/photometry/losses"
	"lampswap/photometry/spaces"
)

// A Part is a group of fields below a heading; a list is one whose elements can be added and taken out.
type Part struct {
	id, heading, note string
	fields            []Field
	pairs             [][2][]Field // two columns: existing and proposed
	list              string       // name of the array of tables
	table             bool         // its elements are rows of a table
	names             []string     // of the elements; nil where they are numbered
	element           string       // what one is called
	elements          [][]Field
	adds              []Option // what can be added: value of the button, and its words
	folded            bool
}

// PartsOf are all the parts of the form for a text.
func PartsOf(t *tomltext.Text, uploaded, beside []string) []Part {
	all := []Part{
		{id: "space", heading: "The room", fields: spaceFields(), note: outlineNote(t)},
		{id: "hang", heading: "Where the luminaires hang", fields: layoutFields(t), note: layoutNote(t),
			adds: []Option{{Value: "to-groups", Label: "There is more than one kind of luminaire, or some have failed"}}},
		{id: "swap", heading: "The swap", pairs: [][2][]Field{{systemFields(t, "existing.", uploaded, beside), systemFields(t, "proposed.", uploaded, beside)}}},
		{id: "lamps", heading: "A lamp by its own figures", folded: !describesLamps(t), note: "What its data sheet says, in place of the lamp list or besides it. A length is a number, or a text such as 1 in or 26 mm.",
			pairs: [][2][]Field{{lampFields("existing."), lampFields("proposed.")}}},
		{id: "racks", heading: "Racks", note: "A block on the floor, or a row of equal blocks; with a bottom it hangs, as a mezzanine or a duct does. x runs along the room's length, y along its width.", list: "racks", element: "Rack",
			elements: elementsOf(t, "racks", rackFields), adds: []Option{{Value: "add-rack", Label: "Add a rack"}}},
		{id: "places", heading: "More grids", note: "Besides the work plane: points on a rack face or a wall, or on a part of the floor.", list: "grids", element: "Grid",
			elements: elementsOf(t, "grids", func(p string) []Field { return gridFields(t, p) }),
			adds:     []Option{{Value: "add-face", Label: "Add a vertical face"}, {Value: "add-area", Label: "Add a floor area"}}},
		{id: "asked", heading: "Criteria", list: "criteria", element: "Criterion",
			elements: elementsOf(t, "criteria", func(p string) []Field { return criterionFields(t, p) }),
			adds:     []Option{{Value: "add-level", Label: "Add a published level"}, {Value: "add-rule", Label: "Add a criterion of your own"}}},
		{id: "upkeep", heading: "Use and upkeep", fields: upkeepFields(t)},
		{id: "money", heading: "Money", fields: moneyFields(), folded: true},
		{id: "losses", heading: "Light loss factors that you know better", folded: true, note: "A factor given here replaces the computed one. The total replaces them all.",
			pairs: [][2][]Field{{lossFields("existing."), lossFields("proposed.")}}},
		{id: "sheet", heading: "Title page and points", fields: sheetFields(), folded: true},
	}
	if !grouped(t) {
		return all
	}
	all = slices.DeleteFunc(all, func(p Part) bool { return p.id == "hang" || p.id == "swap" || p.id == "lamps" || p.id == "losses" })
	return slices.Insert(all, 1, groupParts(t, uploaded, beside)...)
}

// grouped tells that the luminaires of a job stand in groups.
func grouped(t *tomltext.Text) bool {
	return t.Has("groups") || t.Has("kinds") || t.Count("groups") > 0
}

// FieldsOf are all the fields of a text, in the order of the form.
func FieldsOf(parts []Part) []Field {
	var all []Field
	for _, p := range parts {
		all = append(all, p.fields...)
		for _, pair := range p.pairs {
			all = append(append(all, pair[0]...), pair[1]...)
		}
		for _, e := range p.elements {
			all = append(all, e...)
		}
	}
	return all
}

func elementsOf(t *tomltext.Text, name string, fields func(prefix string) []Field) [][]Field {
	var all [][]Field
	for i := range min(t.Count(name), mostShown) {
		all = append(all, fields(fmt.Sprintf("%s[%d].", name, i)))
	}
	return all
}

// mostShown is how many racks, grids or criteria have fields of their own; the text may have more.
const mostShown = 60

func spaceFields() []Field {
	return []Field{
		{Path: "title", label: "Name of the job", kind: words},
		{Path: "units", label: "Units", kind: choice, choices: []Option{{Value: "imperial", Label: "feet, fc"}, {Value: "metric", Label: "meters, lx"}},
			hint: "Changes what the numbers mean; converts none."},
		{Path: "room.length", label: "Length", unit: "length"},
		{Path: "room.width", label: "Width", unit: "length"},
		{Path: "room.height", label: "Height", unit: "length"},
		{Path: "room.work_plane", label: "Work plane", unit: "length"},
		{Path: "room.reflectance.ceiling", label: "Ceiling reflectance", unit: "0–1"},
		{Path: "room.reflectance.walls", label: "Wall reflectance", unit: "0–1"},
		{Path: "room.reflectance.floor", label: "Floor reflectance", unit: "0–1"},
		{Path: "room.space", label: "Kind of space", kind: choice, blank: "not said", choices: kindsOfSpace(), hint: "Which levels and energy codes are about it."},
	}
}

// kindsOfSpace are the ids of the list of spaces, grouped by the building.
func kindsOfSpace() []Option {
	var all []Option
	for _, s := range spaces.Spaces() {
		group := s.Building
		if group == "any" {
			group = "Any building"
		}
		all = append(all, Option{s.ID, s.Name + " (" + s.ID + ")", group})
	}
	slices.SortStableFunc(all, func(a, b Option) int { return strings.Compare(a.Group, b.Group) })
	return all
}

func layoutFields(t *tomltext.Text) []Field {
	fields := []Field{{Path: "layout.mounting_height", label: "Mounting height", unit: "length"}}
	if !t.Has("layout.positions") {
		fields = append(fields, Field{Path: "layout.rows", label: "Rows", kind: whole, hint: "Across the width."},
			Field{Path: "layout.columns", label: "In each row", kind: whole, hint: "Along the length."})
	}
	return append(fields, Field{Path: "layout.lamps_along", label: "Lamps lie along its", kind: choice, blank: "length (usual)", choices: []Option{{Value: "length", Label: "length"}, {Value: "width", Label: "width"}}})
}

func outlineNote(t *tomltext.Text) string {
	if n := t.Count("room.outline"); n > 0 {
		return fmt.Sprintf("The job gives an outline of %d corners, which are changed in the text; length and width are left to it where they are blank.", n)
	}
	return ""
}

func layoutNote(t *tomltext.Text) string {
	if n := t.Count("layout.positions"); n > 0 {
		return fmt.Sprintf("The job gives %d positions one by one; they are changed in the text.", n)
	}
	return ""
}

func systemFields(t *tomltext.Text, prefix string, uploaded, beside []string) []Field {
	lamp, known := catalog.FindLamp(Shown(t, prefix+"lamp"))
	lamps, _ := strconv.Atoi(Shown(t, prefix+"lamps"))
	var feeds []Option
	if known {
		for _, b := range catalog.BallastsFor(lamp, lamps) {
			feeds = append(feeds, Option{Value: b.Kind, Label: fmt.Sprintf("%s: factor %.2f, %.0f W", b.Kind, b.BallastFactor, b.InputWatts)})
		}
	}
	return []Field{
		{Path: prefix + "source", label: "Fixture", kind: source, choices: sources(uploaded, beside)},
		{Path: prefix + "lamp", label: "Lamp", kind: choice, blank: "not of the list", choices: lampOptions()},
		{Path: prefix + "lamps", label: "Lamps in a luminaire", kind: whole},
		{Path: prefix + "ballast", label: "Ballast", kind: choice, blank: "not of the list", choices: feeds},
		{Path: prefix + "lamp_lumens", label: "Initial lumens, a lamp", unit: "lm", hint: "In place of the lamp list."},
		{Path: prefix + "ballast_factor", label: "Ballast factor", unit: "of 1"},
		{Path: prefix + "input_watts", label: "Input watts, a luminaire", unit: "W"},
		{Path: prefix + "maintenance_category", label: "Maintenance category", kind: choice, blank: "as its light suggests", choices: named(losses.CategoryNames())},
	}
}

// describesLamps tells that the text gives a figure of a lamp.
func describesLamps(t *tomltext.Text) bool {
	return slices.ContainsFunc(append(lampFields("existing."), lampFields("proposed.")...), func(f Field) bool { return t.Has(f.Path) })
}

// lampFields describe a lamp that is none of the list.
func lampFields(prefix string) []Field {
	return []Field{
		{Path: prefix + "lamp_kind", label: "Kind", kind: choice, blank: "as listed, else fluorescent",
			choices: []Option{{Value: "fluorescent", Label: "fluorescent lamp"}, {Value: "led", Label: "LED tube"}}},
		{Path: prefix + "led_type", label: "LED tube, type", kind: choice, blank: "none, or as listed",
			choices: []Option{{Value: "A", Label: "A: on the ballast that stays"}, {Value: "B", Label: "B: on the line, no ballast"}, {Value: "C", Label: "C: external driver"}}},
		{Path: prefix + "lamp_watts", label: "Watts, a lamp", unit: "W"},
		{Path: prefix + "lamp_length", label: "Nominal length", unit: "length"},
		{Path: prefix + "lamp_diameter", label: "Diameter", unit: "length"},
		{Path: prefix + "mean_lumens", label: "Mean lumens, fluorescent", unit: "lm"},
		{Path: prefix + "beam_angle", label: "Beam angle, LED", unit: "°"},
		{Path: prefix + "rated_life_hours", label: "Rated life", unit: "h", hint: "LED: to 70 percent of the lumens (L70)."},
		{Path: prefix + "minimum_temperature", label: "Least ambient", unit: "temperature"},
		{Path: prefix + "cri", label: "Color rendering", unit: "of 100"},
		{Path: prefix + "cct", label: "Color temperature", unit: "K"},
	}
}

func sources(uploaded, beside []string) []Option {
	var all []Option
	for _, name := range uploaded {
		all = append(all, Option{"photometry:" + name, name, "Your files"})
	}
	for _, name := range beside {
		all = append(all, Option{"photometry:" + name, name, "Files at hand"})
	}
	for _, name := range fixture.Builtin() {
		all = append(all, Option{"fixture:" + name, name, "Built-in cross-sections (estimates)"})
	}
	return all
}

func lampOptions() []Option {
	var all []Option
	for _, l := range catalog.Lamps() {
		group := "Fluorescent"
		if l.LED {
			group = "LED tubes"
		}
		all = append(all, Option{l.Name, fmt.Sprintf("%s, %s lm", l.Name, photometry.Thousands(l.InitialLumens)), group})
	}
	slices.SortStableFunc(all, func(a, b Option) int { return strings.Compare(a.Group, b.Group) }) // each kind together
	return all
}

func named(names []string) []Option {
	var all []Option
	for _, n := range names {
		all = append(all, Option{Value: n, Label: n})
	}
	return all
}

func rackFields(prefix string) []Field {
	return []Field{
		{Path: prefix + "corner", label: "Corner", unit: "length", parts: []string{"x", "y"}},
		{Path: prefix + "size", label: "Size", unit: "length", parts: []string{"along x", "along y", "height"}},
		{Path: prefix + "bottom", label: "Bottom above floor", unit: "length", hint: "Blank for one on the floor."},
		{Path: prefix + "repeat.count", label: "How many", kind: whole, hint: "Blank for one."},
		{Path: prefix + "repeat.step", label: "From one to the next", unit: "length", parts: []string{"x", "y"}},
		{Path: prefix + "reflectance", label: "Reflectance", unit: "0–1"},
		{Path: prefix + "transmittance", label: "Transmittance", unit: "0–1"},
	}
}

func gridFields(t *tomltext.Text, prefix string) []Field {
	fields := []Field{{Path: prefix + "name", label: "Name", kind: words}}
	if t.Has(prefix+"area") || t.Has(prefix+"height") {
		return append(fields, Field{Path: prefix + "area", label: "Two corners", unit: "length", parts: []string{"x", "y", "far x", "far y"}},
			Field{Path: prefix + "height", label: "Above floor", unit: "length"}, Field{Path: prefix + "spacing", label: "Points every", unit: "length"})
	}
	return append(fields, Field{Path: prefix + "from", label: "From", unit: "length", parts: []string{"x", "y"}},
		Field{Path: prefix + "to", label: "To", unit: "length", parts: []string{"x", "y"}},
		Field{Path: prefix + "heights", label: "Heights", unit: "length", parts: []string{"lowest", "highest"}},
		Field{Path: prefix + "facing", label: "Faces", unit: "° from +x", hint: "90 looks along +y."},
		Field{Path: prefix + "spacing", label: "Points every", unit: "length"})
}

func criterionFields(t *tomltext.Text, prefix string) []Field {
	grids := []Option{{Value: "work plane", Label: "work plane"}}
	for i := range min(t.Count("grids"), mostShown) {
		if name := Shown(t, fmt.Sprintf("grids[%d].name", i)); name != "" {
			grids = append(grids, Option{Value: name, Label: name})
		}
	}
	where := Field{Path: prefix + "grid", label: "Grid", kind: choice, blank: "work plane (usual)", choices: grids}
	if t.Has(prefix + "level") {
		hint := "Type a word of the space or the source."
		if level, ok := levels.Find(Shown(t, prefix+"level")); ok {
			hint = level.Space + ": " + typeset.Text(lists.Requires(level, Shown(t, "units") != "metric"))
		}
		return []Field{{Path: prefix + "level", label: "Published level", kind: words, list: "levels", hint: hint}, where}
	}
	if t.Has(prefix + "energy_code") {
		return []Field{{Path: prefix + "energy_code", label: "Energy code", kind: words}, {Path: prefix + "space", label: "Space", kind: words}}
	}
	var statistics []Option
	for _, name := range levels.StatisticNames() {
		s, _ := levels.ParseStatistic(name)
		statistics = append(statistics, Option{Value: name, Label: s.Words()})
	}
	unit := unitOfStatistic(Shown(t, prefix+"statistic"))
	return []Field{{Path: prefix + "name", label: "Name", kind: words}, where,
		{Path: prefix + "statistic", label: "Statistic", kind: choice, blank: "average (usual)", choices: statistics},
		{Path: prefix + "at_least", label: "At least", unit: unit}, {Path: prefix + "at_most", label: "At most", unit: unit}}
}

// unitOfStatistic is the unit in which a job states a value of it.
func unitOfStatistic(name string) string {
	s, ok := levels.ParseStatistic(name)
	switch {
	case !ok: // the average, or a word that is no statistic
		return "light"
	case s.Ratio():
		return "to 1"
	case s == levels.PowerDensity:
		return "power"
	case s.Comfort():
		return "on its scale"
	}
	return "light"
}

func upkeepFields(t *tomltext.Text) []Field {
	all := []Field{
		{Path: "upkeep.hours_per_year", label: "Lit for", unit: "h a year"},
		{Path: "upkeep.clean_months", label: "Cleaned every", unit: "months"},
		{Path: "upkeep.relamp_hours", label: "All relamped after", unit: "h burnt", hint: "Blank: one by one, as they fail."},
		{Path: "existing.upkeep.relamp_hours", label: "Only the existing, after", unit: "h burnt"},
		{Path: "proposed.upkeep.relamp_hours", label: "Only the proposed, after", unit: "h burnt"},
		{Path: "upkeep.judged_at", label: "Lamps judged after", unit: "h burnt", hint: "Or mid-life, or end."},
		{Path: "upkeep.atmosphere", label: "Atmosphere", kind: choice, blank: "not said", choices: named(losses.AtmosphereNames())},
		{Path: "upkeep.ambient_temperature", label: "Ambient temperature", unit: "temperature"},
	}
	if !grouped(t) {
		return all
	}
	return slices.DeleteFunc(all, func(f Field) bool { return !strings.HasPrefix(f.Path, "upkeep.") }) // that of a kind stands with it
}

func moneyFields() []Field {
	return []Field{
		{Path: "energy.price_per_kwh", label: "Energy", unit: "price a kWh"},
		{Path: "energy.demand_price_per_kw_month", label: "Demand", unit: "a kW, month"},
		{Path: "energy.heating_cooling_factor", label: "Cooling and heating", unit: "share more", hint: "Of the kWh saved; this building's own figure."},
		{Path: "energy.installed_cost", label: "Swap, installed", unit: "price"},
		{Path: "energy.rebate", label: "Rebate", unit: "in all"},
		{Path: "state", label: "State", kind: words, hint: "Two letters, for average prices and emissions."},
	}
}

func lossFields(prefix string) []Field {
	var all []Field
	for _, key := range []string{"lamp_lumen_depreciation", "luminaire_dirt_depreciation", "room_surface_dirt_depreciation", "lamp_burnout", "temperature", "voltage", "other", "total"} {
		all = append(all, Field{Path: prefix + "losses." + key, label: sentence(key), unit: "share kept"})
	}
	return all
}

// sentence writes a key as the first words of a sentence.
func sentence(key string) string {
	return strings.ToUpper(key[:1]) + strings.ReplaceAll(key[1:], "_", " ")
}

func sheetFields() []Field {
	return []Field{
		{Path: "prepared_for", label: "Prepared for", kind: words},
		{Path: "prepared_by", label: "Prepared by", kind: words},
		{Path: "date", label: "Date", kind: words, hint: "As 2026-04-30."},
		{Path: "calculation.spacing", label: "Points on the work plane every", unit: "length"},
		{Path: "calculation.interreflection", label: "Light that bounces", kind: truth, blank: "counts (usual)",
			choices: []Option{{Value: "true", Label: "counts"}, {Value: "false", Label: "is left out"}}},
	}
}

package form

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/lists"
	"lampswap/cmd/lampswap/internal/page/plan"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/catalog"
	"lampswap/photometry/codes"
	"lampswap/photometry/fixture"
	"lampswap/photometry/levels"
	"lampswap/photometry/losses"
	"lampswap/photometry/number"
	"lampswap/photometry/spaces"
)

// A Part is a group of fields below a heading; a list is one whose elements can be added and taken out.
type Part struct {
	id, heading, note string
	fields            []Field
	pairs             [][2][]Field // two columns: existing and proposed
	sections          []section
	list              string   // name of the array of tables
	table             bool     // its elements are rows of a table
	names             []string // of the elements; nil where they are numbered
	element           string   // what one is called
	elements          []element
	adds              []Option // what can be added: value of the button, and its words
	folded            bool
}

// An element is one of a list: its fields, and those that few need.
type element struct {
	fields   []Field
	sections []section
}

// A section is a folded group of fields within a part or an element.
type section struct {
	heading string
	fields  []Field
}

// PartsOf are all the parts of the form for a text. Of each list the first elements have fields.
func PartsOf(t *tomltext.Text, uploaded, beside []string) []Part {
	return former{t: t, uploaded: uploaded, beside: beside, most: mostShown}.parts()
}

// A former makes the parts of a text.
type former struct {
	t                *tomltext.Text
	uploaded, beside []string
	most             int  // elements of a list that have fields
	every            bool // kinds of names that the form cannot tell too
}

func (m former) parts() []Part {
	t := m.t
	all := []Part{
		{id: "space", heading: "The room", fields: spaceFields()},
		{id: "hang", heading: "Where the luminaires hang", fields: layoutFields("layout."),
			adds: []Option{{Value: "to-groups", Label: "There is more than one kind of luminaire, or some have failed"}}},
		{id: "swap", heading: "The swap", pairs: [][2][]Field{{m.systemFields("existing."), m.systemFields("proposed.")}}},
		{id: "lamps", heading: "A lamp by its own figures", folded: !describesLamps(t), note: "What its data sheet says, in place of the lamp list or besides it. A length is a number, or a text such as 1 in or 26 mm.",
			pairs: [][2][]Field{{lampFields("existing."), lampFields("proposed.")}}},
		{id: "apart", heading: "One system hangs otherwise", folded: true, note: "Where the existing or the proposed luminaires do not hang as above.",
			pairs: [][2][]Field{{layoutFields("existing.layout."), layoutFields("proposed.layout.")}}},
		m.thirdPart(),
		{id: "racks", heading: "Racks", note: "A block on the floor, or a row of equal blocks; with a bottom it hangs, as a mezzanine or a duct does. x runs along the room's length, y along its width.", list: "racks", element: "Rack",
			elements: m.elements("racks", rackFields), adds: []Option{{Value: "add-rack", Label: "Add a rack"}}},
		{id: "places", heading: "More grids", note: "Besides the work plane: points on a rack face or a wall, or on a part of the floor.", list: "grids", element: "Grid",
			elements: m.elements("grids", m.gridFields),
			adds:     []Option{{Value: "add-face", Label: "Add a vertical face"}, {Value: "add-area", Label: "Add a floor area"}}},
		{id: "eyes", heading: "Observers", folded: true, note: "Who looks, for the glare rating; without any, in the middles of the walls, seated and standing.", list: "observers", element: "Observer",
			elements: m.elements("observers", observerFields), adds: []Option{{Value: "add-observer", Label: "Add an observer"}}},
		{id: "asked", heading: "Criteria", list: "criteria", element: "Criterion",
			elements: m.elements("criteria", m.criterionFields),
			adds: []Option{{Value: "add-level", Label: "Add a published level"}, {Value: "add-rule", Label: "Add a criterion of your own"},
				{Value: "add-code", Label: "Add an energy code's limit"}}},
		m.egressPart(),
		{id: "upkeep", heading: "Use and upkeep", fields: upkeepFields(), pairs: m.carePairs()},
		{id: "money", heading: "Money", fields: moneyFields(), folded: true},
		m.costsPart(),
		{id: "paid", heading: "Rebates by what the swap does", folded: true, note: "They add up, and to the rebate in all.", list: "rebates", element: "Rebate",
			elements: m.elements("rebates", rebateFields), adds: []Option{{Value: "add-rebate", Label: "Add a rebate"}}},
		{id: "losses", heading: "Light loss factors that you know better", folded: true, note: "A factor given here replaces the computed one. The total replaces them all.",
			pairs: [][2][]Field{{lossFields("existing."), lossFields("proposed.")}}},
		m.doubtPart(),
		{id: "sheet", heading: "Title page and points", fields: sheetFields(), folded: true},
		m.firmPart(),
		m.offerPart(),
		m.photosPart(),
	}
	if !grouped(t) {
		return all
	}
	ofSystems := []string{"hang", "swap", "lamps", "apart", "third", "losses"} // which kinds and groups stand in place of
	all = slices.DeleteFunc(all, func(p Part) bool { return slices.Contains(ofSystems, p.id) })
	return slices.Insert(all, 1, m.groupParts()...)
}

// grouped tells that the luminaires of a job stand in groups.
func grouped(t *tomltext.Text) bool {
	return plan.Grouped(t)
}

// FieldsOf are all the fields of a text, in the order of the form.
func FieldsOf(parts []Part) []Field {
	var all []Field
	add := func(sections []section) {
		for _, s := range sections {
			all = append(all, s.fields...)
		}
	}
	for _, p := range parts {
		all = append(all, p.fields...)
		for _, pair := range p.pairs {
			all = append(append(all, pair[0]...), pair[1]...)
		}
		add(p.sections)
		for _, e := range p.elements {
			all = append(all, e.fields...)
			add(e.sections)
		}
	}
	return all
}

func (m former) elements(name string, fields func(prefix string) []Field) []element {
	var all []element
	for i := range min(m.t.Count(name), m.most) {
		all = append(all, element{fields: fields(fmt.Sprintf("%s[%d].", name, i))})
	}
	return all
}

// mostShown is how many racks, grids or criteria have fields of their own; the text may have more.
const mostShown = 60

func spaceFields() []Field {
	return []Field{
		{Path: "title", label: "Name of the job", kind: words},
		{Path: "units", label: "Units", kind: choice, choices: []Option{{Value: "imperial", Label: "feet, fc"}, {Value: "metric", Label: "meters, lx"}},
			hint: "The numbers of the job follow. In a box in feet, 18'6\" or 5.5 m will do too."},
		{Path: "room.length", label: "Length", unit: "length"},
		{Path: "room.width", label: "Width", unit: "length"},
		{Path: "room.height", label: "Height", unit: "length"},
		{Path: "room.work_plane", label: "Work plane", unit: "length"},
		{Path: "room.reflectance.ceiling", label: "Ceiling reflectance", unit: "0–1"},
		{Path: "room.reflectance.walls", label: "Wall reflectance", unit: "0–1"},
		{Path: "room.reflectance.floor", label: "Floor reflectance", unit: "0–1"},
		{Path: "room.outline", label: "Outline, where it is no rectangle", kind: rows, columns: []string{"length"}, unit: "length", hint: "A corner on each line, in order: x, y."},
		{Path: "north", label: "North lies at", unit: "° from +x", hint: "Counter-clockwise, 90 is up the plan."},
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

func layoutFields(prefix string) []Field {
	return []Field{
		{Path: prefix + "mounting_height", label: "Mounting height", unit: "length"},
		{Path: prefix + "rows", label: "Rows", kind: whole, hint: "Across the width."},
		{Path: prefix + "columns", label: "In each row", kind: whole, hint: "Along the length."},
		{Path: prefix + "lamps_along", label: "Lamps lie along its", kind: choice, blank: "length (usual)", choices: []Option{{Value: "length", Label: "length"}, {Value: "width", Label: "width"}}},
		positionsField(prefix),
	}
}

func positionsField(prefix string) Field {
	return Field{Path: prefix + "positions", label: "Places one by one, instead of rows", kind: rows, columns: []string{"length", "length", "angle", "length"}, unit: "length",
		hint: "A luminaire on each line: x, y, and if need be its rotation in degrees and its height."}
}

func (m former) systemFields(prefix string) []Field {
	t := m.t
	lamp, known := catalog.FindLamp(Shown(t, prefix+"lamp"))
	lamps, _ := strconv.Atoi(Shown(t, prefix+"lamps"))
	var feeds []Option
	if known {
		for _, b := range catalog.BallastsFor(lamp, lamps) {
			feeds = append(feeds, Option{Value: b.Kind, Label: fmt.Sprintf("%s: factor %.2f, %.0f W", b.Kind, b.BallastFactor, b.InputWatts)})
		}
	}
	return []Field{
		{Path: prefix + "source", label: "Fixture", kind: source, choices: sources(m.uploaded, m.beside)},
		{Path: prefix + "lamp", label: "Lamp", kind: choice, blank: "not of the list", choices: lampOptions()},
		{Path: prefix + "lamps", label: "Lamps in a luminaire", kind: whole},
		{Path: prefix + "end_to_end", label: "Of them end to end", kind: whole, hint: "2 for two 4-foot lamps in an 8-foot strip."},
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
		{Path: prefix + "lamp_length", label: "Nominal length", kind: size, unit: "length"},
		{Path: prefix + "lamp_diameter", label: "Diameter", kind: size, unit: "length"},
		{Path: prefix + "mean_lumens", label: "Mean lumens, fluorescent", unit: "lm"},
		{Path: prefix + "beam_angle", label: "Beam angle, LED", unit: "°"},
		{Path: prefix + "rated_life_hours", label: "Rated life", unit: "h", hint: "LED: to 70 percent of the lumens (L70)."},
		{Path: prefix + "minimum_temperature", label: "Least ambient", unit: "temperature"},
		{Path: prefix + "temperature_points", label: "Light over the ambient", kind: rows, columns: []string{"temperature", "share"}, unit: "temperature",
			hint: "From its data sheet, a point on each line: ambient, share of the light, as 40, 0.75."},
		{Path: prefix + "cri", label: "Color rendering", unit: "of 100"},
		{Path: prefix + "cct", label: "Color temperature", unit: "K"},
	}
}

func sources(uploaded, beside []string) []Option {
	var all []Option
	add := func(names []string, group string) {
		for _, name := range names {
			if !isLogo(name) {
				all = append(all, Option{"photometry:" + name, name, group})
			}
		}
	}
	add(uploaded, "Your files")
	add(beside, "Files at hand")
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
		all = append(all, Option{l.Name, fmt.Sprintf("%s, %s lm", l.Name, number.Thousands(l.InitialLumens)), group})
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

func (m former) gridFields(prefix string) []Field {
	name := Field{Path: prefix + "name", label: "Name", kind: words}
	area := []Field{{Path: prefix + "area", label: "Two corners", unit: "length", parts: []string{"x", "y", "far x", "far y"}, hint: "Blank: the whole room."},
		{Path: prefix + "height", label: "Above floor", unit: "length"},
		{Path: prefix + "quantity", label: "Light on", kind: choice, blank: "level surfaces (usual)", choices: []Option{{Value: "horizontal", Label: "level surfaces"},
			{Value: "vertical", Label: "upright ones that face one way"}, {Value: "cylindrical", Label: "faces: upright, all round"}}}}
	face := []Field{{Path: prefix + "from", label: "From", unit: "length", parts: []string{"x", "y"}},
		{Path: prefix + "to", label: "To", unit: "length", parts: []string{"x", "y"}},
		{Path: prefix + "heights", label: "Heights", unit: "length", parts: []string{"lowest", "highest"}}}
	both := []Field{{Path: prefix + "facing", label: "Faces", unit: "° from +x", hint: "90 looks along +y."}, {Path: prefix + "spacing", label: "Points every", unit: "length"}}
	has := func(fields []Field) bool {
		return slices.ContainsFunc(fields, func(f Field) bool { return m.t.Has(f.Path) })
	}
	switch isArea, isFace := has(area), has(face); {
	case isArea && isFace:
		return slices.Concat([]Field{name}, area, face, both)
	case isArea:
		return slices.Concat([]Field{name}, area, both)
	}
	return slices.Concat([]Field{name}, face, both)
}

func observerFields(prefix string) []Field {
	return []Field{
		{Path: prefix + "name", label: "Name", kind: words},
		{Path: prefix + "at", label: "Stands at", unit: "length", parts: []string{"x", "y"}},
		{Path: prefix + "height", label: "Eye above floor", unit: "length", hint: "Blank: seated."},
		{Path: prefix + "looking", label: "Looks", unit: "° from +x", hint: "90 looks along +y."},
	}
}

// gridsOf are the names of a job's grids to choose from.
func (m former) gridsOf() []Option {
	var all []Option
	for i := range min(m.t.Count("grids"), m.most) {
		if name := Shown(m.t, fmt.Sprintf("grids[%d].name", i)); name != "" {
			all = append(all, Option{Value: name, Label: name})
		}
	}
	return all
}

func (m former) criterionFields(prefix string) []Field {
	t := m.t
	where := Field{Path: prefix + "grid", label: "Grid", kind: choice, blank: "work plane (usual)", choices: append([]Option{{Value: "work plane", Label: "work plane"}}, m.gridsOf()...)}
	hint := "Type a word of the space or the source."
	if level, ok := levels.Find(Shown(t, prefix+"level")); ok {
		hint = level.Space + ": " + typeset.Text(lists.Requires(level, Shown(t, "units") != "metric"))
	}
	var statistics []Option
	for _, name := range levels.StatisticNames() {
		s, _ := levels.ParseStatistic(name)
		statistics = append(statistics, Option{Value: name, Label: s.Words()})
	}
	unit := unitOfStatistic(Shown(t, prefix+"statistic"))
	published := []Field{{Path: prefix + "level", label: "Published level", kind: words, list: "levels", hint: hint}}
	code := []Field{{Path: prefix + "energy_code", label: "Energy code", kind: choice, blank: "none", choices: named(codes.Editions())},
		{Path: prefix + "space", label: "Space, as the code names it", kind: words, hint: "Blank: the kind of space of the room."}}
	own := []Field{{Path: prefix + "name", label: "Name", kind: words},
		{Path: prefix + "statistic", label: "Statistic", kind: choice, blank: "average (usual)", choices: statistics},
		{Path: prefix + "at_least", label: "At least", unit: unit}, {Path: prefix + "at_most", label: "At most", unit: unit}}
	var all []Field
	for _, shape := range [][]Field{published, code, own} { // what it has, and what should not stand beside it
		if slices.ContainsFunc(shape, func(f Field) bool { return t.Has(f.Path) }) {
			all = append(all, shape...)
		}
	}
	if all == nil {
		all = own
	}
	if t.Has(prefix+"energy_code") && !t.Has(prefix+"grid") {
		return all
	}
	return append(all, where)
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

func upkeepFields() []Field {
	return []Field{
		{Path: "upkeep.hours_per_year", label: "Lit for", unit: "h a year"},
		shiftsField("shifts"),
		{Path: "upkeep.clean_months", label: "Cleaned every", unit: "months"},
		{Path: "upkeep.relamp_hours", label: "All relamped after", unit: "h burnt", hint: "Blank: one by one, as they fail."},
		{Path: "upkeep.relamping", label: "Relamping", kind: choice, blank: "by the hours beside", choices: []Option{{Value: "group", Label: "all together"}, {Value: "spot", Label: "one by one"}}},
		{Path: "upkeep.judged_at", label: "Lamps judged after", unit: "h burnt", hint: "Or mid-life, or end."},
		{Path: "upkeep.atmosphere", label: "Atmosphere", kind: choice, blank: "not said", choices: named(losses.AtmosphereNames())},
		{Path: "upkeep.ambient_temperature", label: "Ambient temperature", unit: "temperature"},
	}
}

func shiftsField(path string) Field {
	return Field{Path: path, label: "Shifts, in place of hours", kind: shifts, hint: "A shift on each line: days, from, to, weeks a year. As mon-fri, 06:00, 14:00, 50."}
}

// carePairs are the upkeep of single systems; of a job in groups it stands with the kinds.
func (m former) carePairs() [][2][]Field {
	if grouped(m.t) {
		return nil
	}
	return [][2][]Field{{careFields("existing."), careFields("proposed.")}}
}

func careFields(prefix string) []Field {
	return []Field{
		{Path: prefix + "upkeep.relamp_hours", label: "Its own: relamped after", unit: "h burnt"},
		{Path: prefix + "upkeep.clean_months", label: "Its own: cleaned every", unit: "months"},
	}
}

func moneyFields() []Field {
	return []Field{
		{Path: "energy.price_per_kwh", label: "Energy", unit: "price a kWh"},
		{Path: "energy.average_price_per_kwh", label: "Or an average price", unit: "price a kWh", hint: "With demand charges in it."},
		{Path: "energy.demand_price_per_kw_month", label: "Demand", unit: "a kW, month"},
		{Path: "energy.demand_months", label: "Demand billed in", unit: "months a year"},
		{Path: "energy.demand_share", label: "Of the lights at the peak", unit: "share"},
		{Path: "energy.peak_price_per_kwh", label: "Energy in the peak", unit: "price a kWh", hint: "Beside shifts, which tell what falls into it."},
		{Path: "energy.peak_from", label: "Peak from", kind: words, hint: "As 12:00."},
		{Path: "energy.peak_to", label: "Peak to", kind: words},
		{Path: "energy.peak_days", label: "Peak days", kind: texts, hint: "As mon-fri; several a line each."},
		{Path: "energy.heating_cooling_factor", label: "Cooling and heating", unit: "share more", hint: "Of the kWh saved; this building's own figure."},
		{Path: "energy.installed_cost", label: "Swap, installed", unit: "price"},
		{Path: "costs.lines", label: "Or line by line", kind: amounts, hint: "As material, 9200. In place of the price installed."},
		{Path: "energy.rebate", label: "Rebate", unit: "in all"},
		{Path: "currency", label: "Currency", kind: words, hint: "Its three letters."},
		{Path: "state", label: "State", kind: words, hint: "Two letters, for average prices and emissions."},
		{Path: "energy.co2_kg_per_kwh", label: "CO2 of the power", unit: "kg a kWh"},
		{Path: "energy.co2_rate", label: "Where that rate is from", kind: words, hint: "Its name and year."},
		{Path: "life_cycle.years", label: "Life cycle", kind: whole, hint: "Years of the study."},
		{Path: "life_cycle.discount_rate", label: "Discount rate, real", unit: "a year", hint: "0.03 is 3 percent."},
		{Path: "life_cycle.energy_escalation", label: "Energy gets dearer by", unit: "a year", hint: "Beyond other prices."},
	}
}

func rebateFields(prefix string) []Field {
	return []Field{
		{Path: prefix + "per", label: "Paid for each", kind: choice, choices: []Option{{Value: "lamp", Label: "lamp"}, {Value: "luminaire", Label: "luminaire"},
			{Value: "kwh", Label: "kWh saved in a year"}, {Value: "kw", Label: "kW saved"}}},
		{Path: prefix + "amount", label: "Amount", unit: "each"},
		{Path: prefix + "at_most", label: "At most", unit: "in all"},
		{Path: prefix + "at_most_share_of_cost", label: "At most, of the cost", unit: "share"},
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

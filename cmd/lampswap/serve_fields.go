package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry/catalog"
	"lampswap/photometry/fixture"
	"lampswap/photometry/levels"
	"lampswap/photometry/losses"
)

// A formPart is a group of fields below a heading; a list is one whose elements can be added and taken out.
type formPart struct {
	id, heading, note string
	fields            []formField
	pairs             [][2][]formField // two columns: before and after
	list              string           // name of the array of tables
	element           string           // what one is called
	elements          [][]formField
	adds              []formOption // what can be added: value of the button, and its words
	folded            bool
}

// partsOf are all the parts of the form for a text.
func partsOf(t *tomlText, uploaded, beside []string) []formPart {
	return []formPart{
		{id: "space", heading: "The space", fields: spaceFields()},
		{id: "hang", heading: "Where the lamps hang", fields: layoutFields(t), note: layoutNote(t)},
		{id: "swap", heading: "The swap", pairs: [][2][]formField{{systemFields(t, "existing.", uploaded, beside), systemFields(t, "proposed.", uploaded, beside)}}},
		{id: "racks", heading: "Racks", note: "A block on the floor, or a row of equal blocks. x runs along the room's length, y along its width.", list: "racks", element: "Rack",
			elements: elementsOf(t, "racks", rackFields), adds: []formOption{{Value: "add-rack", Label: "Add a rack"}}},
		{id: "places", heading: "More places to look at", note: "Besides the work plane: a rack face or a wall, or a part of the floor.", list: "grids", element: "Place",
			elements: elementsOf(t, "grids", func(p string) []formField { return gridFields(t, p) }),
			adds:     []formOption{{Value: "add-face", Label: "Add an upright face"}, {Value: "add-area", Label: "Add a floor area"}}},
		{id: "asked", heading: "What is asked of the light", list: "criteria", element: "Rule",
			elements: elementsOf(t, "criteria", func(p string) []formField { return criterionFields(t, p) }),
			adds:     []formOption{{Value: "add-level", Label: "Add a published level"}, {Value: "add-rule", Label: "Add a rule of your own"}}},
		{id: "upkeep", heading: "Use and upkeep", fields: upkeepFields()},
		{id: "money", heading: "Money", fields: moneyFields(), folded: true},
		{id: "losses", heading: "Loss factors that you know better", folded: true, note: "A factor given here replaces the computed one. The total replaces them all.",
			pairs: [][2][]formField{{lossFields("existing."), lossFields("proposed.")}}},
		{id: "sheet", heading: "Title page and points", fields: sheetFields(), folded: true},
	}
}

// fieldsOf are all the fields of a text, in the order of the form.
func fieldsOf(parts []formPart) []formField {
	var all []formField
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

func elementsOf(t *tomlText, name string, fields func(prefix string) []formField) [][]formField {
	var all [][]formField
	for i := range min(t.count(name), mostShown) {
		all = append(all, fields(fmt.Sprintf("%s[%d].", name, i)))
	}
	return all
}

// mostShown is how many racks, places or rules have fields of their own; the text may have more.
const mostShown = 60

func spaceFields() []formField {
	return []formField{
		{path: "title", label: "Name of the job", kind: words},
		{path: "units", label: "Units", kind: choice, choices: []formOption{{Value: "imperial", Label: "feet, fc"}, {Value: "metric", Label: "meters, lux"}},
			hint: "Changes what the numbers mean; converts none."},
		{path: "room.length", label: "Length", unit: "length"},
		{path: "room.width", label: "Width", unit: "length"},
		{path: "room.height", label: "Height", unit: "length"},
		{path: "room.work_plane", label: "Work plane", unit: "length"},
		{path: "room.reflectance.ceiling", label: "Ceiling reflects", unit: "0–1"},
		{path: "room.reflectance.walls", label: "Walls reflect", unit: "0–1"},
		{path: "room.reflectance.floor", label: "Floor reflects", unit: "0–1"},
	}
}

func layoutFields(t *tomlText) []formField {
	fields := []formField{{path: "layout.mounting_height", label: "Lamps above floor", unit: "length"}}
	if !t.has("layout.positions") {
		fields = append(fields, formField{path: "layout.rows", label: "Rows", kind: whole, hint: "Across the width."},
			formField{path: "layout.columns", label: "In each row", kind: whole, hint: "Along the length."})
	}
	return append(fields, formField{path: "layout.lamps_along", label: "Lamps lie along its", kind: choice, blank: "length (usual)", choices: []formOption{{Value: "length", Label: "length"}, {Value: "width", Label: "width"}}})
}

func layoutNote(t *tomlText) string {
	if n := t.count("layout.positions"); n > 0 {
		return fmt.Sprintf("The job gives %d places one by one; they are changed in the text.", n)
	}
	return ""
}

func systemFields(t *tomlText, prefix string, uploaded, beside []string) []formField {
	lamp, known := catalog.FindLamp(shown(t, prefix+"lamp"))
	lamps, _ := strconv.Atoi(shown(t, prefix+"lamps"))
	var feeds []formOption
	if known {
		for _, b := range catalog.BallastsFor(lamp, lamps) {
			feeds = append(feeds, formOption{Value: b.Kind, Label: fmt.Sprintf("%s: factor %.2f, %.0f W", b.Kind, b.BallastFactor, b.InputWatts)})
		}
	}
	return []formField{
		{path: prefix + "source", label: "Fixture", kind: source, choices: sources(uploaded, beside)},
		{path: prefix + "lamp", label: "Lamp", kind: choice, blank: "not of the list", choices: lampOptions()},
		{path: prefix + "lamps", label: "Lamps in a fixture", kind: whole},
		{path: prefix + "ballast", label: "Ballast", kind: choice, blank: "not of the list", choices: feeds},
		{path: prefix + "lamp_lumens", label: "One lamp, when new", unit: "lm", hint: "In place of the lamp list."},
		{path: prefix + "ballast_factor", label: "Ballast factor"},
		{path: prefix + "input_watts", label: "One fixture draws", unit: "W"},
		{path: prefix + "maintenance_category", label: "Gathers dirt as category", kind: choice, blank: "as its light suggests", choices: named(losses.CategoryNames())},
	}
}

func sources(uploaded, beside []string) []formOption {
	var all []formOption
	for _, name := range uploaded {
		all = append(all, formOption{"photometry:" + name, name, "Your files"})
	}
	for _, name := range beside {
		all = append(all, formOption{"photometry:" + name, name, "Files at hand"})
	}
	for _, name := range fixture.Builtin() {
		all = append(all, formOption{"fixture:" + name, name, "Built-in cross-sections (estimates)"})
	}
	return all
}

func lampOptions() []formOption {
	var all []formOption
	for _, l := range catalog.Lamps() {
		group := "Fluorescent"
		if l.LED {
			group = "LED tubes"
		}
		all = append(all, formOption{l.Name, fmt.Sprintf("%s, %.0f lm", l.Name, l.InitialLumens), group})
	}
	slices.SortStableFunc(all, func(a, b formOption) int { return strings.Compare(a.Group, b.Group) }) // each kind together
	return all
}

func named(names []string) []formOption {
	var all []formOption
	for _, n := range names {
		all = append(all, formOption{Value: n, Label: n})
	}
	return all
}

func rackFields(prefix string) []formField {
	return []formField{
		{path: prefix + "corner", label: "Corner", unit: "length", parts: []string{"x", "y"}},
		{path: prefix + "size", label: "Size", unit: "length", parts: []string{"along x", "along y", "height"}},
		{path: prefix + "repeat.count", label: "How many", kind: whole, hint: "Blank for one."},
		{path: prefix + "repeat.step", label: "From one to the next", unit: "length", parts: []string{"x", "y"}},
		{path: prefix + "reflectance", label: "Reflects", unit: "0–1"},
		{path: prefix + "transmittance", label: "Lets through", unit: "0–1"},
	}
}

func gridFields(t *tomlText, prefix string) []formField {
	fields := []formField{{path: prefix + "name", label: "Name", kind: words}}
	if t.has(prefix+"area") || t.has(prefix+"height") {
		return append(fields, formField{path: prefix + "area", label: "Two corners", unit: "length", parts: []string{"x", "y", "far x", "far y"}},
			formField{path: prefix + "height", label: "Above floor", unit: "length"}, formField{path: prefix + "spacing", label: "Points every", unit: "length"})
	}
	return append(fields, formField{path: prefix + "from", label: "From", unit: "length", parts: []string{"x", "y"}},
		formField{path: prefix + "to", label: "To", unit: "length", parts: []string{"x", "y"}},
		formField{path: prefix + "heights", label: "Heights", unit: "length", parts: []string{"lowest", "highest"}},
		formField{path: prefix + "facing", label: "Faces", unit: "° from +x", hint: "90 looks along +y."},
		formField{path: prefix + "spacing", label: "Points every", unit: "length"})
}

func criterionFields(t *tomlText, prefix string) []formField {
	grids := []formOption{{Value: "work plane", Label: "work plane"}}
	for i := range min(t.count("grids"), mostShown) {
		if name := shown(t, fmt.Sprintf("grids[%d].name", i)); name != "" {
			grids = append(grids, formOption{Value: name, Label: name})
		}
	}
	where := formField{path: prefix + "grid", label: "Where", kind: choice, blank: "work plane (usual)", choices: grids}
	if t.has(prefix + "level") {
		hint := "Type a word of the space or the source."
		if level, ok := levels.Find(shown(t, prefix+"level")); ok {
			hint = level.Space + ": " + asks(level)
		}
		return []formField{{path: prefix + "level", label: "Published level", kind: words, list: "levels", hint: hint}, where}
	}
	if t.has(prefix + "energy_code") {
		return []formField{{path: prefix + "energy_code", label: "Energy code", kind: words}, {path: prefix + "space", label: "Space", kind: words}}
	}
	statistics := named(levels.StatisticNames())
	return []formField{{path: prefix + "name", label: "Name", kind: words}, where,
		{path: prefix + "statistic", label: "Of the light, the", kind: choice, blank: "average (usual)", choices: statistics},
		{path: prefix + "at_least", label: "At least"}, {path: prefix + "at_most", label: "At most"}}
}

func upkeepFields() []formField {
	return []formField{
		{path: "upkeep.hours_per_year", label: "Lit for", unit: "h a year"},
		{path: "upkeep.clean_months", label: "Cleaned every", unit: "months"},
		{path: "upkeep.relamp_hours", label: "All relamped after", unit: "h burnt", hint: "Blank: one by one, as they fail."},
		{path: "upkeep.atmosphere", label: "Air", kind: choice, blank: "not said", choices: named(losses.AtmosphereNames())},
		{path: "upkeep.ambient_temperature", label: "Air at the lamps", unit: "temperature"},
	}
}

func moneyFields() []formField {
	return []formField{
		{path: "energy.price_per_kwh", label: "Price of a kWh"},
		{path: "energy.demand_price_per_kw_month", label: "Price of a kW a month"},
		{path: "energy.installed_cost", label: "The swap costs, installed"},
		{path: "energy.rebate", label: "Rebate"},
		{path: "state", label: "State", kind: words, hint: "Two letters, for average prices and emissions."},
	}
}

func lossFields(prefix string) []formField {
	var all []formField
	for _, key := range []string{"lamp_lumen_depreciation", "luminaire_dirt_depreciation", "room_surface_dirt_depreciation", "lamp_burnout", "temperature", "voltage", "other", "total"} {
		all = append(all, formField{path: prefix + "losses." + key, label: lossNames[key]})
	}
	return all
}

var lossNames = map[string]string{"lamp_lumen_depreciation": "Lamps age", "luminaire_dirt_depreciation": "Dirt on fixtures", "room_surface_dirt_depreciation": "Dirt on the room",
	"lamp_burnout": "Lamps that are out", "temperature": "Temperature", "voltage": "Voltage", "other": "Other", "total": "Total"}

func sheetFields() []formField {
	return []formField{
		{path: "prepared_for", label: "Prepared for", kind: words},
		{path: "prepared_by", label: "Prepared by", kind: words},
		{path: "date", label: "Date", kind: words, hint: "As 2026-04-30."},
		{path: "calculation.spacing", label: "Points on the work plane every", unit: "length"},
		{path: "calculation.interreflection", label: "Light that bounces", kind: truth, blank: "counts (usual)",
			choices: []formOption{{Value: "true", Label: "counts"}, {Value: "false", Label: "is left out"}}},
	}
}

package form

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/page/plan"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry/job"
)

// allKinds are the names of a job's kinds of luminaire.
func allKinds(t *tomltext.Text) []string {
	kinds, _ := t.Value("kinds").(map[string]any)
	return slices.Sorted(maps.Keys(kinds))
}

// kindNames are those that have fields: names that a path can hold, and that the page can tell apart.
func kindNames(t *tomltext.Text) []string {
	ids := map[string]bool{}
	return slices.DeleteFunc(allKinds(t), func(name string) bool {
		id := ID(name)
		clash := ids[id] || strings.ContainsAny(name, ".[]\"\\:") || name == ""
		ids[id] = true
		return clash
	})
}

// groupParts are the kinds of luminaire of a job, and the table of the groups in which they hang.
func (m former) groupParts() []Part {
	t := m.t
	names := kindNames(t)
	if m.every {
		names = allKinds(t)
	}
	names = names[:min(len(names), m.most)]
	kinds := Part{id: "kinds", heading: "Kinds of luminaire", note: "What hangs in the room before the swap and after it, each kind once.", list: "kinds", element: "Kind", names: names,
		folded: true, adds: []Option{{Value: "add-kind", Label: "Add a kind"}}}
	if odd := len(allKinds(t)) - len(kindNames(t)); odd > 0 {
		kinds.note += fmt.Sprintf(" %d of them have names with signs that the form cannot tell; they stand in the text.", odd)
	}
	for _, name := range names {
		prefix := "kinds." + name + "."
		kinds.elements = append(kinds.elements, element{append([]Field{{Path: "kinds." + name, label: "Name", kind: kindName}}, m.systemFields(prefix)...), []section{
			{"A lamp by its own figures", lampFields(prefix)}, {"Light loss factors that you know better", lossFields(prefix)},
			{"What its upkeep costs", keepingFields(prefix + "costs.")}, {"Its own upkeep", careFields(prefix)}}})
	}
	groups := Part{id: "groups", heading: "Groups of luminaires", note: "A row for luminaires that hang together. They hang in rows and columns, or a number of them is spread evenly, over the area or the " +
		"whole room. Failed: how many existing ones give no light, or their numbers.", list: "groups", element: "Group", table: true,
		elements: m.elements("groups", func(p string) []Field { return groupFields(t, p, allKinds(t)) }), adds: []Option{{Value: "add-group", Label: "Add a group"}}}
	for i := range groups.elements {
		name := Shown(t, fmt.Sprintf("groups[%d].name", i))
		if name == "" {
			name = strconv.Itoa(i + 1)
		}
		groups.names = append(groups.names, name)
		prefix := fmt.Sprintf("groups[%d].", i)
		groups.elements[i].sections = []section{{"Places, shifts, notes", moreOfGroup(prefix)}, {"On emergency power", standbyOfGroup(prefix)}}
	}
	if comparesThird(t) {
		groups.adds = append(groups.adds, Option{Value: "drop-third", Label: "Take the replacement out"})
	} else {
		groups.adds = append(groups.adds, Option{Value: "add-third", Label: "Compare a replacement"})
	}
	return []Part{kinds, groups}
}

// comparesThird tells that any group says what replaces it.
func comparesThird(t *tomltext.Text) bool {
	for i := range t.Count("groups") {
		if t.Has(fmt.Sprintf("groups[%d].replacement", i)) {
			return true
		}
	}
	return false
}

// moreOfGroup is what few groups say.
func moreOfGroup(prefix string) []Field {
	return []Field{
		positionsField(prefix),
		{Path: prefix + "failed_watts", label: "Each failed one draws", unit: "W"},
		{Path: prefix + "dimmed_watts", label: "Dimmed, each draws", unit: "W"},
		shiftsField(prefix + "shifts"),
		{Path: prefix + "note", label: "Note", kind: words},
	}
}

// standbyOfGroup is which of a group's luminaires stay lit on emergency power.
func standbyOfGroup(prefix string) []Field {
	all := standbyFields(prefix+"egress.", true)
	for _, system := range job.SystemNames {
		for _, f := range standbyFields(prefix+"egress."+system+".", true) {
			f.label += ", " + system
			all = append(all, f)
		}
	}
	return all
}

// groupFields are the cells of a group's row.
func groupFields(t *tomltext.Text, prefix string, kinds []string) []Field {
	none := append(named(kinds), Option{Value: "none", Label: "none"})
	all := []Field{
		{Path: prefix + "name", label: "Name", kind: words},
		{Path: prefix + "existing", label: "Existing", kind: choice, choices: none},
		{Path: prefix + "proposed", label: "Proposed", kind: choice, choices: none},
	}
	if comparesThird(t) {
		all = append(all, Field{Path: prefix + "replacement", label: "Replacement", kind: choice, blank: "as proposed", choices: none})
	}
	return append(all,
		Field{Path: prefix + "mounting_height", label: "Height", unit: "length"},
		Field{Path: prefix + "rows", label: "Rows", kind: whole},
		Field{Path: prefix + "columns", label: "In each", kind: whole},
		Field{Path: prefix + "count", label: "Or a number", kind: whole},
		Field{Path: prefix + "area", label: "Area", unit: "length", parts: []string{"x", "y", "far x", "far y"}},
		Field{Path: prefix + "lamps_along", label: "Lamps along", kind: choice, blank: "length", choices: []Option{{Value: "length", Label: "length"}, {Value: "width", Label: "width"}}},
		Field{Path: prefix + "failed", label: "Failed", kind: counts},
		Field{Path: prefix + "hours_per_year", label: "Lit for", unit: "h a year"},
		Field{Path: prefix + "control", label: "Control", kind: choice, blank: "none", choices: named([]string{"none", "occupancy", "daylight", "dimming", "schedule"})},
		Field{Path: prefix + "control_saving", label: "It saves", unit: "of its hours"},
		Field{Path: prefix + "dimmed_to", label: "Dimmed to", unit: "of the light"})
}

// addKind adds a kind of luminaire, alike to the first.
func addKind(t *tomltext.Text) error {
	name, n := "kind-1", 1
	for t.Has("kinds." + name) {
		n++
		name = fmt.Sprintf("kind-%d", n)
	}
	for _, pair := range [][2]string{{"fixture", `"strip-4in"`}, {"lamp", `"F32T8/800"`}, {"lamps", "4"}, {"ballast", `"is-normal"`}} {
		if err := t.Set("kinds."+name+"."+pair[0], pair[1]); err != nil {
			return err
		}
	}
	return nil
}

// addGroup adds a group of the kinds of the last, in the middle of the room.
func addGroup(t *tomltext.Text, p *plan.Plan) error {
	last := fmt.Sprintf("groups[%d].", t.Count("groups")-1)
	of := func(key string) string {
		if raw := t.Raw(last + key); raw != "" {
			return raw
		}
		return `"none"`
	}
	return t.AddElement("groups", "name = "+tomltext.Quote(freeName(t, "groups", "group")), "existing = "+of("existing"), "proposed = "+of("proposed"),
		"mounting_height = "+plainDecimal(p.Height*0.9), "count = 4")
}

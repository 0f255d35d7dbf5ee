package form

import (
	"fmt"
	"maps"
	"regexp"
	"slices"

	"lampswap/cmd/lampswap/internal/page/tomltext"
)

// bare are names that a path can hold as they are.
var bare = regexp.MustCompile(`^[A-Za-z0-9_-]+$`)

// allKinds are the names of a job's kinds of luminaire.
func allKinds(t *tomltext.Text) []string {
	kinds, _ := t.Value("kinds").(map[string]any)
	return slices.Sorted(maps.Keys(kinds))
}

// kindNames are those that have fields.
func kindNames(t *tomltext.Text) []string {
	return slices.DeleteFunc(allKinds(t), func(name string) bool { return !bare.MatchString(name) })
}

// groupParts are the kinds of luminaire of a job, and the table of the groups in which they hang.
func groupParts(t *tomltext.Text, uploaded, beside []string) []Part {
	names := kindNames(t)
	kinds := Part{id: "kinds", heading: "Kinds of luminaire", note: "What hangs in the room before the swap and after it, each kind once. Their losses, costs and the figures of lamps that are " +
		"none of the list are changed in the text, and so are their names.", list: "kinds", element: "Kind", names: names, folded: true, adds: []Option{{Value: "add-kind", Label: "Add a kind"}}}
	for _, name := range names[:min(len(names), mostShown)] {
		kinds.elements = append(kinds.elements, systemFields(t, "kinds."+name+".", uploaded, beside))
	}
	groups := Part{id: "groups", heading: "Groups of luminaires", note: "A row for luminaires that hang together. They hang in rows and columns, or a number of them is spread evenly, over the area or the " +
		"whole room; places of their own are changed in the text. Failed: how many existing ones give no light, or their numbers.", list: "groups", element: "Group", table: true,
		elements: elementsOf(t, "groups", func(p string) []Field { return groupFields(t, p, allKinds(t)) }), adds: []Option{{Value: "add-group", Label: "Add a group"}}}
	return []Part{kinds, groups}
}

// groupFields are the cells of a group's row.
func groupFields(t *tomltext.Text, prefix string, kinds []string) []Field {
	none := append(named(kinds), Option{Value: "none", Label: "none"})
	all := []Field{
		{Path: prefix + "name", label: "Name", kind: words},
		{Path: prefix + "existing", label: "Existing", kind: choice, choices: none},
		{Path: prefix + "proposed", label: "Proposed", kind: choice, choices: none},
	}
	if t.Has("groups[0].replacement") {
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
func addGroup(t *tomltext.Text, s Sketch) error {
	last := fmt.Sprintf("groups[%d].", t.Count("groups")-1)
	of := func(key string) string {
		if raw := t.Raw(last + key); raw != "" {
			return raw
		}
		return `"none"`
	}
	return t.AddElement("groups", "name = "+tomltext.Quote(freeName(t, "groups", "group")), "existing = "+of("existing"), "proposed = "+of("proposed"),
		"mounting_height = "+plainDecimal(s.height*0.9), "count = 4")
}

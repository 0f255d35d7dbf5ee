package form

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry/levels"
	"lampswap/photometry/spaces"
)

// Apply changes the text of a job by what was posted: first the fields, then what the pressed button says, as "add-rack" or
// "remove-racks-2". It returns the new text, which differs from the old only where something was changed.
func Apply(text string, posted url.Values, uploaded, beside []string) (string, error) {
	t, err := tomltext.Read(text)
	if err != nil {
		return "", err
	}
	for _, f := range FieldsOf(PartsOf(t, uploaded, beside)) {
		if err := f.apply(t, posted); err != nil {
			return "", err
		}
	}
	if err := act(t, posted.Get("do")); err != nil {
		return "", err
	}
	return t.String(), nil
}

func act(t *tomltext.Text, what string) error {
	action, rest, _ := strings.Cut(what, "-")
	if name, digits, ok := strings.Cut(rest, "-"); ok && (action == "remove" || action == "copy") {
		return actOn(t, action, name, digits)
	}
	s := SketchOf(t)
	switch what {
	case "add-kind":
		return addKind(t)
	case "add-group":
		return addGroup(t, s)
	case "to-groups":
		return t.Regroup()
	case "add-rack":
		return t.AddElement("racks", "corner = "+numbers(s.length*0.1, s.width*0.15), "size = "+numbers(s.length*0.6, s.foot(4), min(s.foot(12), s.height*0.7)))
	case "add-face":
		return t.AddElement("grids", append([]string{"name = " + tomltext.Quote(freeName(t, "grids", "face"))}, s.faceOfRack()...)...)
	case "add-area":
		return t.AddElement("grids", "name = "+tomltext.Quote(freeName(t, "grids", "area")), "area = "+numbers(0, 0, s.length, s.width), "height = 0.0")
	case "add-level":
		return t.AddElement("criteria", "level = "+tomltext.Quote(freeLevel(t)))
	case "add-rule":
		return t.AddElement("criteria", "name = "+tomltext.Quote(freeName(t, "criteria", "rule of our own")), `statistic = "average"`, "at_least = "+plainDecimal(s.light(10)))
	}
	return nil
}

// actOn takes an element of a list out, or copies it.
func actOn(t *tomltext.Text, action, name, digits string) error {
	i, err := strconv.Atoi(digits)
	switch known := err == nil && i >= 0; {
	case !known || !slices.Contains([]string{"racks", "grids", "criteria", "groups", "kinds"}, name):
		return nil // no button of ours
	case name == "kinds":
		if names := kindNames(t); action == "remove" && i < len(names) {
			return t.DeleteTable("kinds." + names[i])
		}
		return nil
	case action == "remove":
		return t.RemoveElement(name, i)
	case name == "groups":
		return t.CopyElement(name, i, map[string]string{"name": tomltext.Quote(freeName(t, name, "group"))})
	}
	return nil
}

// freeName is a name that none of the tables has.
func freeName(t *tomltext.Text, tables, stem string) string {
	taken := taken(t, tables, "name")
	n := 1
	for taken[fmt.Sprintf("%s %d", stem, n)] {
		n++
	}
	return fmt.Sprintf("%s %d", stem, n)
}

// freeLevel is a level that the job does not name, one about its kind of space if there is one.
func freeLevel(t *tomltext.Text) string {
	taken := taken(t, "criteria", "level")
	space, _ := spaces.Find(Shown(t, "room.space"))
	all := slices.Concat(space.Levels, []string{"warehouse-active-bulky"}, levels.Names())
	return all[max(0, slices.IndexFunc(all, func(id string) bool { return !taken[id] }))]
}

// taken are the values that a key has in the tables of a name.
func taken(t *tomltext.Text, tables, key string) map[string]bool {
	all := map[string]bool{}
	for i := range t.Count(tables) {
		all[Shown(t, fmt.Sprintf("%s[%d].%s", tables, i, key))] = true
	}
	return all
}

// numbers writes a list of numbers to a tenth, as TOML.
func numbers(all ...float64) string {
	var texts []string
	for _, x := range all {
		texts = append(texts, plainDecimal(x))
	}
	return "[" + strings.Join(texts, ", ") + "]"
}

// plainDecimal writes a number to a tenth, with a point in it.
func plainDecimal(x float64) string { return strconv.FormatFloat(x, 'f', 1, 64) }

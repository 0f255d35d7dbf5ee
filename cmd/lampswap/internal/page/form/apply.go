package form

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/page/tomltext"
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
	if rest, ok := strings.CutPrefix(what, "remove-"); ok {
		name, digits, _ := strings.Cut(rest, "-")
		i, err := strconv.Atoi(digits)
		if known := err == nil && i >= 0; !known || !slices.Contains([]string{"racks", "grids", "criteria"}, name) {
			return nil // no button of ours
		}
		return t.RemoveElement(name, i)
	}
	s := SketchOf(t)
	switch what {
	case "add-rack":
		return t.AddElement("racks", "corner = "+numbers(s.length*0.1, s.width*0.15), "size = "+numbers(s.length*0.6, s.foot(4), min(s.foot(12), s.height*0.7)))
	case "add-face":
		return t.AddElement("grids", append([]string{"name = " + tomltext.Quote(freeName(t, "face"))}, s.faceOfRack()...)...)
	case "add-area":
		return t.AddElement("grids", "name = "+tomltext.Quote(freeName(t, "area")), "area = "+numbers(0, 0, s.length, s.width), "height = 0.0")
	case "add-level":
		return t.AddElement("criteria", `level = "warehouse-active-bulky"`)
	case "add-rule":
		return t.AddElement("criteria", `name = "rule of our own"`, `statistic = "average"`, "at_least = "+plainDecimal(s.light(10)))
	}
	return nil
}

// freeName is a name that no grid has.
func freeName(t *tomltext.Text, stem string) string {
	taken := map[string]bool{}
	for i := range t.Count("grids") {
		taken[Shown(t, fmt.Sprintf("grids[%d].name", i))] = true
	}
	n := 1
	for taken[fmt.Sprintf("%s %d", stem, n)] {
		n++
	}
	return fmt.Sprintf("%s %d", stem, n)
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

// Package form shows the text of a job file as a form, and changes the text by what comes back.
//
// The form and the text are two views of one thing. A field shows what stands in the text; what comes back different from what was shown
// is changed in the text, and nothing else is, so comments and keys without a field stay.
package form

import (
	"fmt"
	"math"
	"net/url"
	"regexp"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/page/length"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry/diag"
)

// A kind is what may stand in a field.
type kind int

const (
	numeric kind = iota
	whole
	words
	choice
	truth    // true or false
	source   // a fixture or a photometric file: one field for two keys
	counts   // a whole number, or several of them
	list     // whole numbers in a list, of one too
	kindName // of a table of [kinds]
	size     // a length, or a text such as 26 mm, which the job reads itself

	// kinds of several lines
	paragraph // a text of many lines
	rows      // a list of lists of numbers
	amounts   // a list of names with a number each
	steps     // a list of pairs of texts
	texts     // a text, or a list of them
	shifts    // a list of shifts
)

// A Field is one key of the job file, or a list of numbers with a box each.
type Field struct {
	Path    string
	label   string
	kind    kind
	unit    string   // "length", "light", "temperature", "degrees" (of a difference), "power" (of an area), or as it is shown
	columns []string // units of the numbers of a row
	parts   []string // names of the boxes of a list
	choices []Option
	blank   string // what the blank choice says
	list    string // id of a list of suggestions
	hint    string
}

// An Option is a choice of a field.
type Option struct{ Value, Label, Group string }

// A FieldView is a field as the page shows it.
type FieldView struct {
	ID, Label, Unit, Hint string
	Boxes                 []Box
	Select                bool
	Options               []optionGroup
	Faults                []string
	Read                  string // how a length was understood, in feet and inches
}

// A Box is one thing to type or choose in; the first box of a field has its id.
type Box struct {
	ID, Name, Value, Label, Placeholder, Mode, List string
	Wide                                            bool
	Lines                                           int // of a box of several lines
}

type optionGroup struct {
	Name    string
	Options []OptionView
}

// An OptionView is a choice as the page shows it.
type OptionView struct {
	Value, Label string
	Selected     bool
}

// Shown is the value at a path as its box shows it.
func Shown(t *tomltext.Text, path string) string { return t.Shown(path) }

// shownSource is the value of the field for two keys.
func shownSource(t *tomltext.Text, prefix string) string {
	for _, key := range []string{"photometry", "fixture"} {
		if name := Shown(t, prefix+key); name != "" {
			return key + ":" + name
		}
	}
	return ""
}

var plainNumber = regexp.MustCompile(`^[+-]?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?$`)

// literal writes what was typed as TOML. What is no number stands as a text, so that its fault is shown at its line.
func literal(k kind, typed string) string {
	if k == list || k == counts && strings.ContainsAny(typed, ", ") {
		numbers := strings.FieldsFunc(typed, func(c rune) bool { return strings.ContainsRune("[], ", c) })
		for i := range numbers {
			numbers[i] = literal(whole, numbers[i])
		}
		return "[" + strings.Join(numbers, ", ") + "]"
	}
	if k == words || k == choice {
		return tomltext.Quote(typed)
	}
	if k == size && !plainNumber.MatchString(typed) {
		return tomltext.Quote(typed)
	}
	if plainNumber.MatchString(typed) || k == truth && (typed == "true" || typed == "false") {
		return typed
	}
	if x, err := strconv.ParseFloat(typed, 64); err == nil && x-x == 0 && !strings.ContainsAny(typed, "xX_pP") {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	return tomltext.Quote(typed)
}

// literalOf is literal for a value of a unit: a length may be written in feet and inches, or in meters.
func literalOf(k kind, unit, typed string, imperial bool) string {
	if unit == "length" && k == numeric && !plainNumber.MatchString(typed) {
		if x, ok := length.Parse(typed, imperial); ok {
			return rounded(x)
		}
	}
	return literal(k, typed)
}

// rounded writes a number to a millionth.
func rounded(x float64) string {
	text := strings.TrimRight(strconv.FormatFloat(x, 'f', 6, 64), "0")
	if strings.HasSuffix(text, ".") {
		text += "0"
	}
	return text
}

// apply changes the text where what was posted is not what was shown.
func (f Field) apply(t *tomltext.Text, posted url.Values) error {
	if f.kind == kindName {
		return nil // after all others, whose paths have the old name in them
	}
	if f.kind == source {
		return f.applySource(t, posted)
	}
	if len(f.parts) > 0 {
		return f.applyList(t, posted)
	}
	if !posted.Has(f.Path) {
		return nil
	}
	if f.isLines() {
		return f.applyLines(t, posted.Get(f.Path))
	}
	typed := strings.TrimSpace(posted.Get(f.Path))
	switch typed {
	case strings.TrimSpace(Shown(t, f.Path)):
		return nil
	case "":
		return t.Delete(f.Path)
	}
	return t.Set(f.Path, literalOf(f.kind, f.unit, typed, Shown(t, "units") != "metric"))
}

func (f Field) applySource(t *tomltext.Text, posted url.Values) error {
	prefix := strings.TrimSuffix(f.Path, "source")
	typed := posted.Get(f.Path)
	if !posted.Has(f.Path) || typed == shownSource(t, prefix) {
		return nil
	}
	key, name, _ := strings.Cut(typed, ":")
	other := map[string]string{"fixture": "photometry", "photometry": "fixture"}[key]
	if other == "" || name == "" {
		return nil
	}
	if err := t.Delete(prefix + other); err != nil {
		return err
	}
	return t.Set(prefix+key, tomltext.Quote(name))
}

func (f Field) applyList(t *tomltext.Text, posted url.Values) error {
	var written []string
	changed, blank := false, true
	for i := range f.parts {
		name := boxName(f.Path, i)
		if !posted.Has(name) {
			return nil
		}
		typed := strings.TrimSpace(posted.Get(name))
		changed = changed || typed != strings.TrimSpace(Shown(t, fmt.Sprintf("%s[%d]", f.Path, i)))
		blank = blank && typed == ""
		written = append(written, literalOf(f.kind, f.unit, typed, Shown(t, "units") != "metric"))
	}
	switch {
	case !changed:
		return nil
	case blank:
		return t.Delete(f.Path)
	}
	return t.Set(f.Path, "["+strings.Join(written, ", ")+"]")
}

func boxName(path string, i int) string { return fmt.Sprintf("%s:%d", path, i) }

// A Context is what the fields are shown with.
type Context struct {
	Text     *tomltext.Text
	Name     string // of the job file, in its faults
	Faults   diag.List
	Defaults map[string]string // by path, what a key that is left out took
	Imperial bool
}

// view shows a field.
func (f Field) view(c Context) FieldView {
	v := FieldView{ID: ID(f.Path), Label: f.label, Unit: Unit(f.unit, c.Imperial), Hint: f.hint, Select: f.picked()}
	mode := map[kind]string{numeric: "decimal", whole: "numeric"}[f.kind]
	if f.unit == "length" && c.Imperial {
		mode = "" // feet and inches take signs that a pad of digits has not
		v.Read = f.read(c.Text)
	}
	if len(f.parts) == 0 {
		value := Shown(c.Text, f.Path)
		switch {
		case f.kind == source:
			value = shownSource(c.Text, strings.TrimSuffix(f.Path, "source"))
		case f.isLines():
			value = f.lines(c.Text)
		case f.kind == kindName:
			value = strings.TrimPrefix(f.Path, "kinds.")
		}
		box := Box{ID: v.ID, Name: f.Path, Value: value, Placeholder: c.Defaults[f.Path], Mode: mode, List: f.list, Wide: f.kind == words || f.isLines()}
		if f.isLines() {
			box.Lines = min(max(2, strings.Count(value, "\n")+1), mostLines)
		}
		v.Boxes = []Box{box}
		v.Options = f.groups(value)
	}
	for i, part := range f.parts {
		id := v.ID
		if i > 0 {
			id = fmt.Sprintf("%s-%d", v.ID, i)
		}
		v.Boxes = append(v.Boxes, Box{ID: id, Name: boxName(f.Path, i), Value: Shown(c.Text, fmt.Sprintf("%s[%d]", f.Path, i)), Label: part, Mode: mode})
	}
	for _, fault := range c.Faults {
		if fault.Pos.File == c.Name && f.Holds(fault.Key) {
			sentence := FaultSentence(fault)
			if example := f.example(c.Imperial); example != "" {
				sentence += "; for example " + example
			}
			v.Faults = append(v.Faults, sentence)
		}
	}
	return v
}

// read tells lengths in feet and inches, where any is not a whole number of feet.
func (f Field) read(t *tomltext.Text) string {
	paths := []string{f.Path}
	if len(f.parts) > 0 {
		paths = nil
		for i := range f.parts {
			paths = append(paths, fmt.Sprintf("%s[%d]", f.Path, i))
		}
	}
	var all []string
	whole := true
	for _, path := range paths {
		feet := t.Number(path)
		if !(math.Abs(feet) < 1e6) {
			return ""
		}
		all = append(all, length.Words(feet))
		whole = whole && length.IsWhole(feet)
	}
	if whole {
		return ""
	}
	return strings.Join(all, ", ")
}

// picked tells that the field is chosen from a list.
func (f Field) picked() bool { return f.kind == choice || f.kind == truth || f.kind == source }

// Holds tells whether a fault at a key is one of this field.
func (f Field) Holds(key string) bool {
	if f.kind == source {
		prefix := strings.TrimSuffix(f.Path, "source")
		return key == prefix+"photometry" || key == prefix+"fixture"
	}
	return key == f.Path || strings.HasPrefix(key, f.Path+"[")
}

// FaultSentence is a fault without its place.
func FaultSentence(e *diag.Error) string {
	text := e.Wrong
	if e.Want != "" {
		text += ", want " + e.Want
	}
	return text
}

// groups are the choices of a field; a value that is none of them is added, so that it is not lost.
func (f Field) groups(value string) []optionGroup {
	if !f.picked() {
		return nil
	}
	all := []optionGroup{{}}
	if f.blank != "" || value == "" {
		all[0].Options = append(all[0].Options, OptionView{"", f.blank, value == ""})
	}
	found := value == ""
	for _, o := range f.choices {
		if all[len(all)-1].Name != o.Group {
			all = append(all, optionGroup{Name: o.Group})
		}
		last := &all[len(all)-1]
		last.Options = append(last.Options, OptionView{o.Value, o.Label, o.Value == value})
		found = found || o.Value == value
	}
	if !found {
		_, name, isSource := strings.Cut(value, ":")
		if !isSource {
			name = value
		}
		all[0].Options = append(all[0].Options, OptionView{value, name + " (not in the list)", true})
	}
	return all
}

var notInID = regexp.MustCompile(`[^a-z0-9]+`)

// ID is a path as an id of the page.
func ID(path string) string {
	return "f-" + strings.Trim(notInID.ReplaceAllString(strings.ToLower(path), "-"), "-")
}

// Unit is a unit of a field in words.
func Unit(unit string, imperial bool) string {
	pair, ok := map[string][2]string{"length": {"ft", "m"}, "light": {"fc", "lx"}, "temperature": {"°F", "°C"}, "degrees": {"°F", "°C"}, "power": {"W/ft²", "W/m²"}}[unit]
	switch {
	case !ok:
		return unit
	case imperial:
		return pair[0]
	}
	return pair[1]
}

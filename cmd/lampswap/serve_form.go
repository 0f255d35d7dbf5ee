package main

import (
	"fmt"
	"net/url"
	"regexp"
	"strconv"
	"strings"

	"lampswap/photometry/diag"
)

// The form and the text are two views of one thing, the text of the job file. A field shows what stands in the text; what comes back
// different from what was shown is changed in the text, and nothing else is, so comments and keys without a field stay.

// A formKind is what may stand in a field.
type formKind int

const (
	numeric formKind = iota
	whole
	words
	choice
	truth  // true or false
	source // a fixture or a photometric file: one field for two keys
)

// A formField is one key of the job file, or a list of numbers with a box each.
type formField struct {
	path    string
	label   string
	kind    formKind
	unit    string   // "length", "light", "temperature", or as it is shown
	parts   []string // names of the boxes of a list
	choices []formOption
	blank   string // what the blank choice says
	list    string // id of a list of suggestions
	hint    string
}

// A formOption is a choice of a field.
type formOption struct{ Value, Label, Group string }

// A fieldView is a field as the page shows it.
type fieldView struct {
	ID, Label, Unit, Hint string
	Boxes                 []formBox
	Select                bool
	Options               []optionGroup
	Faults                []string
}

// A formBox is one thing to type or choose in; the first box of a field has its id.
type formBox struct {
	ID, Name, Value, Label, Placeholder, Mode, List string
	Wide                                            bool
}

type optionGroup struct {
	Name    string
	Options []optionView
}

type optionView struct {
	Value, Label string
	Selected     bool
}

// shown is the value at a path as its box shows it.
func shown(t *tomlText, path string) string {
	switch v := t.value(path).(type) {
	case nil:
		return ""
	case string:
		return v
	default:
		return t.raw(path)
	}
}

// shownSource is the value of the field for two keys.
func shownSource(t *tomlText, prefix string) string {
	for _, key := range []string{"photometry", "fixture"} {
		if name := shown(t, prefix+key); name != "" {
			return key + ":" + name
		}
	}
	return ""
}

var plainNumber = regexp.MustCompile(`^[+-]?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?$`)

// literal writes what was typed as TOML. What is no number stands as a text, so that its fault is shown at its line.
func literal(k formKind, typed string) string {
	if k == words || k == choice {
		return tomlString(typed)
	}
	if plainNumber.MatchString(typed) || k == truth && (typed == "true" || typed == "false") {
		return typed
	}
	if x, err := strconv.ParseFloat(typed, 64); err == nil && x-x == 0 && !strings.ContainsAny(typed, "xX_pP") {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	return tomlString(typed)
}

// apply changes the text where what was posted is not what was shown.
func (f formField) apply(t *tomlText, posted url.Values) error {
	if f.kind == source {
		return f.applySource(t, posted)
	}
	if len(f.parts) > 0 {
		return f.applyList(t, posted)
	}
	if !posted.Has(f.path) {
		return nil
	}
	typed := strings.TrimSpace(posted.Get(f.path))
	switch typed {
	case strings.TrimSpace(shown(t, f.path)):
		return nil
	case "":
		return t.Delete(f.path)
	}
	return t.Set(f.path, literal(f.kind, typed))
}

func (f formField) applySource(t *tomlText, posted url.Values) error {
	prefix := strings.TrimSuffix(f.path, "source")
	typed := posted.Get(f.path)
	if !posted.Has(f.path) || typed == shownSource(t, prefix) {
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
	return t.Set(prefix+key, tomlString(name))
}

func (f formField) applyList(t *tomlText, posted url.Values) error {
	var written []string
	changed, blank := false, true
	for i := range f.parts {
		name := boxName(f.path, i)
		if !posted.Has(name) {
			return nil
		}
		typed := strings.TrimSpace(posted.Get(name))
		changed = changed || typed != strings.TrimSpace(shown(t, fmt.Sprintf("%s[%d]", f.path, i)))
		blank = blank && typed == ""
		written = append(written, literal(f.kind, typed))
	}
	switch {
	case !changed:
		return nil
	case blank:
		return t.Delete(f.path)
	}
	return t.Set(f.path, "["+strings.Join(written, ", ")+"]")
}

func boxName(path string, i int) string { return fmt.Sprintf("%s:%d", path, i) }

// A formContext is what the fields are shown with.
type formContext struct {
	text     *tomlText
	name     string // of the job file, in its faults
	faults   diag.List
	defaults map[string]string // by path, what a key that is left out took
	imperial bool
}

// view shows a field.
func (f formField) view(c formContext) fieldView {
	v := fieldView{ID: fieldID(f.path), Label: f.label, Unit: unitText(f.unit, c.imperial), Hint: f.hint, Select: f.picked()}
	mode := map[formKind]string{numeric: "decimal", whole: "numeric"}[f.kind]
	if len(f.parts) == 0 {
		value := shown(c.text, f.path)
		if f.kind == source {
			value = shownSource(c.text, strings.TrimSuffix(f.path, "source"))
		}
		v.Boxes = []formBox{{ID: v.ID, Name: f.path, Value: value, Placeholder: c.defaults[f.path], Mode: mode, List: f.list, Wide: f.kind == words}}
		v.Options = f.groups(value)
	}
	for i, part := range f.parts {
		id := v.ID
		if i > 0 {
			id = fmt.Sprintf("%s-%d", v.ID, i)
		}
		v.Boxes = append(v.Boxes, formBox{ID: id, Name: boxName(f.path, i), Value: shown(c.text, fmt.Sprintf("%s[%d]", f.path, i)), Label: part, Mode: mode})
	}
	for _, fault := range c.faults {
		if fault.Pos.File == c.name && f.holds(fault.Key) {
			v.Faults = append(v.Faults, faultSentence(fault))
		}
	}
	return v
}

// picked tells that the field is chosen from a list.
func (f formField) picked() bool { return f.kind == choice || f.kind == truth || f.kind == source }

// holds tells whether a fault at a key is one of this field.
func (f formField) holds(key string) bool {
	if f.kind == source {
		prefix := strings.TrimSuffix(f.path, "source")
		return key == prefix+"photometry" || key == prefix+"fixture"
	}
	return key == f.path || strings.HasPrefix(key, f.path+"[")
}

// faultSentence is a fault without its place.
func faultSentence(e *diag.Error) string {
	text := e.Wrong
	if e.Want != "" {
		text += ", want " + e.Want
	}
	return text
}

// groups are the choices of a field; a value that is none of them is added, so that it is not lost.
func (f formField) groups(value string) []optionGroup {
	if !f.picked() {
		return nil
	}
	all := []optionGroup{{}}
	if f.blank != "" || value == "" {
		all[0].Options = append(all[0].Options, optionView{"", f.blank, value == ""})
	}
	found := value == ""
	for _, o := range f.choices {
		if all[len(all)-1].Name != o.Group {
			all = append(all, optionGroup{Name: o.Group})
		}
		last := &all[len(all)-1]
		last.Options = append(last.Options, optionView{o.Value, o.Label, o.Value == value})
		found = found || o.Value == value
	}
	if !found {
		_, name, isSource := strings.Cut(value, ":")
		if !isSource {
			name = value
		}
		all[0].Options = append(all[0].Options, optionView{value, name + " (not in the list)", true})
	}
	return all
}

var notInID = regexp.MustCompile(`[^a-z0-9]+`)

// fieldID is a path as an id of the page.
func fieldID(path string) string {
	return "f-" + strings.Trim(notInID.ReplaceAllString(strings.ToLower(path), "-"), "-")
}

func unitText(unit string, imperial bool) string {
	pair, ok := map[string][2]string{"length": {"ft", "m"}, "light": {"fc", "lx"}, "temperature": {"°F", "°C"}}[unit]
	switch {
	case !ok:
		return unit
	case imperial:
		return pair[0]
	}
	return pair[1]
}

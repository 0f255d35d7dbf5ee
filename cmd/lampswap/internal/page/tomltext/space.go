package tomltext

import (
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"reflect"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// What a building has for all its spaces, as photometry/building lends it: tables whose keys a space may have of its own, and what no space may have.
var (
	lentTables = []string{"upkeep", "kinds"}
	lentKeys   = []string{"state", "date", "prepared_by", "prepared_for", "shifts"}
	ofBuilding = []string{"units", "currency", "energy"}
)

// ErrOfBuilding tells that what was changed in a space is one for the whole building.
var ErrOfBuilding = errors.New("that is one for the whole building: change it in the building's text")

// Spaces are the names of a building's spaces, and the files of those that are jobs of their own.
func (t *Text) Spaces() (names, paths []string) {
	for i := range t.Count("spaces") {
		name, _ := t.Value(fmt.Sprintf("spaces[%d].name", i)).(string)
		path, _ := t.Value(fmt.Sprintf("spaces[%d].job", i)).(string)
		if base := strings.TrimSuffix(filepath.Base(path), filepath.Ext(path)); name == "" && path != "" {
			name = base
		} else if name == "" {
			name = fmt.Sprintf("space %d", i+1)
		}
		names, paths = append(names, name), append(paths, path)
	}
	return names, paths
}

// Space is space i of a building as the text of a job: its own keys, with what the building has for all. byPath is the text of its job where it is
// one of its own. It errs where there is no such space.
func (t *Text) Space(i int, byPath string) (string, error) {
	values, err := t.space(i, byPath)
	if err != nil {
		return "", err
	}
	text, err := toml.Marshal(values)
	return string(text), err
}

// space is what Space tells, as values.
func (t *Text) space(i int, byPath string) (map[string]any, error) {
	own, ok := t.Value(fmt.Sprintf("spaces[%d]", i)).(map[string]any)
	if !ok {
		return nil, errors.New("the building has no such space")
	}
	names, paths := t.Spaces()
	values := maps.Clone(own)
	if paths[i] != "" {
		values = map[string]any{}
		if err := toml.Unmarshal([]byte(byPath), &values); err != nil {
			return nil, fmt.Errorf("%s is not TOML", paths[i])
		}
		if unitsOf(values) != unitsOf(t.values) {
			return nil, fmt.Errorf("%s is in other units than the building: open it by itself", paths[i])
		}
		for _, key := range []string{"costs", "rebates", "life_cycle", "firm", "energy", "currency"} {
			delete(values, key) // of the job, which the building does not count
		}
	}
	delete(values, "name")
	delete(values, "copies")
	if title, _ := values["title"].(string); title == "" || own["name"] != nil {
		values["title"] = names[i]
	}
	t.lend(values)
	return values, nil
}

// lend gives a space what the building has for all, as photometry/building does: its own keys count.
func (t *Text) lend(values map[string]any) {
	ownShifts, ownHours := values["shifts"] != nil, tableOf(values["upkeep"])["hours_per_year"] != nil
	for _, key := range append(append([]string{}, lentKeys...), ofBuilding...) {
		if key == "shifts" && ownHours {
			continue
		}
		if _, has := values[key]; !has && t.values[key] != nil {
			values[key] = t.values[key]
		}
	}
	for _, key := range lentTables {
		if key == "kinds" && values["groups"] == nil && values["kinds"] == nil {
			continue
		}
		both := merged(tableOf(values[key]), tableOf(t.values[key]))
		if key == "upkeep" && ownShifts && !ownHours {
			delete(both, "hours_per_year") // its shifts are its hours
		}
		if len(both) > 0 {
			values[key] = both
		}
	}
}

func unitsOf(values map[string]any) string {
	word, _ := values["units"].(string)
	return strings.Replace(word, "imperial", "", 1)
}

// merged is a table with the keys of another that it has not.
func merged(own, lent map[string]any) map[string]any {
	all := maps.Clone(lent)
	if all == nil {
		all = map[string]any{}
	}
	maps.Copy(all, own)
	return all
}

// PutSpace puts a job's text, as Space told it and as it was changed since, into space i. Where single values changed, they alone are written, and the
// rest stays as its author wrote it; else the space is written anew, in place of a job of its own too. It errs, with nothing changed, where the text is
// not TOML or what was changed is the building's.
func (t *Text) PutSpace(i int, byPath, job string) error {
	was, err := t.space(i, byPath)
	if err != nil {
		return err
	}
	now := map[string]any{}
	if err := toml.Unmarshal([]byte(job), &now); err != nil {
		return fmt.Errorf("not TOML: %w", err)
	}
	if reflect.DeepEqual(was, now) {
		return nil
	}
	for _, key := range ofBuilding {
		if !reflect.DeepEqual(was[key], now[key]) {
			return ErrOfBuilding
		}
	}
	before := *t
	try := func(put func(i int, was, now map[string]any) error) bool {
		if put(i, was, now) == nil {
			if is, err := t.space(i, byPath); err == nil && reflect.DeepEqual(is, now) && t.othersStay(before, i) {
				return true
			}
		}
		*t = before
		return false
	}
	_, paths := t.Spaces()
	if paths[i] == "" && try(t.putValues) || try(t.putWhole) {
		return nil
	}
	return ErrOfBuilding
}

// othersStay tells that nothing but space i differs from what the building was.
func (t *Text) othersStay(was Text, i int) bool {
	a, b := maps.Clone(t.values), maps.Clone(was.values)
	x, okX := a["spaces"].([]any)
	y, okY := b["spaces"].([]any)
	if !okX || !okY || len(x) != len(y) {
		return false
	}
	a["spaces"], b["spaces"] = slices.Delete(slices.Clone(x), i, i+1), slices.Delete(slices.Clone(y), i, i+1)
	return reflect.DeepEqual(a, b)
}

// errShape tells that more than single values differ.
var errShape = errors.New("tables came or went")

// putValues writes the values that differ, one by one.
func (t *Text) putValues(i int, was, now map[string]any) error {
	prefix := fmt.Sprintf("spaces[%d].", i)
	if was["title"] != now["title"] {
		if err := t.setValue(prefix+"name", now["title"]); err != nil {
			return err
		}
	}
	was, now = maps.Clone(was), maps.Clone(now)
	delete(was, "title")
	delete(now, "title")
	for name, kind := range tableOf(now["kinds"]) { // a kind of the building's is not changed in part
		if !t.Has(prefix+"kinds."+name) && !reflect.DeepEqual(tableOf(was["kinds"])[name], kind) {
			return errShape
		}
	}
	return t.putTable(prefix, was, now)
}

func tableOf(value any) map[string]any {
	table, _ := value.(map[string]any)
	return table
}

// putTable writes what differs in a table, and in those below it.
func (t *Text) putTable(prefix string, was, now map[string]any) error {
	keys := slices.Sorted(maps.Keys(merged(was, now)))
	for _, key := range keys {
		a, had := was[key]
		b, has := now[key]
		path := prefix + key
		var err error
		switch {
		case reflect.DeepEqual(a, b):
		case !has:
			err = t.Delete(path)
		case tableOf(a) != nil && tableOf(b) != nil:
			err = t.putTable(path+".", tableOf(a), tableOf(b))
		case tablesOf(a) != nil || tablesOf(b) != nil:
			err = t.putTables(path, tablesOf(a), tablesOf(b))
		case !had && tableOf(b) != nil:
			err = errShape
		default:
			err = t.setValue(path, b)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// putTables writes what differs in an array of tables, where none came or went.
func (t *Text) putTables(path string, was, now []map[string]any) error {
	if len(was) != len(now) {
		return errShape
	}
	for k := range was {
		if err := t.putTable(fmt.Sprintf("%s[%d].", path, k), was[k], now[k]); err != nil {
			return err
		}
	}
	return nil
}

// tablesOf is an array whose elements are all tables; nil for anything else.
func tablesOf(value any) []map[string]any {
	list, _ := value.([]any)
	var all []map[string]any
	for _, one := range list {
		table, is := one.(map[string]any)
		if !is {
			return nil
		}
		all = append(all, table)
	}
	return all
}

// setValue sets a key to a value that is no table.
func (t *Text) setValue(path string, value any) error {
	if text, is := value.(string); is {
		return t.Set(path, Quote(text))
	}
	raw, err := toml.Marshal(map[string]any{"v": value})
	if err != nil {
		return err
	}
	return t.Set(path, strings.TrimSuffix(strings.TrimPrefix(string(raw), "v = "), "\n"))
}

// putWhole writes the space anew, without what the building has for all.
func (t *Text) putWhole(i int, _, now map[string]any) error {
	own := maps.Clone(now)
	own["name"] = own["title"]
	delete(own, "title")
	if copies := t.Value(fmt.Sprintf("spaces[%d].copies", i)); copies != nil {
		own["copies"] = copies
	}
	for _, key := range append(append([]string{}, lentKeys...), ofBuilding...) {
		if reflect.DeepEqual(own[key], t.values[key]) {
			delete(own, key)
		}
	}
	for _, key := range lentTables {
		table := maps.Clone(tableOf(own[key]))
		maps.DeleteFunc(table, func(name string, value any) bool { return reflect.DeepEqual(value, tableOf(t.values[key])[name]) })
		if own[key] = table; len(table) == 0 {
			delete(own, key)
		}
	}
	block, err := toml.Marshal(map[string]any{"spaces": []any{own}})
	if err != nil {
		return err
	}
	start, end := -1, -1
	path := fmt.Sprintf("spaces[%d]", i)
	for _, s := range t.sections {
		if s.path == path || strings.HasPrefix(s.path, path+".") {
			if start < 0 {
				start = s.start
			}
			end = s.contentEnd
		}
	}
	if start < 0 {
		return errors.New("the spaces stand in one line")
	}
	return t.edit(start, end, strings.ReplaceAll(string(block), "\n", t.newline()))
}

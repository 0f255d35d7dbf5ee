package tomlfile

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/pelletier/go-toml/v2"

	"lampswap/photometry/diag"
)

// A Table is one table of the file, perhaps an absent one, of which keys are asked. What is absent answers ok = false.
type Table struct {
	file   *File
	path   string
	at     diag.Pos
	values map[string]any
	exists bool
	asked  map[string]bool // by key that was named: whether it was asked for, not only looked for
}

// Exists tells whether the table stands in the file.
func (t *Table) Exists() bool { return t.exists }

// Path returns the dotted path of a key in this table.
func (t *Table) Path(key string) string {
	_, path := t.file.stands(join(t.path, key))
	return path
}

// Pos returns where the key's value stands, or else where the table starts.
func (t *Table) Pos(key string) diag.Pos {
	file, path := t.file.stands(join(t.path, key))
	if pos, ok := file.places[path]; ok {
		return pos
	}
	return t.at
}

// Has tells whether the key is there. It does not count as asked, but Done then knows the key as one that might have been meant.
func (t *Table) Has(key string) bool {
	if !t.asked[key] {
		t.asked[key] = false // known, not asked
	}
	_, ok := t.values[key]
	return ok
}

// Keys returns the keys of the table in the order of the file.
func (t *Table) Keys() []string {
	return slices.SortedFunc(maps.Keys(t.values), func(a, b string) int {
		p, q := t.Pos(a), t.Pos(b)
		return cmp.Or(cmp.Compare(p.Line, q.Line), cmp.Compare(p.Column, q.Column), cmp.Compare(a, b))
	})
}

// CountOrCounts asks for a whole number from least to most, or for an array of 1 to long such numbers.
func (t *Table) CountOrCounts(key string, long, least, most int) (count int, counts []int, ok bool) {
	if _, isList := t.values[key].([]any); isList {
		counts, ok = t.Counts(key, long, least, most)
		return 0, counts, ok
	}
	count, ok = t.Count(key, least, most)
	return count, nil, ok
}

// Fault notes what is wrong with a key's value.
func (t *Table) Fault(key, wrong, want string) {
	if !t.file.full() {
		t.file.Faults.Add(t.Pos(key), t.Path(key), wrong, want)
	}
}

// Missing notes that a key that must be there is not.
func (t *Table) Missing(key, want string) {
	if t.exists && !t.file.Broken() && !t.file.full() {
		t.file.Faults.Add(t.at, t.Path(key), "is missing", want)
	}
}

func (t *Table) get(key string) (any, bool) {
	t.asked[key] = true
	v, ok := t.values[key]
	if file, _ := t.file.stands(join(t.path, key)); ok && file.slipped[t.Pos(key)] {
		return nil, false // a fault tells of it already
	}
	return v, ok
}

// Table asks for a table. If it is absent, so are all its keys.
func (t *Table) Table(key string) *Table {
	sub := &Table{file: t.file, path: join(t.path, key), at: t.Pos(key), asked: map[string]bool{}}
	v, ok := t.get(key)
	if !ok {
		return sub
	}
	if sub.values, sub.exists = v.(map[string]any); !sub.exists {
		t.Fault(key, "is "+describe(v), "a table, ["+t.Path(key)+"]")
	}
	return sub
}

// Tables asks for an array of tables, of at most the given number.
func (t *Table) Tables(key string, most int) []*Table {
	v, ok := t.get(key)
	if !ok {
		return nil
	}
	list, ok := v.([]any)
	if !ok {
		t.Fault(key, "is "+describe(v), "one or more tables, [["+t.Path(key)+"]]")
		return nil
	}
	if len(list) > most {
		t.Fault(key, fmt.Sprintf("has %d tables", len(list)), fmt.Sprintf("at most %d", most))
		return nil
	}
	var subs []*Table
	for i, element := range list {
		indexed := fmt.Sprintf("%s[%d]", key, i)
		values, ok := element.(map[string]any)
		if !ok {
			t.Fault(indexed, "is "+describe(element), "a table, [["+t.Path(key)+"]]")
			continue
		}
		subs = append(subs, &Table{file: t.file, path: join(t.path, indexed), at: t.Pos(indexed), values: values, exists: true, asked: map[string]bool{}})
	}
	return subs
}

// Text asks for a text that is not blank, and returns it as it can be shown to a person: see diag.Visible.
func (t *Table) Text(key string) (string, bool) {
	v, ok := t.get(key)
	if !ok {
		return "", false
	}
	return t.text(key, v)
}

func (t *Table) text(key string, v any) (string, bool) {
	text, isText := v.(string)
	switch {
	case !isText:
		t.Fault(key, "is "+describe(v), "a text in quotes")
		return "", false
	case strings.TrimSpace(text) == "":
		t.Fault(key, "is blank", "a text")
		return "", false
	}
	if shown := diag.Visible(text); shown != text {
		text = strings.TrimSpace(shown)
	}
	return text, true
}

// TextOrTexts asks for a text, or for a list of 1 to most of them; want tells what of.
func (t *Table) TextOrTexts(key string, most int, want string) ([]string, bool) {
	v, ok := t.get(key)
	if !ok {
		return nil, false
	}
	list, isList := v.([]any)
	if _, isText := v.(string); isText {
		text, ok := t.text(key, v)
		return []string{text}, ok
	}
	if !isList || len(list) == 0 || len(list) > most {
		t.Fault(key, "is "+describe(v), want)
		return nil, false
	}
	texts := make([]string, len(list))
	for i, element := range list {
		var good bool
		texts[i], good = t.text(fmt.Sprintf("%s[%d]", key, i), element)
		ok = ok && good
	}
	return texts, ok
}

// Paragraphs asks for a text of several lines, of at most so many bytes; each line is returned as Text returns one.
func (t *Table) Paragraphs(key string, most int) (string, bool) {
	v, ok := t.get(key)
	if !ok {
		return "", false
	}
	if text, isText := v.(string); isText && len(text) > most {
		t.Fault(key, fmt.Sprintf("has %d bytes", len(text)), fmt.Sprintf("at most %d", most))
		return "", false
	}
	if _, good := t.text(key, v); !good {
		return "", false
	}
	lines := strings.Split(strings.ReplaceAll(v.(string), "\r\n", "\n"), "\n") //nolint:forcetypeassert // it is a text
	for i := range lines {
		lines[i] = strings.TrimRight(diag.Visible(strings.ReplaceAll(lines[i], "\t", "    ")), " ")
	}
	return strings.Join(lines, "\n"), true
}

// TextPairs asks for an array of 1 to most pairs of texts.
func (t *Table) TextPairs(key string, most int) [][2]string {
	if !t.Has(key) {
		return nil
	}
	list, _ := t.list(key, most, "pairs of two texts")
	var all [][2]string
	for i, element := range list {
		at := fmt.Sprintf("%s[%d]", key, i)
		pair, isList := element.([]any)
		if !isList || len(pair) != 2 {
			t.Fault(at, "is "+describe(element), "two texts")
			continue
		}
		first, _ := t.text(at+"[0]", pair[0])
		second, _ := t.text(at+"[1]", pair[1])
		all = append(all, [2]string{first, second})
	}
	return all
}

// Take counts a key as asked for, whatever it has.
func (t *Table) Take(key string) { t.asked[key] = true }

// IsText tells whether a key is there with a text; as Has, it does not count as asked.
func (t *Table) IsText(key string) bool {
	_, isText := t.values[key].(string)
	return t.Has(key) && isText
}

// Word asks for one of the given words.
func (t *Table) Word(key string, words ...string) (string, bool) {
	text, ok := t.Text(key)
	if !ok || slices.Contains(words, text) {
		return text, ok
	}
	if t.file.full() {
		return "", false
	}
	want := "one of " + listed(words)
	if near := diag.Nearest(text, words); near != "" {
		want += " (" + near + "?)"
	}
	t.Fault(key, strconv.Quote(text)+" is not known", want)
	return "", false
}

// mostListed bounds how many words a message lists.
const mostListed = 50

// WordOrNumber asks for one of the given words, word then not empty, or for a finite number that keeps the rule, which is to tell of both.
func (t *Table) WordOrNumber(key string, rule Rule, words ...string) (word string, x float64, ok bool) {
	v, ok := t.get(key)
	if !ok {
		return "", 0, false
	}
	if text, isText := v.(string); isText {
		if ok = slices.Contains(words, text); !ok {
			t.Fault(key, strconv.Quote(text)+" is not known", rule.Want)
		}
		return text, 0, ok
	}
	x, ok = t.number(key, v, rule)
	return "", x, ok
}

// listed joins words, and says how many it leaves out.
func listed(words []string) string {
	if more := len(words) - mostListed; more > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(words[:mostListed], ", "), more)
	}
	return strings.Join(words, ", ")
}

// Day asks for a day, as a text "2026-04-30" or a TOML date.
func (t *Table) Day(key string) (time.Time, bool) {
	v, ok := t.get(key)
	if !ok {
		return time.Time{}, false
	}
	text, _ := v.(string)
	if date, isDate := v.(toml.LocalDate); isDate {
		text = date.String()
	}
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		t.Fault(key, "is "+describe(v), `a day as "2026-04-30"`)
	}
	return day, err == nil
}

// Clock asks for a time of the day, as a text "06:30" or a TOML time, and returns its minutes from midnight, 24:00 included; want tells what of.
func (t *Table) Clock(key, want string) (minutes int, ok bool) {
	v, ok := t.get(key)
	if !ok {
		return 0, false
	}
	text, _ := v.(string)
	if clock, isTime := v.(toml.LocalTime); isTime {
		text = clock.String()[:len("06:30")]
	}
	if text == "24:00" {
		return 24 * 60, true
	}
	clock, err := time.Parse("15:04", text)
	if err != nil {
		t.Fault(key, "is "+describe(v), want)
	}
	return clock.Hour()*60 + clock.Minute(), err == nil
}

// Bool asks for true or false.
func (t *Table) Bool(key string) (value, ok bool) {
	v, ok := t.get(key)
	if !ok {
		return false, false
	}
	if value, ok = v.(bool); !ok {
		t.Fault(key, "is "+describe(v), "true or false")
	}
	return value, ok
}

// Number asks for a finite number that keeps the rule.
func (t *Table) Number(key string, rule Rule) (float64, bool) {
	v, ok := t.get(key)
	if !ok {
		return 0, false
	}
	return t.number(key, v, rule)
}

// Count asks for a whole number from least to most.
func (t *Table) Count(key string, least, most int) (int, bool) {
	v, ok := t.get(key)
	if !ok {
		return 0, false
	}
	return t.count(key, v, least, most)
}

// list asks for an array of 1 to most elements, which are called so.
func (t *Table) list(key string, most int, elements string) ([]any, bool) {
	v, ok := t.get(key)
	if !ok {
		return nil, false
	}
	list, isList := v.([]any)
	if !isList || len(list) == 0 || len(list) > most {
		t.Fault(key, "is "+describe(v), fmt.Sprintf("a list of 1 to %d %s", most, elements))
		return nil, false
	}
	return list, true
}

// Counts asks for an array of 1 to long whole numbers, each from least to most.
func (t *Table) Counts(key string, long, least, most int) ([]int, bool) {
	list, ok := t.list(key, long, "whole numbers")
	counts := make([]int, len(list))
	for i, element := range list {
		var good bool
		counts[i], good = t.count(fmt.Sprintf("%s[%d]", key, i), element, least, most)
		ok = ok && good
	}
	return counts, ok
}

func (t *Table) count(key string, v any, least, most int) (int, bool) {
	want := fmt.Sprintf("a whole number from %d to %d", least, most)
	n, isInt := v.(int64)
	x, isFloat := v.(float64)
	text, isText := v.(string)
	if isText && quoted(text) != "" {
		want = quoted(text)
	}
	switch {
	case isFloat && x == math.Trunc(x):
		t.Fault(key, "is "+describe(v)+" with a decimal point", want)
		return 0, false
	case !isInt:
		t.Fault(key, "is "+describe(v), want)
		return 0, false
	case n < int64(least) || n > int64(most):
		t.Fault(key, fmt.Sprintf("is %d", n), want)
		return 0, false
	}
	return int(n), true
}

// Numbers asks for an array of as many numbers as there are rules; those past required may be left out.
func (t *Table) Numbers(key string, required int, rules ...Rule) ([]float64, bool) {
	v, ok := t.get(key)
	if !ok {
		return nil, false
	}
	return t.numbers(key, v, required, rules)
}

// NumberLists asks for an array of such arrays, of at most the given number.
func (t *Table) NumberLists(key string, most, required int, rules ...Rule) ([][]float64, bool) {
	list, ok := t.list(key, most, "lists of numbers")
	var all [][]float64
	for i, element := range list {
		numbers, good := t.numbers(fmt.Sprintf("%s[%d]", key, i), element, required, rules)
		all, ok = append(all, numbers), ok && good
	}
	return all, ok
}

func (t *Table) numbers(key string, v any, required int, rules []Rule) ([]float64, bool) {
	list, isList := v.([]any)
	if !isList || len(list) < required || len(list) > len(rules) {
		want := fmt.Sprintf("a list of %d numbers", required)
		if required < len(rules) {
			want = fmt.Sprintf("a list of %d to %d numbers", required, len(rules))
		}
		t.Fault(key, "is "+describe(v), want)
		return nil, false
	}
	numbers, ok := make([]float64, len(list)), true
	for i, element := range list {
		var good bool
		numbers[i], good = t.number(fmt.Sprintf("%s[%d]", key, i), element, rules[i])
		ok = ok && good
	}
	return numbers, ok
}

// A Named is a number with a name.
type Named struct {
	Name   string
	Number float64
}

// NamedNumbers asks for an array of 1 to most pairs of a text and a number that keeps the rule.
func (t *Table) NamedNumbers(key string, most int, rule Rule) ([]Named, bool) {
	list, ok := t.list(key, most, "pairs of a text and a number")
	all := make([]Named, len(list))
	for i, element := range list {
		at := fmt.Sprintf("%s[%d]", key, i)
		pair, isList := element.([]any)
		if !isList || len(pair) != 2 {
			t.Fault(at, "is "+describe(element), "a text and a number")
			ok = false
			continue
		}
		var named, counted bool
		all[i].Name, named = t.text(at+"[0]", pair[0])
		all[i].Number, counted = t.number(at+"[1]", pair[1], rule)
		ok = ok && named && counted
	}
	return all, ok
}

func (t *Table) number(key string, v any, rule Rule) (float64, bool) {
	var x float64
	switch n := v.(type) {
	case int64:
		x = float64(n)
	case float64:
		x = n
	default:
		want := rule.Want
		if !strings.Contains(want, "a number") && want != Any.Want {
			want = "a number: " + want
		}
		if text, isText := v.(string); isText && quoted(text) != "" {
			want = quoted(text)
		}
		t.Fault(key, "is "+describe(v), want)
		return 0, false
	}
	if math.IsNaN(x) || math.IsInf(x, 0) || !rule.Holds(x) {
		t.Fault(key, "is "+describe(v), rule.Want)
		return 0, false
	}
	return x, true
}

// Done notes every key of the table that nobody asked for, with the nearest that somebody did.
func (t *Table) Done() {
	for _, key := range slices.Sorted(maps.Keys(t.values)) {
		if t.asked[key] || t.file.full() {
			continue
		}
		known := slices.DeleteFunc(slices.Sorted(maps.Keys(t.asked)), func(k string) bool { return k == key })
		want := "one of " + strings.Join(known, ", ")
		if near := diag.Nearest(key, known); near != "" {
			want = near + ", perhaps"
		}
		t.Fault(key, "is not a known key", want)
	}
}

func describe(v any) string {
	switch v := v.(type) {
	case string:
		return "the text " + strconv.Quote(v)
	case bool:
		return strconv.FormatBool(v)
	case int64:
		return strconv.FormatInt(v, 10)
	case float64:
		return strconv.FormatFloat(v, 'g', -1, 64)
	case []any:
		return fmt.Sprintf("a list of %d", len(v))
	case map[string]any:
		return "a table"
	}
	return fmt.Sprintf("%v", v)
}

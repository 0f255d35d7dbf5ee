// Package tomltext changes single values in the text of a TOML file and leaves every other byte as it is.
package tomltext

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// A Text is the text of a TOML file whose values can be changed one by one, so that everything else in it, comments and order and
// blank lines, stays as its author wrote it. Only a comment at the end of a line that is taken out goes with that line.
//
// Places are dotted paths, as faults name them: room.reflectance.ceiling, racks[0].corner[1].
type Text struct {
	text     string
	sections []section // the top of the file first
	values   map[string]any
}

// A section is a header with the pairs below it. All places are byte offsets.
type section struct {
	path       string
	name       int // where the path begins in the header, behind its brackets, and where it ends
	nameEnd    int
	start      int // of the header's line; 0 at the top of the file
	body       int // after the header's line
	pairs      []pair
	contentEnd int // after the line of its last pair, or its header's
}

// A pair is a key with its value, or an element of an array.
type pair struct {
	path       string
	start, end int // of all of it: in a section whole lines, elsewhere from the key to the end of the value
	value, to  int
	open       byte // '{' or '[' where there are parts
	parts      []pair
}

// Read finds the places in a text. It errs if the text is not TOML.
func Read(text string) (*Text, error) {
	t := &Text{}
	return t, t.set(text)
}

func (t *Text) set(text string) error {
	if err := Bounded(text); err != nil {
		return err
	}
	values := map[string]any{}
	if err := toml.Unmarshal([]byte(text), &values); err != nil {
		return fmt.Errorf("not TOML: %w", err)
	}
	t.text, t.values, t.sections = text, values, sectionsOf(text)
	return nil
}

// String is the whole text.
func (t *Text) String() string { return t.text }

// pair returns the pair at the path, wherever it stands.
func (t *Text) pair(path string) (pair, bool) {
	for _, s := range t.sections {
		if p, ok := findPair(s.pairs, path); ok {
			return p, true
		}
	}
	return pair{}, false
}

func findPair(pairs []pair, path string) (pair, bool) {
	for _, p := range pairs {
		if p.path == path {
			return p, true
		}
		if strings.HasPrefix(path, p.path) {
			if found, ok := findPair(p.parts, path); ok {
				return found, true
			}
		}
	}
	return pair{}, false
}

// Raw returns the value at the path as it is written; "" if there is none.
func (t *Text) Raw(path string) string {
	p, _ := t.pair(path)
	return t.text[p.value:p.to]
}

// Has tells whether there is a value or a table at the path.
func (t *Text) Has(path string) bool { return t.Value(path) != nil }

// Value returns the decoded value at the path; nil if there is none.
func (t *Text) Value(path string) any {
	var at any = t.values
	for _, step := range pathSteps(path) {
		switch holder := at.(type) {
		case map[string]any:
			at = holder[step.key]
		case []any:
			if step.key != "" || step.index >= len(holder) {
				return nil
			}
			at = holder[step.index]
		default:
			return nil
		}
	}
	return at
}

// Shown is the value at the path as a reader has it: a string without its quotes, anything else as it is written; "" if there is none.
func (t *Text) Shown(path string) string {
	switch v := t.Value(path).(type) {
	case nil:
		return ""
	case string:
		return v
	}
	return t.Raw(path)
}

// Number is the number at the path, NaN if there is none.
func (t *Text) Number(path string) float64 {
	switch v := t.Value(path).(type) {
	case int64:
		return float64(v)
	case float64:
		return v
	}
	return math.NaN()
}

// Count returns how many elements the array at the path has.
func (t *Text) Count(path string) int {
	list, _ := t.Value(path).([]any)
	return len(list)
}

// edit puts text in the place of a part of it, and reads the whole anew.
func (t *Text) edit(from, to int, with string) error {
	return t.set(t.text[:from] + with + t.text[to:])
}

// Set gives the key at the path a value, as TOML has it. A key that is not there is added to its table, the table too if need be.
func (t *Text) Set(path, raw string) error {
	if p, ok := t.pair(path); ok {
		return t.edit(p.value, p.to, raw)
	}
	parent, key := splitPath(path)
	if p, ok := t.pair(parent); ok && parent != "" {
		if p.open != '{' {
			return fmt.Errorf("%s is no table", parent)
		}
		return t.addPart(p, written(key)+" = "+raw)
	}
	if i := slices.IndexFunc(t.sections, func(s section) bool { return s.path == parent }); i >= 0 {
		return t.addLine(t.sections[i], written(key)+" = "+raw)
	}
	if s, prefix, ok := t.dotted(parent); ok {
		return t.addLine(s, prefix+written(key)+" = "+raw)
	}
	_, name := splitPath(parent)
	if name == "reflectance" || strings.Contains(parent, "]") { // the table of an element must stand in it; that of the reflectances is short
		return t.Set(parent, "{ "+written(key)+" = "+raw+" }")
	}
	nl := t.newline()
	return t.append("[" + written(parent) + "]" + nl + written(key) + " = " + raw + nl)
}

// Rewrite gives every value that has no parts, number or text or other, what change makes of it. It reads the whole anew once, however many change.
func (t *Text) Rewrite(change func(path, raw string) string) error {
	var b strings.Builder
	done := 0
	var walk func(pairs []pair)
	walk = func(pairs []pair) {
		for _, p := range pairs {
			if p.open != 0 {
				walk(p.parts)
				continue
			}
			b.WriteString(t.text[done:p.value])
			b.WriteString(change(p.path, t.text[p.value:p.to]))
			done = p.to
		}
	}
	for _, s := range t.sections {
		walk(s.pairs)
	}
	b.WriteString(t.text[done:])
	return t.set(b.String())
}

// bare are keys that need no quotes.
var bare = regexp.MustCompile(`^[A-Za-z0-9_-]+$`)

// written is a dotted path as it is written in a text, those of its keys in quotes that need them.
func written(path string) string {
	var keys []string
	for key := range strings.SplitSeq(path, ".") {
		if !bare.MatchString(key) {
			key = Quote(key)
		}
		keys = append(keys, key)
	}
	return strings.Join(keys, ".")
}

// dotted finds a table that exists by dotted keys only, as in reflectance.floor = 0.2, and how its keys are written there.
func (t *Text) dotted(parent string) (s section, prefix string, ok bool) {
	for _, s := range t.sections {
		above := s.path
		if above != "" {
			above += "."
		}
		for _, p := range s.pairs {
			if strings.HasPrefix(p.path, parent+".") && strings.HasPrefix(parent, above) {
				return s, written(strings.TrimPrefix(parent, above)) + ".", true
			}
		}
	}
	return section{}, "", false
}

func (t *Text) newline() string {
	if strings.Contains(t.text, "\r\n") {
		return "\r\n"
	}
	return "\n"
}

// addLine adds a line at the end of what a section holds.
func (t *Text) addLine(s section, line string) error {
	nl, at := t.newline(), s.contentEnd
	if len(s.pairs) == 0 && s.path == "" { // below the remarks that open the file
		at = openingRemarks(t.text)
	}
	if at > 0 && t.text[at-1] != '\n' {
		line = nl + line
	}
	return t.edit(at, at, line+nl)
}

// openingRemarks returns where the lines of comment at the start of a text end.
func openingRemarks(text string) int {
	at := len(text) - len(strings.TrimPrefix(text, "\ufeff"))
	for strings.HasPrefix(text[at:], "#") {
		end := strings.IndexByte(text[at:], '\n')
		if end < 0 {
			return len(text)
		}
		at += end + 1
	}
	return at
}

// addPart adds a part to an inline table or an array.
func (t *Text) addPart(p pair, part string) error {
	if n := len(p.parts); n > 0 {
		return t.edit(p.parts[n-1].to, p.parts[n-1].to, ", "+part)
	}
	if p.open == '{' {
		part = " " + part + " "
	}
	return t.edit(p.value, p.to, string(p.open)+part+string(p.open+2)) // '}' and ']' come two after their partners
}

// append adds a block at the end of the text, a blank line before it.
func (t *Text) append(block string) error {
	nl, text := t.newline(), t.text
	if text != "" && !strings.HasSuffix(text, "\n") {
		text += nl
	}
	if text != "" && !strings.HasSuffix(text, "\n\n") && !strings.HasSuffix(text, "\n\r\n") {
		text += nl
	}
	return t.set(text + block)
}

// Delete takes the key at the path out; there need be none. An inline table that is then empty goes too.
func (t *Text) Delete(path string) error {
	for _, s := range t.sections {
		if i := slices.IndexFunc(s.pairs, func(p pair) bool { return p.path == path }); i >= 0 {
			return t.edit(s.pairs[i].start, s.pairs[i].end, "")
		}
	}
	parent, _ := splitPath(path)
	p, ok := t.pair(parent)
	if !ok {
		return nil
	}
	i := slices.IndexFunc(p.parts, func(q pair) bool { return q.path == path })
	switch {
	case i < 0:
		return nil
	case len(p.parts) == 1:
		return t.Delete(parent)
	}
	return t.cutPart(p, i)
}

// cutPart takes one of several parts out, with the comma beside it.
func (t *Text) cutPart(p pair, i int) error {
	if i == len(p.parts)-1 {
		return t.edit(p.parts[i-1].to, p.parts[i].to, "")
	}
	return t.edit(p.parts[i].start, p.parts[i+1].start, "")
}

// AddElement adds an element to an array of tables; the pairs are lines such as count = 4.
func (t *Text) AddElement(name string, pairs ...string) error {
	if p, ok := t.pair(name); ok && p.open == '[' {
		return t.addPart(p, "{ "+strings.Join(pairs, ", ")+" }")
	}
	nl := t.newline()
	block := "[[" + name + "]]" + nl + strings.Join(pairs, nl) + nl
	last := -1
	for i, s := range t.sections {
		if strings.HasPrefix(s.path, name+"[") {
			last = i
		}
	}
	if last < 0 {
		return t.append(block)
	}
	at := t.sections[last].contentEnd
	if t.text[at-1] != '\n' {
		block = nl + block
	}
	return t.edit(at, at, nl+block)
}

// CopyElement adds an element to an array of tables after the last, alike to another with the tables that belong to it, but for some values: a key and
// its value as TOML has it.
func (t *Text) CopyElement(name string, i int, but map[string]string) error {
	path, last := fmt.Sprintf("%s[%d]", name, i), t.Count(name)
	if i < 0 || i >= last {
		return nil
	}
	if p, ok := t.pair(name); ok {
		if err := t.addPart(p, t.text[p.parts[i].value:p.parts[i].to]); err != nil {
			return err
		}
	} else {
		block, at := "", 0
		for _, s := range t.sections {
			if s.path == path || strings.HasPrefix(s.path, path+".") {
				block += t.text[s.start:s.contentEnd]
			}
			if strings.HasPrefix(s.path, name+"[") {
				at = s.contentEnd
			}
		}
		nl := t.newline()
		if !strings.HasSuffix(block, "\n") {
			block += nl
		}
		if !strings.HasSuffix(t.text[:at], "\n") {
			block = nl + block
		}
		if err := t.edit(at, at, nl+block); err != nil {
			return err
		}
	}
	for key, raw := range but {
		if err := t.Set(fmt.Sprintf("%s[%d].%s", name, last, key), raw); err != nil {
			return err
		}
	}
	return nil
}

// RemoveElement takes an element out of an array of tables, with the tables that belong to it.
func (t *Text) RemoveElement(name string, i int) error {
	path := fmt.Sprintf("%s[%d]", name, i)
	if p, ok := t.pair(name); ok {
		switch {
		case i >= len(p.parts):
			return nil
		case len(p.parts) == 1:
			return t.Delete(name)
		}
		return t.cutPart(p, i)
	}
	text := t.text
	for _, s := range slices.Backward(t.sections) {
		if s.path == path || strings.HasPrefix(s.path, path+".") {
			rest := text[s.contentEnd:]
			if blank := len(rest) - len(strings.TrimLeft(rest, "\r\n")); blank > 0 && s.start > 0 {
				rest = rest[blank:]
			}
			text = text[:s.start] + rest
		}
	}
	return t.set(text)
}

// splitPath takes the last key off a path.
func splitPath(path string) (parent, key string) {
	if i := strings.LastIndexByte(path, '.'); i >= 0 {
		return path[:i], path[i+1:]
	}
	return "", path
}

// A pathStep is a key or, where that is empty, an index.
type pathStep struct {
	key   string
	index int
}

func pathSteps(path string) []pathStep {
	var steps []pathStep
	for part := range strings.SplitSeq(path, ".") {
		key, rest, _ := strings.Cut(part, "[")
		steps = append(steps, pathStep{key: key})
		for rest != "" {
			digits, after, _ := strings.Cut(rest, "]")
			index := 0
			if _, err := fmt.Sscanf(digits, "%d", &index); err != nil || index < 0 {
				index = 1 << 30 // no element
			}
			steps = append(steps, pathStep{index: index})
			rest = strings.TrimPrefix(after, "[")
		}
	}
	return steps
}

// Quote writes a text as a TOML basic string.
func Quote(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(text, "\ufffd") {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// QuoteLines writes a text of several lines as TOML has it, so that it stays one in the file; of one line it is as Quote has it.
func QuoteLines(text, newline string) string {
	text = strings.ReplaceAll(text, "\r\n", "\n")
	if !strings.Contains(text, "\n") {
		return Quote(text)
	}
	const three = `"""`
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		quoted := Quote(line)
		lines[i] = quoted[1 : len(quoted)-1]
	}
	return three + newline + strings.Join(lines, newline) + three
}

// Newline is how lines end in the text.
func (t *Text) Newline() string { return t.newline() }

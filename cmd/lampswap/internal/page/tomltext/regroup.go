package tomltext

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
)

// systems are those that a job of one kind of luminaire in each has as tables of their own.
var systems = []string{"existing", "proposed", "replacement"}

// ofWhole are the costs of a system that are of all its luminaires together.
var ofWhole = []string{"installed_cost", "rebate", "other_per_year", "residual"}

// Regroup turns a job with [layout], [existing] and [proposed] into one with [kinds] and [[groups]]: each system's luminaires become a kind of its name,
// where they hang a group. What it does not move stays as its author wrote it. It errs if the job has groups already, or is not as a job is.
func (t *Text) Regroup() error {
	if t.Has("groups") || t.Has("kinds") {
		return fmt.Errorf("it has [kinds] and [[groups]] already")
	}
	groups, err := t.layouts()
	if err != nil {
		return err
	}
	if len(groups) > 1 {
		if err := t.moveEgress(groups); err != nil {
			return err
		}
	}
	for _, system := range systems {
		if err := t.moveCosts(system); err != nil {
			return err
		}
	}
	if err := t.nameKinds(); err != nil {
		return err
	}
	for _, g := range groups {
		if err := t.append("[[groups]]" + t.newline() + strings.Join(g.lines, t.newline()) + t.newline()); err != nil {
			return err
		}
	}
	return nil
}

// A hung is a group to be: the systems that hang there, and its lines.
type hung struct {
	systems []string
	lines   []string
}

// layouts takes the layouts out, and makes a group of each.
func (t *Text) layouts() ([]hung, error) {
	var all []hung
	shared, third := hung{}, t.Has("replacement")
	var own []string
	for _, system := range systems {
		switch {
		case !t.Has(system):
		case t.Has(system + ".layout"):
			own = append(own, system)
		default:
			shared.systems = append(shared.systems, system)
		}
	}
	add := func(name, path string, g hung) error {
		g.lines = append(g.lines, fmt.Sprintf("name = %q", name))
		for _, system := range systems {
			kind := "none"
			if slices.Contains(g.systems, system) {
				kind = system
			}
			if system != "replacement" || third {
				g.lines = append(g.lines, fmt.Sprintf("%s = %q", system, kind))
			}
		}
		places, ok := t.Value(path).(map[string]any)
		if !ok {
			return fmt.Errorf("%s is no table", path)
		}
		for _, key := range slices.Sorted(maps.Keys(places)) {
			g.lines = append(g.lines, key+" = "+t.Raw(path+"."+key))
		}
		all = append(all, g)
		return t.DeleteTable(path)
	}
	if len(shared.systems) > 0 {
		if err := add("all", "layout", shared); err != nil {
			return nil, err
		}
	} else if err := t.DeleteTable("layout"); err != nil {
		return nil, err
	}
	for _, system := range own {
		if err := add("all, "+system, system+".layout", hung{systems: []string{system}}); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// moveEgress tells each group which of its luminaires stay lit on emergency power.
func (t *Text) moveEgress(groups []hung) error {
	if !t.Has("egress") {
		return nil
	}
	for i := range groups {
		var parts []string
		for _, key := range []string{"luminaires", "packs"} {
			if raw := t.Raw("egress." + key); raw != "" {
				parts = append(parts, key+" = "+raw)
			}
		}
		for _, system := range groups[i].systems {
			var own []string
			for _, key := range []string{"luminaires", "packs"} {
				if raw := t.Raw("egress." + system + "." + key); raw != "" {
					own = append(own, key+" = "+raw)
				}
			}
			if own != nil {
				parts = append(parts, system+" = { "+strings.Join(own, ", ")+" }")
			}
		}
		groups[i].lines = append(groups[i].lines, "egress = { "+strings.Join(parts, ", ")+" }")
	}
	for _, table := range []string{"egress", "egress.existing", "egress.proposed", "egress.replacement"} {
		for _, key := range []string{"luminaires", "packs"} {
			if err := t.Delete(table + "." + key); err != nil {
				return err
			}
		}
	}
	return nil
}

// moveCosts takes what a system costs as a whole to [costs].
func (t *Text) moveCosts(system string) error {
	for _, key := range ofWhole {
		from := system + ".costs." + key
		raw := t.Raw(from)
		if raw == "" {
			continue
		}
		if err := t.Delete(from); err != nil {
			return err
		}
		if err := t.Set("costs."+system+"."+key, raw); err != nil {
			return err
		}
	}
	return nil
}

// nameKinds puts the tables of the systems below [kinds].
func (t *Text) nameKinds() error {
	is := func(path string) bool {
		name, _, _ := strings.Cut(path, ".")
		return slices.Contains(systems, name)
	}
	text := t.text
	for _, s := range slices.Backward(t.sections) {
		if s.path == "" {
			for _, p := range slices.Backward(s.pairs) {
				if is(p.path) {
					at := p.start + len(text[p.start:p.value]) - len(strings.TrimLeft(text[p.start:p.value], " \t"))
					text = text[:at] + "kinds." + text[at:]
				}
			}
		} else if is(s.path) {
			text = text[:s.name] + "kinds." + text[s.name:]
		}
	}
	return t.set(leftOut.ReplaceAllString(text, "${1}kinds.$2"))
}

// leftOut are headers of systems' tables that a remark leaves out, as in the job to start from.
var leftOut = regexp.MustCompile(`(?m)^(# ?\[)((?:existing|proposed|replacement)[.\]])`)

// DeleteTable takes a table out with all that stands in it, whichever way it is written; there need be none.
func (t *Text) DeleteTable(path string) error {
	if _, ok := t.pair(path); ok {
		return t.Delete(path)
	}
	text := t.text
	for _, s := range slices.Backward(t.sections) {
		if s.path == path || strings.HasPrefix(s.path, path+".") {
			text = text[:s.start] + text[s.contentEnd:]
			continue
		}
		for _, p := range slices.Backward(s.pairs) { // dotted keys
			if strings.HasPrefix(p.path, path+".") {
				text = text[:p.start] + text[p.end:]
			}
		}
	}
	return t.set(text)
}

// RenameTable gives a table another last key, in its header and in those of the tables below it, whichever way they are written.
func (t *Text) RenameTable(path, key string) error {
	parent, _ := splitPath(path)
	renamed := joinPath(parent, key)
	is := func(p string) bool { return p == path || strings.HasPrefix(p, path+".") }
	type change struct {
		from, to int
		with     string
	}
	var all []change
	var walk func(above string, pairs []pair)
	walk = func(above string, pairs []pair) {
		for _, p := range pairs {
			if !is(p.path) {
				walk(p.path, p.parts)
				continue
			}
			relative := strings.TrimPrefix(strings.TrimPrefix(renamed+strings.TrimPrefix(p.path, path), above), ".")
			blanks := len(t.text[p.start:p.value]) - len(strings.TrimLeft(t.text[p.start:p.value], " \t"))
			all = append(all, change{p.start + blanks, p.value, written(relative) + " = "})
		}
	}
	for _, s := range t.sections {
		if is(s.path) {
			all = append(all, change{s.name, s.nameEnd, written(renamed + strings.TrimPrefix(s.path, path))})
			continue
		}
		walk(s.path, s.pairs)
	}
	text := t.text
	for _, c := range slices.Backward(all) {
		text = text[:c.from] + c.with + text[c.to:]
	}
	return t.set(text)
}

// CopyTable adds a table alike to another beside it, with the tables below it, under another last key.
func (t *Text) CopyTable(path, key string) error {
	parent, _ := splitPath(path)
	copied := joinPath(parent, key)
	if p, ok := t.pair(path); ok {
		return t.Set(copied, t.text[p.value:p.to])
	}
	is := func(p string) bool { return p == path || strings.HasPrefix(p, path+".") }
	block, at, nl := "", 0, t.newline()
	var dotted [][2]string
	for _, s := range t.sections {
		if !is(s.path) {
			for _, p := range s.pairs {
				if is(p.path) {
					dotted = append(dotted, [2]string{copied + strings.TrimPrefix(p.path, path), t.text[p.value:p.to]})
				}
			}
			continue
		}
		block += nl + "[" + written(copied+strings.TrimPrefix(s.path, path)) + t.text[s.nameEnd:s.contentEnd]
		if !strings.HasSuffix(block, "\n") {
			block += nl
		}
		at = s.contentEnd
	}
	if at > 0 {
		if !strings.HasSuffix(t.text[:at], "\n") {
			block = nl + block
		}
		if err := t.edit(at, at, block); err != nil {
			return err
		}
	}
	for _, d := range dotted {
		if err := t.Set(d[0], d[1]); err != nil {
			return err
		}
	}
	return nil
}

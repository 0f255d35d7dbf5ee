package form

import (
	"fmt"
	"slices"
)

// A PartView is a part of the form as the page shows it.
type PartView struct {
	ID, Heading, Note string
	Fields            []FieldView
	Pairs             []pairView
	Sections          []sectionView
	List, Element     string
	Heads             []string // of the columns where the elements are rows of a table
	Elements          []elementView
	More              int // elements without fields
	Adds              []Option
	Folded            bool
}

// A pairView is a field of the existing and of the proposed system.
type pairView struct{ Before, After FieldView }

// An elementView is one rack, grid or criterion with its fields.
type elementView struct {
	ID, Name, Remove, Copy string
	Fields                 []FieldView
	Sections               []sectionView
}

// A sectionView is a folded group of fields.
type sectionView struct {
	ID, Heading string
	Fields      []FieldView
	Given       int // fields that are not blank
	Open        bool
}

// View shows a part.
func (p Part) View(c Context) PartView {
	v := PartView{ID: p.id, Heading: p.heading, Note: p.note, List: p.list, Element: p.element, Adds: p.adds, Folded: p.folded}
	views := func(fields []Field) []FieldView {
		var all []FieldView
		for _, f := range fields {
			one := f.view(c)
			if len(one.Faults) > 0 {
				v.Folded = false
			}
			all = append(all, one)
		}
		return all
	}
	v.Fields = views(p.fields)
	for _, pair := range p.pairs {
		before, after := views(pair[0]), views(pair[1])
		for i := range before {
			v.Pairs = append(v.Pairs, pairView{before[i], after[i]})
		}
	}
	sections := func(id string, all []section) []sectionView {
		var shown []sectionView
		for i, s := range all {
			fields := views(s.fields)
			bad := slices.ContainsFunc(fields, func(f FieldView) bool { return len(f.Faults) > 0 })
			one := sectionView{ID: fmt.Sprintf("s-%s-%d", id, i), Heading: s.heading, Fields: fields, Open: bad}
			for _, f := range s.fields {
				if c.Text.Has(f.Path) {
					one.Given++
				}
			}
			shown = append(shown, one)
		}
		return shown
	}
	v.Sections = sections(p.id, p.sections)
	for i, e := range p.elements {
		one := elementView{ID: fmt.Sprintf("%s-%d", p.list, i), Name: fmt.Sprintf("%s %d", p.element, i+1), Remove: fmt.Sprintf("remove-%s-%d", p.list, i), Fields: views(e.fields)}
		one.Sections = sections(one.ID, e.sections)
		if p.names != nil {
			one.Name = p.element + " " + p.names[i]
		}
		if p.table {
			one.Copy = fmt.Sprintf("copy-%s-%d", p.list, i)
		}
		v.Elements = append(v.Elements, one)
	}
	if p.table && len(p.elements) > 0 {
		for _, f := range p.elements[0].fields {
			head := f.label
			if u := Unit(f.unit, c.Imperial); u != "" {
				head += ", " + u
			}
			v.Heads = append(v.Heads, head)
		}
	}
	if p.list != "" {
		v.More = max(0, c.Text.Count(p.list)-len(p.elements))
	}
	return v
}

package form

import "fmt"

// A PartView is a part of the form as the page shows it.
type PartView struct {
	ID, Heading, Note string
	Fields            []FieldView
	Pairs             []pairView
	List, Element     string
	Heads             []string // of the columns where the elements are rows of a table
	Elements          []elementView
	More              int // elements without fields
	Adds              []Option
	Folded            bool
	Plan              bool // the plan of the room stands here
}

// A pairView is a field of the existing and of the proposed system.
type pairView struct{ Before, After FieldView }

// An elementView is one rack, grid or criterion with its fields.
type elementView struct {
	ID, Name, Remove, Copy string
	Fields                 []FieldView
}

// View shows a part.
func (p Part) View(c Context) PartView {
	v := PartView{ID: p.id, Heading: p.heading, Note: p.note, List: p.list, Element: p.element, Adds: p.adds, Folded: p.folded, Plan: p.id == "racks"}
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
	for i, e := range p.elements {
		one := elementView{ID: fmt.Sprintf("%s-%d", p.list, i), Name: fmt.Sprintf("%s %d", p.element, i+1), Remove: fmt.Sprintf("remove-%s-%d", p.list, i), Fields: views(e)}
		if p.names != nil {
			one.Name = p.element + " " + p.names[i]
		}
		if p.table {
			one.Copy = fmt.Sprintf("copy-%s-%d", p.list, i)
		}
		v.Elements = append(v.Elements, one)
	}
	if p.table && len(p.elements) > 0 {
		for _, f := range p.elements[0] {
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

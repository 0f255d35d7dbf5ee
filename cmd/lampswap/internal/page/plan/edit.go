package plan

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry"
	"lampswap/photometry/room"
)

// ErrNothing says that a plan has no such thing, or none with which that can be done.
var ErrNothing = errors.New("the plan has no such thing")

// decimal writes a number as a job has it: to a ten-thousandth of a foot or a meter, with a point in it.
func decimal(x float64) string {
	text := strconv.FormatFloat(math.Round(x*1e4)/1e4+0, 'f', -1, 64)
	if !strings.Contains(text, ".") {
		text += ".0"
	}
	return text
}

// Move moves a thing to another place, in the text; what would leave the room goes as far as its walls.
func (p *Plan) Move(id string, x, y float64) error {
	t, ok := p.Find(id)
	if !ok || !photometry.Finite(x, y) || math.Abs(x)+math.Abs(y) > 1e6 {
		return ErrNothing
	}
	if t.Kind == Spacing {
		return p.space(t, x, y)
	}
	if t.Kind != Wall && t.Kind != Corner {
		x, y = p.within(t, x, y)
	}
	if t.list != "" {
		return p.shiftList(t.list, x-t.X, y-t.Y)
	}
	for i := 0; i+1 < len(t.first); i += 2 {
		if err := p.text.Set(t.first[i], t.first[i+1]); err != nil {
			return err
		}
	}
	return p.shift(t, x-t.X, y-t.Y)
}

// shift adds to the numbers of a thing, those that stand in the text in one change of it.
func (p *Plan) shift(t Thing, dx, dy float64) error {
	moved := map[string]string{}
	for _, axis := range []struct {
		paths []string
		by    float64
	}{{t.xs, dx}, {t.ys, dy}} {
		for _, path := range axis.paths {
			switch x := p.number(path); {
			case math.Abs(axis.by) < 5e-5: // less than is written
			case !p.text.Has(path): // as of a room without a length
				if err := p.text.Set(path, decimal(map[string]float64{"room.length": p.Length, "room.width": p.Width}[path]+axis.by)); err != nil {
					return err
				}
			default:
				moved[path] = decimal(x + axis.by)
			}
		}
	}
	return p.text.Rewrite(func(path, raw string) string {
		if now, ok := moved[path]; ok {
			return now
		}
		return raw
	})
}

// shiftList moves all the places of a list, in one change of the text.
func (p *Plan) shiftList(path string, dx, dy float64) error {
	var places []string
	for i := range p.text.Count(path) {
		at := func(k int) string { return fmt.Sprintf("%s[%d][%d]", path, i, k) }
		parts := []string{decimal(p.number(at(0)) + dx), decimal(p.number(at(1)) + dy)}
		for k := 2; k < p.text.Count(fmt.Sprintf("%s[%d]", path, i)); k++ {
			parts = append(parts, p.text.Raw(at(k)))
		}
		places = append(places, "["+strings.Join(parts, ", ")+"]")
	}
	return p.text.Set(path, "["+strings.Join(places, ", ")+"]")
}

// within keeps what a thing fills inside the room.
func (p *Plan) within(t Thing, x, y float64) (float64, float64) {
	return t.X + min(max(x-t.X, -t.Low.X), p.Length-t.High.X), t.Y + min(max(y-t.Y, -t.Low.Y), p.Width-t.High.Y)
}

// space sets how many rows and columns there are by how far the second luminaire of the second row is to be from the first.
func (p *Plan) space(t Thing, x, y float64) error {
	area, path := t.Boxes[0], strings.TrimSuffix(t.ID, ".spacing")
	count := func(extent, from, to float64, now int) int {
		step := extent/float64(now) + to - from
		if now == 1 {
			step = extent + to - from
		}
		return int(min(max(math.Round(extent/max(step, extent/500)), 1), 500))
	}
	columns, rows := count(area.High.X-area.Low.X, t.X, x, t.Columns), count(area.High.Y-area.Low.Y, t.Y, y, t.Rows)
	for key, n := range map[string]int{"rows": rows, "columns": columns} {
		if now := map[string]int{"rows": t.Rows, "columns": t.Columns}[key]; n != now {
			if err := p.text.Set(path+"."+key, strconv.Itoa(n)); err != nil {
				return err
			}
		}
	}
	return nil
}

// Delete takes a thing out of the text.
func (p *Plan) Delete(id string) error {
	t, ok := p.Find(id)
	switch {
	case !ok || !t.goes:
		return ErrNothing
	case t.Kind == Corner:
		return p.straighten(t)
	case t.Kind == Single:
		return p.takeDown(id)
	}
	list, i := element(id)
	return p.text.RemoveElement(list, i)
}

// element splits the path of an element, as racks[2].
func element(path string) (list string, i int) {
	list, rest, _ := strings.Cut(path, "[")
	i, err := strconv.Atoi(strings.TrimSuffix(rest, "]"))
	if err != nil {
		return list, 1 << 30 // no element
	}
	return list, i
}

// takeDown takes a luminaire out, and counts the numbers of those after it anew wherever the group names luminaires by them.
func (p *Plan) takeDown(id string) error {
	at := strings.LastIndex(id, ".positions[")
	path := id[:at]
	_, i := element(id[at+1:])
	if err := p.removePart(path+".positions", i); err != nil {
		return err
	}
	lists := []string{path + ".failed", path + ".egress.luminaires"}
	if path == "layout" {
		lists = []string{"egress.luminaires", "egress.existing.luminaires", "egress.proposed.luminaires", "egress.replacement.luminaires"}
	}
	for _, list := range lists {
		if err := p.renumber(list, i+1); err != nil {
			return err
		}
	}
	return nil
}

// removePart takes an element out of a list of values.
func (p *Plan) removePart(path string, i int) error {
	var kept []string
	for k := range p.text.Count(path) {
		if k != i {
			kept = append(kept, p.text.Raw(fmt.Sprintf("%s[%d]", path, k)))
		}
	}
	return p.text.Set(path, "["+strings.Join(kept, ", ")+"]")
}

// renumber leaves a number out of a list, and takes one off those above it. A list that is then empty goes.
func (p *Plan) renumber(path string, gone int) error {
	n, changed := p.text.Count(path), false
	var kept []string
	for k := range n {
		x, ok := p.text.Value(fmt.Sprintf("%s[%d]", path, k)).(int64)
		switch {
		case !ok:
			return nil // no list of numbers
		case int(x) == gone:
			changed = true
			continue
		case int(x) > gone:
			x, changed = x-1, true
		}
		kept = append(kept, strconv.FormatInt(x, 10))
	}
	switch {
	case !changed:
		return nil
	case len(kept) == 0:
		return p.text.Delete(path)
	}
	return p.text.Set(path, "["+strings.Join(kept, ", ")+"]")
}

// Copy adds another of a thing beside it; of a corner, it cuts the corner in, so that there are two more.
func (p *Plan) Copy(id string) (made string, err error) {
	t, ok := p.Find(id)
	if !ok || !t.copies {
		return "", ErrNothing
	}
	switch t.Kind {
	case Corner:
		return p.bend(t)
	case Single:
		at := strings.LastIndex(id, ".positions[")
		path := id[:at] + ".positions"
		n := p.text.Count(path)
		made = fmt.Sprintf("%s[%d]", path, n)
		var parts []string
		for k := range n {
			parts = append(parts, p.text.Raw(fmt.Sprintf("%s[%d]", path, k)))
		}
		parts = append(parts, p.text.Raw(id))
		err = p.text.Set(path, "["+strings.Join(parts, ", ")+"]")
	default:
		list, i := element(id)
		made = fmt.Sprintf("%s[%d]", list, p.text.Count(list))
		but := map[string]string{}
		if list != "racks" {
			but["name"] = tomltext.Quote(p.freeName(list, p.text.Shown(id+".name")))
		}
		err = p.text.CopyElement(list, i, but)
	}
	if err != nil {
		return "", err
	}
	again := Of(p.text)
	c, ok := again.Find(made)
	if !ok {
		return made, nil
	}
	x, y := again.beside(c)
	return made, again.Move(made, x, y)
}

// beside is a place beside a thing, in the room.
func (p *Plan) beside(t Thing) (x, y float64) {
	gap := p.Foot(4)
	for _, d := range []room.Vec{{Y: t.High.Y - t.Low.Y + gap}, {Y: -(t.High.Y - t.Low.Y + gap)}, {X: t.High.X - t.Low.X + gap}, {X: -(t.High.X - t.Low.X + gap)}} {
		if p.inside(t.Low.X+d.X, t.Low.Y+d.Y) && p.inside(t.High.X+d.X, t.High.Y+d.Y) {
			return t.X + d.X, t.Y + d.Y
		}
	}
	return t.X, t.Y
}

// freeName is a name that none of the tables has.
func (p *Plan) freeName(list, like string) string {
	var taken []string
	for i := range p.text.Count(list) {
		taken = append(taken, p.text.Shown(fmt.Sprintf("%s[%d].name", list, i)))
	}
	if like == "" {
		like = strings.TrimSuffix(list, "s")
	}
	for n := 2; ; n++ {
		if name := fmt.Sprintf("%s, %d", like, n); !slices.Contains(taken, name) {
			return name
		}
	}
}

// setOutline writes the outline, with which the room has no other length and width.
func (p *Plan) setOutline(o room.Outline) error {
	var corners []string
	for _, c := range o {
		corners = append(corners, "["+decimal(c.X)+", "+decimal(c.Y)+"]")
	}
	if err := p.text.Set("room.outline", "["+strings.Join(corners, ", ")+"]"); err != nil {
		return err
	}
	for _, key := range []string{"room.length", "room.width"} {
		if err := p.text.Delete(key); err != nil {
			return err
		}
	}
	return nil
}

// bend cuts a corner in: in its place come three, a quarter of its shorter wall away.
func (p *Plan) bend(t Thing) (string, error) {
	o, i := p.Outline, 2
	if o == nil {
		o = room.Outline{{}, {X: p.Length}, {X: p.Length, Y: p.Width}, {Y: p.Width}}
	} else {
		_, i = element(strings.TrimPrefix(t.ID, "room."))
	}
	n := len(o)
	c, before, after := o[i], o[(i+n-1)%n].Sub(o[i]), o[(i+1)%n].Sub(o[i])
	by := math.Floor(min(before.Length(), after.Length()) / 4)
	if by < p.Foot(1) || before.Dot(after) != 0 {
		return "", ErrNothing // it is no bend, or too short
	}
	a, b := c.Add(before.Scale(by/before.Length())), c.Add(after.Scale(by/after.Length()))
	return fmt.Sprintf("room.outline[%d]", i+1), p.setOutline(slices.Concat(o[:i], room.Outline{a, a.Add(b).Sub(c), b}, o[i+1:]))
}

// straighten takes out the wall from a corner to the next: the wall before it comes into line with the one after it.
func (p *Plan) straighten(t Thing) error {
	o := slices.Clone(p.Outline)
	_, i := element(strings.TrimPrefix(t.ID, "room."))
	n := len(o)
	before, next := (i+n-1)%n, (i+1)%n
	switch a, b := o[before].Sub(o[i]), o[next].Sub(o[i]); {
	case a.Dot(b) != 0 || a.Length() == 0 || b.Length() == 0: // straight on: the corner is none
		return p.setOutline(slices.Delete(o, i, i+1))
	case n < 6:
		return ErrNothing
	default:
		o[before] = o[before].Add(b)
	}
	var kept room.Outline
	for k, c := range o {
		if k != i && k != next {
			kept = append(kept, c)
		}
	}
	return p.setOutline(kept)
}

// Lattice is the layout or the group that is chosen by itself or by its spacing; where none is, the only one with rows and columns.
func (p *Plan) Lattice(id string) string {
	var all []string
	for _, t := range p.Things {
		if path := strings.TrimSuffix(t.ID, ".spacing"); t.Kind == Spacing || t.Kind == Group {
			if path == strings.TrimSuffix(id, ".spacing") {
				return path
			}
			all = append(all, path)
		}
	}
	if all = slices.Compact(all); len(all) == 1 {
		return all[0]
	}
	return ""
}

// Place gives each luminaire of a layout or a group a place of its own, where it hangs now.
func (p *Plan) Place(path string) error {
	g := slices.IndexFunc(p.hungs(), func(h hung) bool { return h.path == path })
	if g < 0 || p.text.Has(path+".positions") || p.Left > 0 {
		return ErrNothing
	}
	var places []string
	for _, l := range p.Luminaires {
		if l.Group == g {
			places = append(places, "["+decimal(l.At.X)+", "+decimal(l.At.Y)+"]")
		}
	}
	if len(places) == 0 {
		return ErrNothing
	}
	for _, key := range []string{"rows", "columns", "count", "area"} {
		if err := p.text.Delete(path + "." + key); err != nil {
			return err
		}
	}
	return p.text.Set(path+".positions", "["+strings.Join(places, ", ")+"]")
}

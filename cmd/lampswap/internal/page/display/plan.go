package display

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/page/plan"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

// A Plan is the plan of a room as the page draws it, in the job's units with y downward.
type Plan struct {
	Length, Width string
	Shape         string // how tall the room is for its length, a class of plan.css: "longest" to "slim"
	Unit          string
	Floor         string // points of a polygon
	Words         string // for a reader who cannot see it
	Shapes        []shapeView
	Luminaires    []markView
	Stations      []dotView
	StationWords  string
	Choices       []choiceGroup
	Across, Up    []tickView
	Snaps         []snapView
	Nudge         string // an inch, or a centimeter
	Made          string // the thing that was just made
	Groups        []groupView
	Failed        bool // there are some
	Left          int  // luminaires that are not drawn
	Lattices      bool // some luminaires hang in rows, or spread evenly
}

// A shapeView is a thing, or one of those like it, that can be taken hold of.
type shapeView struct {
	DOM, ID, Of, Kind, Name  string
	Form                     string // "rect", "line" or "dot"
	X1, Y1, X2, Y2           string
	Width, Height            string
	AtX, AtY                 string // by which it is known, y upward
	LowX, LowY, HighX, HighY string
	Share                    int // the how-manieth of a row; 0 of the thing itself
	Rows, Columns            int
}

// A markView is a luminaire.
type markView struct {
	DOM, Thing, Name string
	X1, Y1, X2, Y2   string
	Group            int
	Failed           bool
	Own              bool // it has a place of its own
	AtX, AtY         string
}

type dotView struct{ Name, X, Y string }

type snapView struct{ Value, Label string }

type groupView struct {
	Name string
	Look int
}

// choiceGroup are the things of a kind, to choose from.
type choiceGroup struct {
	Name    string
	Choices []choiceView
}

type choiceView struct{ ID, Label, X, Y string }

// looks is how many groups of luminaires look different.
const looks = 6

var notInDOM = regexp.MustCompile(`[^A-Za-z0-9]+`)

// domID is a path as the id of an element.
func domID(path string) string {
	return "t-" + strings.Trim(notInDOM.ReplaceAllString(path, "-"), "-")
}

// PlanOf shows a plan. While the text has faults the job is that of before, or nil; its stations are then not shown.
func PlanOf(p *plan.Plan, j *job.Job, now bool, made string) *Plan {
	v := &Plan{Length: coordinate(p.Length), Width: coordinate(p.Width), Shape: shapeOf(p.Length, p.Width), Unit: "ft", Made: made, Left: p.Left,
		Across: planTicks(p.Length, ticksAcross(p.Length, p.Width)), Up: upward(planTicks(p.Width, ticksAcross(p.Width, p.Length))), Nudge: "0.083333333333", Snaps: []snapView{{"0.083333333333", "1 in"}, {"0.5", "6 in"}, {"1", "1 ft"}, {"2", "2 ft"}}}
	if !p.Imperial {
		v.Unit, v.Nudge, v.Snaps = "m", "0.01", []snapView{{"0.01", "1 cm"}, {"0.1", "10 cm"}, {"0.25", "25 cm"}, {"0.5", "50 cm"}}
	}
	if j != nil {
		p.Resolve(j, now)
	}
	if j != nil && now {
		v.stations(j, p.Width)
	}
	outline := p.Outline
	if outline == nil {
		outline = room.Outline{{}, {X: p.Length}, {X: p.Length, Y: p.Width}, {Y: p.Width}}
	}
	var corners []string
	for _, c := range outline {
		corners = append(corners, coordinate(c.X)+","+coordinate(p.Width-c.Y))
	}
	v.Floor = strings.Join(corners, " ")
	racks, hanging := 0, 0
	for _, t := range p.Things {
		v.addShapes(t, p.Width)
		v.addChoice(t)
		switch t.Kind {
		case plan.Rack:
			racks += len(t.Boxes)
		case plan.Hanging:
			hanging += len(t.Boxes)
		}
	}
	v.addLuminaires(p)
	v.Lattices = slices.ContainsFunc(p.Things, func(t plan.Thing) bool { return t.Kind == plan.Spacing || t.Kind == plan.Group })
	v.Words = fmt.Sprintf("Plan of the room, %.4g by %.4g %s, with %s, %s", p.Length, p.Width, v.Unit, several(len(p.Luminaires)+p.Left, "luminaire"), several(racks, "rack"))
	if hanging > 0 {
		v.Words += fmt.Sprintf(", %d hanging", hanging)
	}
	v.Words += ". The origin is at the lower left; x runs to the right, y up"
	return v
}

func several(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}

// shapeOf says how a room is to be fitted into the page.
func shapeOf(length, width float64) string {
	switch ratio := width / length; {
	case ratio < 0.05:
		return "longest"
	case ratio < 0.125:
		return "long"
	case ratio < 0.7:
		return "wide"
	case ratio < 1.15:
		return "square"
	case ratio < 2:
		return "tall"
	case ratio < 5:
		return "narrow"
	}
	return "slim"
}

// ticksAcross is how many steps an axis has room for on a phone.
func ticksAcross(extent, other float64) int {
	switch ratio := extent / other; {
	case ratio < 0.12:
		return 1
	case ratio < 0.3:
		return 2
	case ratio < 0.8:
		return 4
	}
	return 6
}

// planTicks are round places along an axis, in percent of it, that do not come too close on a phone.
func planTicks(extent float64, most int) []tickView {
	step := tickStep(extent)
	for extent/step > float64(most) {
		step *= 2
	}
	var all []tickView
	for i := 0; float64(i)*step <= extent*(1+1e-9); i++ {
		x := float64(i) * step
		all = append(all, tickView{At: fmt.Sprintf("%.2f%%", 100*x/extent), Text: fmt.Sprintf("%.6g", x), Last: x > extent*0.97})
	}
	return all
}

// upward turns a tick from below into one from above, as pictures have it.
func upward(all []tickView) []tickView {
	turned := make([]tickView, len(all))
	for i, t := range all {
		var at float64
		if _, err := fmt.Sscanf(t.At, "%f%%", &at); err == nil {
			t.At = fmt.Sprintf("%.2f%%", 100-at)
		}
		turned[i] = t
	}
	return turned
}

func (v *Plan) addShapes(t plan.Thing, width float64) {
	shape := shapeView{ID: t.ID, DOM: domID(t.ID), Of: t.Of, Kind: t.Kind, Name: t.Name, AtX: coordinate(t.X), AtY: coordinate(t.Y), Form: "rect", Rows: t.Rows, Columns: t.Columns,
		LowX: coordinate(t.Low.X), LowY: coordinate(t.Low.Y), HighX: coordinate(t.High.X), HighY: coordinate(t.High.Y)}
	switch t.Kind {
	case plan.Single: // the luminaire itself
		return
	case plan.Corner, plan.Observer, plan.Size, plan.Near, plan.Spacing:
		shape.Form, shape.X1, shape.Y1 = "dot", coordinate(t.X), coordinate(width-t.Y)
		v.Shapes = append(v.Shapes, shape)
		return
	case plan.Wall, plan.Face:
		b := t.Boxes[0]
		shape.Form, shape.X1, shape.Y1, shape.X2, shape.Y2 = "line", coordinate(b.Low.X), coordinate(width-b.Low.Y), coordinate(b.High.X), coordinate(width-b.High.Y)
		v.Shapes = append(v.Shapes, shape)
		return
	case plan.Next: // drawn as those like the first
		return
	}
	for k, b := range t.Boxes {
		one := shape
		one.X1, one.Y1, one.Width, one.Height = coordinate(b.Low.X), coordinate(width-b.High.Y), coordinate(b.High.X-b.Low.X), coordinate(b.High.Y-b.Low.Y)
		if one.Share = k; k > 0 {
			one.ID, one.Of, one.DOM = t.ID+".repeat.step", t.ID, fmt.Sprintf("%s-like-%d", domID(t.ID), k)
			one.AtX, one.AtY = coordinate(t.Boxes[1].Low.X), coordinate(t.Boxes[1].Low.Y)
		}
		v.Shapes = append(v.Shapes, one)
	}
}

// choiceNames are the words over the things of a kind, in the order in which they are listed.
var choiceNames = []struct{ kind, name string }{{plan.Rack, "Racks"}, {plan.Hanging, "Hanging boxes"}, {plan.Group, "Groups of luminaires"}, {plan.Together, "Groups of luminaires"},
	{plan.Single, "Luminaires"}, {plan.Spacing, "Spacing"}, {plan.Area, "Grids"}, {plan.Face, "Grids"}, {plan.Observer, "Observers"}, {plan.Wall, "Walls"},
	{plan.Corner, "Corners of the room"}, {plan.Size, "Sizes"}, {plan.Near, "Sizes"}, {plan.Next, "Sizes"}}

func (v *Plan) addChoice(t plan.Thing) {
	name := ""
	for _, n := range choiceNames {
		if n.kind == t.Kind {
			name = n.name
		}
	}
	choice := choiceView{ID: t.ID, Label: t.Name, X: coordinate(t.X), Y: coordinate(t.Y)}
	for i := range v.Choices {
		if v.Choices[i].Name == name {
			v.Choices[i].Choices = append(v.Choices[i].Choices, choice)
			return
		}
	}
	v.Choices = append(v.Choices, choiceGroup{name, []choiceView{choice}})
}

func (v *Plan) addLuminaires(p *plan.Plan) {
	seen, things := map[int]bool{}, map[string]plan.Thing{}
	for _, t := range p.Things {
		things[t.ID] = t
	}
	for _, l := range p.Luminaires {
		half := room.Vec{X: math.Cos(l.Turn), Y: math.Sin(l.Turn)}.Scale(l.Long / 2)
		m := markView{DOM: fmt.Sprintf("l-%d-%d", l.Group, l.Number), Thing: l.Thing, Group: l.Group % looks, Failed: l.Failed, X1: coordinate(l.At.X - half.X), Y1: coordinate(p.Width - l.At.Y + half.Y),
			X2: coordinate(l.At.X + half.X), Y2: coordinate(p.Width - l.At.Y - half.Y), AtX: coordinate(l.At.X), AtY: coordinate(l.At.Y)}
		if t, ok := things[l.Thing]; ok {
			m.Own, m.Name = t.Kind == plan.Single, t.Name
		}
		v.Failed = v.Failed || l.Failed
		v.Luminaires = append(v.Luminaires, m)
		if !seen[l.Group] {
			seen[l.Group] = true
			v.Groups = append(v.Groups, groupView{Name: p.GroupName(l.Group), Look: l.Group % looks})
		}
	}
}

// stations are where the light of the proposed system would be measured.
func (v *Plan) stations(j *job.Job, width float64) {
	m, err := stations.Of(j, "proposed", stations.Wanted{Kind: stations.Auto})
	if err != nil {
		return // a job without stations has none on its plan
	}
	all := m.Stations()
	if len(all) > MostStations {
		return
	}
	meter := units.Of(j).Meter
	for _, s := range all {
		v.Stations = append(v.Stations, dotView{s.Name, coordinate(s.Position.X / meter), coordinate(width - s.Position.Y/meter)})
	}
}

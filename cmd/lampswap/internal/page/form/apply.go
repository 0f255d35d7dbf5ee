package form

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"lampswap/cmd/lampswap/internal/page/plan"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry/codes"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/room"
	"lampswap/photometry/spaces"
)

// Apply changes the text of a job by what was posted: first the fields, then what the pressed button says, as "add-rack" or
// "remove-racks-2". It returns the new text, which differs from the old only where something was changed.
func Apply(text string, posted url.Values, uploaded, beside []string) (string, error) {
	t, err := tomltext.Read(text)
	if err != nil {
		return "", err
	}
	units := unitsOf(t)
	if shown := posted.Get(ShownUnits); shown != units && (shown == "metric" || shown == "imperial") { // typed before the page showed the job in other units
		if err := switchUnits(t, shown); err != nil {
			return "", err
		}
	}
	m := former{t: t, uploaded: uploaded, beside: beside, most: mostShown}
	fields := FieldsOf(m.parts())
	for _, f := range fields {
		if f.Path == unitsPath {
			continue // when all else is in the text, in the units in which it was typed
		}
		if err := f.apply(t, posted); err != nil {
			return "", err
		}
	}
	for _, f := range fields {
		if err := f.rename(t, posted); err != nil {
			return "", err
		}
	}
	if err := leaveNoneEmpty(t); err != nil {
		return "", err
	}
	if err := m.act(posted.Get("do")); err != nil {
		return "", err
	}
	if asked := posted.Get(unitsPath); asked != "" {
		units = asked
	} else if units == unitsOf(t) {
		return t.String(), nil
	}
	if units != Shown(t, unitsPath) {
		if err := switchUnits(t, units); err != nil {
			return "", err
		}
	}
	return t.String(), nil
}

// rename gives a kind of luminaire the name that was typed, in the groups too; a name that is taken, or that the form could not tell, changes nothing.
func (f Field) rename(t *tomltext.Text, posted url.Values) error {
	old, name := strings.TrimPrefix(f.Path, "kinds."), strings.TrimSpace(posted.Get(f.Path))
	if f.kind != kindName || name == "" || name == old || t.Has("kinds."+name) || name == noKind || strings.ContainsAny(name, ".[]\"\\:") || len(name) > 80 {
		return nil
	}
	if slices.ContainsFunc(allKinds(t), func(other string) bool { return other != old && ID(other) == ID(name) }) {
		return nil
	}
	if err := t.RenameTable(f.Path, name); err != nil {
		return err
	}
	for i := range t.Count("groups") {
		for _, system := range job.SystemNames {
			path := fmt.Sprintf("groups[%d].%s", i, system)
			if Shown(t, path) != old {
				continue
			}
			if err := t.Set(path, tomltext.Quote(name)); err != nil {
				return err
			}
		}
	}
	return nil
}

// noKind is what a group says where it has no luminaires.
const noKind = "none"

// leaveNoneEmpty takes out tables that ask for keys, once they have none.
func leaveNoneEmpty(t *tomltext.Text) error {
	for _, table := range []string{"costs", "firm"} {
		if keys, ok := t.Value(table).(map[string]any); ok && len(keys) == 0 {
			if err := t.DeleteTable(table); err != nil {
				return err
			}
		}
	}
	return nil
}

func (m former) act(what string) error {
	t := m.t
	action, rest, _ := strings.Cut(what, "-")
	if name, digits, ok := strings.Cut(rest, "-"); ok && (action == "remove" || action == "copy") {
		return actOn(t, action, name, digits)
	}
	if action == "drop" && slices.Contains([]string{"replacement", "egress", "uncertainty", "firm"}, rest) {
		return t.DeleteTable(rest)
	}
	p := plan.Of(t)
	switch what {
	case "add-kind":
		return addKind(t)
	case "add-group":
		return addGroup(t, p)
	case "to-groups":
		return t.Regroup()
	case "add-third":
		return addThird(t)
	case "drop-third":
		return dropThird(t)
	case "add-replacement":
		return setAll(t, [][2]string{{"replacement.fixture", `"industrial-slotted"`}, {"replacement.lamp", `"F32T8/800"`}, {"replacement.lamps", "2"}, {"replacement.ballast", `"is-normal"`}})
	case "add-egress":
		return addEgress(t, p)
	case "add-uncertainty":
		return t.Set("uncertainty.confidence", "0.95")
	}
	if lines := m.newElement(p, what); lines != nil {
		return t.AddElement(tableOf[what], lines...)
	}
	return nil
}

// tableOf is the list to which a button adds.
var tableOf = map[string]string{"add-rack": "racks", "add-face": "grids", "add-area": "grids", "add-observer": "observers", "add-level": "criteria", "add-rule": "criteria",
	"add-code": "criteria", "add-rebate": "rebates", "add-photo": "photos"}

// newElement are the lines of what a button adds to a list; nil for another button.
func (m former) newElement(p *plan.Plan, what string) []string {
	t := m.t
	switch what {
	case "add-rack":
		return []string{"corner = " + numbers(p.Length*0.1, p.Width*0.15), "size = " + numbers(p.Length*0.6, p.Foot(4), min(p.Foot(12), p.Height*0.7))}
	case "add-face":
		return append([]string{"name = " + tomltext.Quote(freeName(t, "grids", "face"))}, faceOfRack(p)...)
	case "add-area":
		return []string{"name = " + tomltext.Quote(freeName(t, "grids", "area")), "area = " + numbers(0, 0, p.Length, p.Width), "height = 0.0"}
	case "add-observer":
		return []string{"name = " + tomltext.Quote(freeName(t, "observers", "observer")), "at = " + numbers(p.Length/2, p.Width*0.05), "looking = 90.0"}
	case "add-level":
		return []string{"level = " + tomltext.Quote(freeLevel(t))}
	case "add-rule":
		return []string{"name = " + tomltext.Quote(freeName(t, "criteria", "rule of our own")), `statistic = "average"`, "at_least = " + plainDecimal(map[bool]float64{true: 10, false: 100}[p.Imperial])}
	case "add-code":
		lines := []string{"energy_code = " + tomltext.Quote(codes.Editions()[0])}
		if !t.Has("room.space") {
			lines = append(lines, `space = "Warehouse"`)
		}
		return lines
	case "add-rebate":
		return []string{`per = "lamp"`, "amount = 1.0"}
	case "add-photo":
		if name := m.freePicture(); name != "" {
			return []string{"file = " + tomltext.Quote(name)}
		}
	}
	return nil
}

// setAll gives keys their values.
func setAll(t *tomltext.Text, pairs [][2]string) error {
	for _, p := range pairs {
		if err := t.Set(p[0], p[1]); err != nil {
			return err
		}
	}
	return nil
}

// addThird lets every group compare a replacement, which is what is proposed until another kind is chosen.
func addThird(t *tomltext.Text) error {
	for i := range t.Count("groups") {
		if kind := t.Raw(fmt.Sprintf("groups[%d].proposed", i)); kind != "" {
			if err := t.Set(fmt.Sprintf("groups[%d].replacement", i), kind); err != nil {
				return err
			}
		}
	}
	return nil
}

func dropThird(t *tomltext.Text) error {
	for i := range t.Count("groups") {
		if err := t.Delete(fmt.Sprintf("groups[%d].replacement", i)); err != nil {
			return err
		}
	}
	return t.DeleteTable("costs.replacement")
}

// addEgress adds a way out along the middle of the room, on its floor; which luminaires stay lit is for its author to say.
func addEgress(t *tomltext.Text, p *plan.Plan) error {
	name := freeName(t, "grids", "way out")
	wide := min(p.Foot(4), p.Width)
	if err := t.AddElement("grids", "name = "+tomltext.Quote(name), "area = "+numbers(0, (p.Width-wide)/2, p.Length, (p.Width+wide)/2), "height = 0.0"); err != nil {
		return err
	}
	pairs := [][2]string{{"egress.grid", tomltext.Quote(name)}}
	if grouped(t) {
		pairs = append(pairs, [2]string{"groups[0].egress.luminaires", "[1]"})
	} else {
		pairs = append(pairs, [2]string{"egress.luminaires", "[1]"})
	}
	return setAll(t, pairs)
}

// actOn takes an element of a list out, or copies it.
func actOn(t *tomltext.Text, action, name, digits string) error {
	i, err := strconv.Atoi(digits)
	switch known := err == nil && i >= 0; {
	case !known || !slices.Contains([]string{"racks", "grids", "observers", "criteria", "rebates", "photos", "groups", "kinds"}, name):
		return nil // no button of ours
	case name == "kinds":
		if names := kindNames(t); action == "remove" && i < len(names) {
			return t.DeleteTable("kinds." + names[i])
		}
		return nil
	case action == "remove":
		return t.RemoveElement(name, i)
	case name == "groups":
		return t.CopyElement(name, i, map[string]string{"name": tomltext.Quote(freeName(t, name, "group"))})
	}
	return nil
}

// faceOfRack is an upright place to look at: the near long side of the first rack, else a strip along the wall.
func faceOfRack(p *plan.Plan) []string {
	facing, high, spacing := "facing = 90.0", "heights = "+numbers(p.Foot(2), min(p.Foot(8), p.Height)), "spacing = "+plainDecimal(p.Foot(2))
	from, to := room.Vec{Y: p.Foot(0.5)}, room.Vec{X: p.Length, Y: p.Foot(0.5)}
	if i := slices.IndexFunc(p.Things, func(t plan.Thing) bool { return t.Kind == plan.Rack }); i >= 0 {
		box := p.Things[i].Boxes[0]
		from, to = room.Vec{X: box.Low.X, Y: box.High.Y}, box.High
	}
	return []string{"from = " + numbers(from.X, from.Y), "to = " + numbers(to.X, to.Y), high, facing, spacing}
}

// freeName is a name that none of the tables has.
func freeName(t *tomltext.Text, tables, stem string) string {
	taken := taken(t, tables, "name")
	n := 1
	for taken[fmt.Sprintf("%s %d", stem, n)] {
		n++
	}
	return fmt.Sprintf("%s %d", stem, n)
}

// freeLevel is a level that the job does not name, one about its kind of space if there is one.
func freeLevel(t *tomltext.Text) string {
	taken := taken(t, "criteria", "level")
	space, _ := spaces.Find(Shown(t, "room.space"))
	all := slices.Concat(space.Levels, []string{"warehouse-active-bulky"}, levels.Names())
	return all[max(0, slices.IndexFunc(all, func(id string) bool { return !taken[id] }))]
}

// taken are the values that a key has in the tables of a name.
func taken(t *tomltext.Text, tables, key string) map[string]bool {
	all := map[string]bool{}
	for i := range t.Count(tables) {
		all[Shown(t, fmt.Sprintf("%s[%d].%s", tables, i, key))] = true
	}
	return all
}

// numbers writes a list of numbers to a tenth, as TOML.
func numbers(all ...float64) string {
	var texts []string
	for _, x := range all {
		texts = append(texts, plainDecimal(x))
	}
	return "[" + strings.Join(texts, ", ") + "]"
}

// plainDecimal writes a number to a tenth, with a point in it.
func plainDecimal(x float64) string { return strconv.FormatFloat(x, 'f', 1, 64) }

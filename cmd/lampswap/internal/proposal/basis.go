package proposal

import (
	"fmt"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/losses"
	"lampswap/photometry/number"
	"lampswap/photometry/room"
	"lampswap/photometry/whole"
	"lampswap/photometry/wording"
)

// systemSource is what the job says of a system.
type systemSource = *job.System

// levels tells the criteria, and which levels and energy codes bind.
func (c *content) levels() {
	c.chapter("Criteria, levels and energy codes")
	if criteria := ledger.Criteria(c.result); len(criteria) > 0 {
		c.part("Criteria of this job")
		c.list(criteria)
	}
	for _, part := range []struct {
		title string
		items []string
	}{{"The kind of space", wording.Space(c.result)}, {"Which published level binds", wording.Binding(c.result)},
		{"Power density against energy codes, where they are adopted", ledger.PowerLimits(c.result)},
		{"What the swap touches, for a code's rule of alterations", wording.Alterations(c.result)}} {
		if len(part.items) > 0 {
			c.part(part.title)
			c.list(part.items)
		}
	}
}

// fittings tell for whoever buys what the lamps and ballasts are by the names of the list, and what comes in and goes out with the length of
// strip.
func (c *content) fittings() {
	counted := whole.Alone(c.result)
	table := ledger.TakeOff(counted)
	fitted := ledger.Fittings(c.result)
	if len(fitted)+len(table.Sections) == 0 {
		return
	}
	c.chapter("Lamps and ballasts by their names")
	c.list(fitted)
	if slices.ContainsFunc(c.result.Kinds(), func(s lighting.Side) bool { return startNamed(s.From.Ballast) }) {
		c.say(ballastNames)
	}
	c.table(table, "Kind", "What comes in and what goes out, with the length of strip")
	c.list(wording.TakeOff(counted))
}

// doubt tells how far the light may be from the prediction, if the job asks for that.
func (c *content) doubt() {
	if c.result.Uncertainty == nil {
		return
	}
	c.chapter("How sure the prediction is")
	c.say("No input is known exactly. The figure shows what each of them alone may do to the light; the list says what comes of all of them together.")
	c.show(doubtFigure(c.result))
	c.list(ledger.Doubt(c.result))
}

// basis tells what the numbers rest on: warnings, loss factors, defaults.
func (c *content) basis() {
	r := c.result
	c.chapter("What the figures rest on")
	if len(r.Warnings) > 0 {
		c.part("What to know before trusting them")
		c.number(wording.Weighed(r))
	}
	c.part("Assumptions of the job")
	c.list(c.assumptions())
	c.part("Where the loss factors come from")
	c.add(c.lossTable())
	if len(r.Job.Defaults) > 0 {
		c.part("Defaults that were used, since the job does not say")
		c.add(defaultsTable(r.Job.Defaults))
	}
}

// assumptions are what the job says of the room and its use, apart from the lighting.
func (c *content) assumptions() []string {
	j := c.result.Job
	reflectance := j.Room.Reflectance
	all := []string{fmt.Sprintf("reflectances: ceiling %.0f, walls %.0f, floor %.0f percent",
		100*reflectance.Ceiling, 100*reflectance.Walls, 100*reflectance.Floor)}
	for _, side := range c.result.Kinds() {
		l := side.From.Layout
		rows := typeset.Count(len(l.Placements), "luminaire") + " at positions of their own"
		if l.Rows > 0 {
			rows = fmt.Sprintf("%s in %s and %s, lamps along the room's %s", typeset.Count(len(l.Placements), "luminaire"), typeset.Count(l.Rows, "row"), typeset.Count(l.Columns, "column"),
				map[bool]string{false: "length", true: "width"}[l.LampsAlongY])
		}
		height := c.long(l.MountingHeight)
		if low, high := l.Heights(); low < high {
			height = c.long(low) + " to " + c.long(high)
		}
		all = append(all, fmt.Sprintf("%s: %s, %s %s above the floor; photometry: %s", side.Name, rows, height, c.Length, side.From.Photometry))
	}
	all = append(all, fmt.Sprintf("the air is %s in the sense of the dirt curves", j.Upkeep.Atmosphere), c.ambient(), "light is judged with "+wording.JudgedAt(c.result))
	all = append(all, j.ScheduleWords()...)
	all = append(all, c.care()...)
	if !j.Interreflection {
		all = append(all, "light that bounces is left out of the light point by point")
	}
	all = append(append(all, ledger.Plan(c.result)...), ledger.Racks(c.result)...)
	all = append(all, wording.Egress(c.result)...)
	return append(all, ledger.Balance(c.result)...)
}

// care tells how often luminaires are cleaned and lamps replaced; of each system where they differ.
func (c *content) care() []string {
	words := func(s *job.System) string {
		lamps := "lamps are replaced as they fail"
		switch {
		case s.Care.RelampHours > 0:
			lamps = fmt.Sprintf("all lamps are replaced together every %s hours", number.Thousands(s.Care.RelampHours))
		case s.Lamp != nil && s.Lamp.L70:
			lamps = "lamps are replaced at the end of their L70 life"
		}
		return fmt.Sprintf("cleaning every %.3g months; %s", 12*s.Care.CleanYears, lamps)
	}
	var all []string
	for _, side := range c.result.Kinds() {
		all = append(all, words(side.From))
	}
	if same := slices.Compact(slices.Clone(all)); len(same) == 1 {
		return same
	}
	for i, side := range c.result.Kinds() {
		all[i] = side.Name + ": " + all[i]
	}
	return all
}

func (c *content) ambient() string {
	return "ambient temperature " + c.result.Job.Degrees(c.result.Job.Upkeep.AmbientCelsius)
}

// lossTable tells of each factor what it rests on; systems of which it is the same share a line.
func (c *content) lossTable() document.Table {
	t := document.Table{Caption: "Light loss factors", Label: "Factor", Columns: []document.Column{{Name: "System", Share: 0.45}, {Name: "Value"},
		{Name: "From"}, {Name: "What it rests on", Share: 1}}}
	var g document.Group
	sides := c.result.Kinds()
	for i, first := range sides[0].Losses.List() {
		label := typeset.Capital(strings.ReplaceAll(first.Key, "_", " "))
		var different []losses.Entry
		names := map[losses.Entry][]string{}
		for _, side := range sides {
			f := side.Losses.List()[i]
			if names[f] == nil {
				different = append(different, f)
			}
			names[f] = append(names[f], side.Name)
		}
		for _, f := range different {
			name := together(names[f])
			if len(different) == 1 {
				name = "all"
			}
			g.Rows = append(g.Rows, document.Row{Label: label, Cells: []document.Cell{{Text: name}, {Text: fmt.Sprintf("%.3f", f.Value)}, {Text: f.From},
				{Text: typeset.Text(wording.Why(f.Factor))}}})
		}
	}
	t.Groups = []document.Group{g}
	return t
}

// together names kinds of luminaires, each system once: existing: hall, shop; proposed: hall.
func together(names []string) string {
	var systems []string
	groups := map[string][]string{}
	for _, name := range names {
		system, group, _ := strings.Cut(name, ", ")
		if !slices.Contains(systems, system) {
			systems = append(systems, system)
		}
		if group != "" {
			groups[system] = append(groups[system], group)
		}
	}
	for i, system := range systems {
		if len(groups[system]) > 0 {
			systems[i] += ": " + strings.Join(groups[system], ", ")
		}
	}
	return strings.Join(systems, "; ")
}

func defaultsTable(defaults []job.Default) document.Table {
	t := document.Table{Caption: "Defaults", Label: "Key of the job file", Columns: []document.Column{{Name: "Value taken", Share: 0.5}, {Name: "Why", Share: 1}}}
	var g document.Group
	for _, d := range defaults {
		g.Rows = append(g.Rows, document.Row{Label: d.Key, Cells: []document.Cell{{Text: d.Value}, {Text: typeset.Text(d.Reason)}}})
	}
	t.Groups = []document.Group{g}
	return t
}

// sources gathers where levels, lamps, ballasts and rates come from, each once.
func (c *content) sources() {
	r := c.result
	var all []string
	note := func(what, source, standing string) {
		if source == "" {
			return
		}
		if standing != "" {
			standing = " (" + standing + ")"
		}
		if line := what + ": " + source + standing; !slices.Contains(all, line) {
			all = append(all, line)
		}
	}
	for _, v := range r.Verdicts {
		note(v.Name, v.Source, v.ConfidenceWords())
	}
	for _, side := range r.Kinds() {
		note("Photometry, "+side.Name, side.From.Photometry, "")
		if l := side.From.Lamp; l != nil {
			note("Lamp "+l.Name, l.Source, l.ConfidenceWords())
		}
		if b := side.From.Ballast; b != nil {
			note("Ballast "+b.Name, b.Source, b.ConfidenceWords())
		}
	}
	for _, e := range r.Energy.Emissions {
		note("CO2 rate, "+e.Rate, e.Source, "")
	}
	c.chapter("Sources")
	measures := "Life-cycle measures: NIST Handbook 135"
	if r.Job.InUnitedStates() {
		measures = "Life-cycle measures: 10 CFR 436.20 to 436.23, 42 USC 8254, NIST Handbook 135"
	}
	c.list(append(append(all, methodSources...), measures))
}

// methodSources are those of the methods, as their packages state them.
var methodSources = []string{
	"Lumen method: zonal cavity procedure; J. Illum. Eng. Soc., October 1982, 12:3, for the coefficients of utilization; the constants are from memory, unverified",

	"Photometric files: ANSI/IES LM-63, type C photometry",
	"Light point by point: inverse-square and cosine laws; light that bounces: closed form factors of rectangles (Howell, A " +
		"Catalog of Radiation Heat Transfer Configuration Factors)",
	"Light loss factors: definitions of ANSI/IES LS-1; dirt curves of the IES Lighting Handbook to its 9th edition, from memory, unverified",
}

func (c *content) cautions() {
	c.chapter("Before work starts: cautions")
	c.say("These remind; the adopted code, the authority having jurisdiction and a licensed electrician decide.")
	c.number(wording.Cautions(c.result))
}

// method tells how the numbers were worked out and how far they go.
func (c *content) method() {
	r := c.result
	c.chapter("How it was computed, and its limits")
	points := 0
	for _, g := range r.Existing().Grids {
		points += g.NX * g.NY
	}
	c.part("How it was computed")
	how := []string{
		"Lumen method: average = luminaires × lamp lumens × coefficient of utilization × loss factors / floor area, by the zonal " +
			"cavity procedure. It takes the room as empty " +
			"and the luminaires as evenly spread, and may read up to about 10 percent low against points in a real room.",
		fmt.Sprintf("Point by point: at each of %s points of %s the light of every luminaire by the inverse-square and cosine "+
			"laws. A luminous opening near a point is cut until the result stands within 0.1 percent.",
			number.Thousands(float64(points)), typeset.Count(len(r.Existing().Grids), "grid")),
	}
	if r.Job.Interreflection {
		how = append(how, "Light that bounces among the surfaces is followed from patch to patch until what is "+
			"left does not count; surfaces are taken as diffuse.")
	}
	if len(r.Job.Racks) > 0 {
		how = append(how, "Racks hide light by their outline and bounce it off their faces; light is taken as even over patches of "+
			"about "+map[bool]string{true: "4 ft", false: "1.2 m"}[r.Job.Imperial]+", which moves the part that bounces by about 2 percent.")
	}
	how = append(how, "Maintained light is initial light times the loss factors, alike at every point.",
		fmt.Sprintf("Worked out by %s; the SHA-256 of the job file with all files that it names begins with %.16s.", origin.Of("").Program(), r.Job.InputsDigest))
	c.list(how)
	if checked := wording.Methods(r); len(checked) > 0 {
		c.part("How the two methods compare")
		c.list(checked)
	}
	c.part("Its limits")
	limits := []string{
		fmt.Sprintf("%s Points of the work plane are at most %s %s "+
			"apart; averages, minimums and maximums are of these points, and maps interpolate between them.",
			c.shape(), c.long(r.Job.Spacing), c.Length),
		"Real lamps, ballasts, voltage, dirt and reflectances differ from those assumed; a published number for a kind of lamp is not that of the lamp that is bought.",

		"A photometric file or cross-section that was computed is an estimate, no measurement, and no computation replaces one: " +
			"measure with a cosine-corrected light meter before " +
			"and after the work, with lamps burnt in and warm, and daylight shut out.",
		"Enough light says nothing of glare, color and flicker, which have a chapter of their own, nor of what people see on a shelf's lowest tier where no grid was laid.",
	}
	if r.LifeCycle != nil || r.Energy.SavingPerYear != nil {
		limits = append(limits, "Money is by the job's own prices, without taxes, loans or general inflation.")
	}
	if slices.ContainsFunc(r.Existing().Grids, func(g lighting.Grid) bool { return g.Plane == room.Vertical }) {
		limits = append(limits, "Light on a vertical face is that on a bare plane; goods that stand forward on it shade it.")
	}
	if undrawn := figures.Undrawn(c.Document); undrawn != "" {
		limits = append(limits, typeset.Capital(undrawn)+".")
	}
	c.number(limits)
}

// shape is what the room is taken for.
func (c *content) shape() string {
	j := c.result.Job
	if j.Room.Outline == nil && !slices.ContainsFunc(j.Racks, room.Rack.Hangs) {
		return "The room is a plain box without daylight, beams, machines or people."
	}
	return "The room has a flat ceiling and upright walls; daylight, people, and the beams, machines and goods that the job does not name are left out."
}

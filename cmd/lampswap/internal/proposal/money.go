package proposal

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/catalog"
	"lampswap/photometry/job"
	"lampswap/photometry/levels"
	"lampswap/photometry/lighting"
	"lampswap/photometry/number"
	"lampswap/photometry/options"
	"lampswap/photometry/wording"
)

// years tells how the light falls and rises between relamping and cleaning.
func (c *content) years() {
	if len(c.result.Years) == 0 {
		return
	}
	c.chapter("Light through the years")
	c.say("Lamps age and dirt settles; cleaning and new lamps bring light back. The figure follows the average of the work plane through the years of the study.")
	c.show(yearsFigure(c.result))
	c.list(ledger.ThroughYears(c.result))
}

// otherRows is the most rows of other lamps shown.
const otherRows = 14

// otherLamps tells which other lamps and ballasts would do in the same fixtures, the trade-off front of light against watts.
func (c *content) otherLamps(o *options.Options) {
	title := "Other lamps for the same fixtures"
	if len(o.Job.Groups) > 1 {
		title += ", " + o.Group
	}
	c.chapter(title)
	for _, s := range wording.Options(o) {
		c.say(s)
	}
	c.show(frontFigure(o))
	shown := frontRows(o)
	c.add(c.frontTable(o, shown))
	if slices.ContainsFunc(shown, func(p *options.Option) bool { return startNamed(p.From.Ballast) }) {
		c.say(ballastNames)
	}
	if notes := ledger.NoteLines(o.Job, shown); len(notes) > 0 {
		c.part("Notes to these lamps")
		for i := range notes {
			notes[i] = typeset.Text(notes[i])
		}
		c.add(document.Bullets{Items: notes})
	}
	c.list(ledger.NotAllowed(shown))
}

// mostOthers is for how many groups a proposal shows other lamps: those that draw most.
const mostOthers = 3

// Others works out other lamps and ballasts for the fixtures of a job, of each group that draws much; progress may be nil. It errs as options.Find does.
func Others(ctx context.Context, j *job.Job, progress lighting.Progress) ([]*options.Options, error) {
	kinds := j.Proposed.Kinds()
	slices.SortStableFunc(kinds, func(a, b *job.System) int { return cmp.Compare(b.ConnectedWatts(), a.ConnectedWatts()) })
	var all []*options.Options
	for _, kind := range kinds[:min(mostOthers, len(kinds))] {
		o, err := options.Find(ctx, j, options.Narrow{Group: kind.Group}, progress)
		if err != nil {
			return nil, err
		}
		all = append(all, o)
	}
	return all, nil
}

// startNamed tells whether a ballast's short name says how it starts its lamps.
func startNamed(b *catalog.Ballast) bool {
	return b != nil && (strings.HasPrefix(b.Kind, "is-") || strings.HasPrefix(b.Kind, "ps-"))
}

// ballastNames explains such names.
const ballastNames = "In the names of ballasts, is- stands for instant start, ps- for programmed start; low, normal and high for their light."

// frontRows are the job's own systems, the choice (the nearest to it where nothing meets every criterion), and what gives more light for more
// watts.
func frontRows(o *options.Options) []*options.Option {
	var rows []*options.Option
	others := 0
	for i := range o.List {
		p := &o.List[i]
		switch {
		case p.Own(), p == o.Nearest():
			rows = append(rows, p)
		case p.May() && (p.Meets || p.MeetsRest) && (p.Front || i == 0) && others < otherRows:
			rows = append(rows, p)
			others++
		}
	}
	return rows
}

func (c *content) frontTable(o *options.Options, shown []*options.Option) document.Table {
	caption := "Least watts first: the job's own lighting, and what " + wording.Rule(o) + " with no other as bright for fewer watts"
	if n := o.Nearest(); n != nil && !n.MeetsRest {
		caption = "The job's own lighting, and what comes nearest to the criteria"
	}
	t := document.Table{Caption: caption,
		Label:   "Lamps and ballast of one luminaire",
		Columns: []document.Column{{Name: "Input watts"}, {Name: "Average " + c.Illuminance}, {Name: "Minimum " + c.Illuminance}, {Name: "% of existing"}}}
	priced := o.List[0].EnergyCost != nil
	if priced {
		t.Caption += "; power, cost a year: " + ledger.PowerCost
		t.Columns = append(t.Columns, document.Column{Name: "Power, cost a year"})
	}
	t.Columns = append(t.Columns, document.Column{Name: "Criteria"}, document.Column{Name: "Notes"})
	var g document.Group
	for _, p := range shown {
		label := typeset.Text(wording.Option(p))
		if roles := rolesOf(p); roles != "" {
			label += " (" + roles + ")"
		}
		cells := []document.Cell{{Text: fmt.Sprintf("%.0f", p.From.InputWatts)}, {Text: ledger.OptionLight(o.Job, p, levels.Average)},
			{Text: ledger.OptionLight(o.Job, p, levels.Minimum)},
			{Text: typeset.Text(number.Fixed(100*p.OfExisting, 0))}}
		if priced {
			cells = append(cells, document.Cell{Text: c.Money(*p.EnergyCost)})
		}
		verdict := document.Cell{Text: "met"}
		if !p.Meets {
			verdict = document.Cell{Text: ledger.MissedMark, Alarm: true}
			if p.MeetsRest {
				verdict = document.Cell{Text: "met as far as any swap can", Alarm: true}
			}
		}
		g.Rows = append(g.Rows, document.Row{Label: label, Cells: append(cells, verdict, document.Cell{Text: ledger.NoteSigns(p)})})
	}
	t.Groups = []document.Group{g}
	return t
}

func rolesOf(p *options.Option) string {
	var roles []string
	for _, r := range []struct {
		is   bool
		name string
	}{{p.Existing, "existing"}, {p.Proposed, "proposed"}, {p.Replacement, "replacement"}} {
		if r.is {
			roles = append(roles, r.name)
		}
	}
	return strings.Join(roles, ", ")
}

// money compares the systems by light, energy and cost, as far as the job prices them.
func (c *content) money() {
	r := c.result
	l := ledger.Ways(r)
	if len(l.Sections) == 0 && len(r.Energy.Emissions) == 0 {
		return
	}
	c.chapter("Energy and money: the systems compared")
	if len(l.Sections) > 0 {
		t := TableOf(l, "Quantity")
		t.Caption = "The existing lighting kept, and what may take its place"
		c.add(t)
	}
	c.list(wording.Ratio(r))
	if f, ok := cashFigure(r); ok {
		c.show(f)
	}
	if co2 := ledger.Spared(r); len(co2) > 0 {
		c.part("Emissions avoided")
		c.list(co2)
	}
}

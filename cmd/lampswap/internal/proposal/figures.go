package proposal

import (
	"fmt"
	"strings"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/lighting"
	"lampswap/photometry/options"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
	"lampswap/plots"
)

// maps shows every grid, existing and proposed, and the change.
func (c *content) maps() {
	c.chapter("Light maps")
	c.say(fmt.Sprintf("Maps of one grid share one scale of length, and the existing and the proposed map one scale of color. Lines are labelled in %s.",
		c.Illuminance))
	for i, g := range c.result.Existing().Grids {
		c.show(document.Figure{Parts: []plots.Figure{c.sheet(i)}, Caption: c.mapCaption(g)})
	}
}

// sheet is the light sheet of a grid with its name in place of the job's title, which the document has.
func (c *content) sheet(i int) plots.Sheet {
	s := figures.LightSheet(c.result, i)
	s.Title, s.Subtitle = typeset.Capital(c.result.Existing().Grids[i].Label()), ""
	return s
}

func (c *content) mapCaption(g lighting.Grid) string {
	low, high := g.Origin.Z, g.Point(0, g.NY-1).Z+g.StepY/2
	where := fmt.Sprintf("%s %s above the floor", c.long(low), c.Length)
	if g.Plane == room.Vertical {
		where = fmt.Sprintf("vertical, from %s to %s %s above the floor", c.long(low), c.long(high), c.Length)
	}
	text := fmt.Sprintf("%s, %s: maintained light existing and proposed, and the change", typeset.Capital(g.Label()), where)
	if c.result.ThreeWays() {
		text += "; and that of the replacement"
	}
	if g.Emergency {
		number := fmt.Sprint(c.result.Job.Existing.Fed())
		if after := fmt.Sprint(c.result.Job.Proposed.Fed()); after != number {
			number += " existing, " + after + " proposed"
		}
		text += fmt.Sprintf(". %s luminaires burn on emergency power; those above the path are marked", number)
	}
	sentences := []string{text}
	for _, side := range c.result.Sides {
		if side.Outside != nil {
			sentences = append(sentences, fmt.Sprintf("The light of the %s system is NOT KNOWN: %s; the map shows what it would be within the rating",
				side.Name, typeset.Text(wording.Outside(side.Outside))))
		}
	}
	return strings.Join(sentences, ". ") + "."
}

// luminaires shows where each system's luminaire sends its light.
func (c *content) luminaires() {
	c.chapter("Where the luminaires send their light")
	c.say("The further a curve is from its middle, the more light one luminaire sends that way.")
	f := document.Figure{Caption: "Initial intensity of one luminaire with the job's lamps and ballast, nadir down, each on its own scale."}
	shown := map[string]bool{} // a kind that hangs in several groups is one luminaire
	for _, side := range c.result.Kinds() {
		name := side.Name
		if side.From.Kind != "" {
			name = side.From.Kind
		}
		if !shown[name] {
			f.Parts = append(f.Parts, plots.Polar{Title: typeset.Capital(name), Distribution: side.From.Emitted().Distribution})
		}
		shown[name] = true
	}
	c.show(f)
	for i, words := range ledger.Effects(c.result) {
		if i == 0 {
			c.part("What each part of the swap does to the light")
		}
		c.say(typeset.Capital(words) + ".")
	}
}

// yearsFigure is light over time of every side.
func yearsFigure(r *study.Result) document.Figure {
	return document.Figure{Parts: []plots.Figure{figures.Years(r)}, Caption: "The average of the work plane from new lamps and clean surfaces on, in the course of relamping and cleaning."}
}

// frontFigure is light against watts of every option that may be chosen, and of the job's own systems.
func frontFigure(o *options.Options) document.Figure {
	f := plots.Front{Quantity: "Maintained average of the work plane", Imperial: o.Job.Imperial, Levels: figures.AverageRequired(o.Job)}
	for _, p := range o.Points() {
		f.Options = append(f.Options, plots.Option{Name: typeset.Text(wording.Option(p)), Role: figures.RoleOf(p.Existing, p.Proposed), Power: p.From.InputWatts, Light: p.Average(), Meets: p.Meets})
	}
	return document.Figure{Parts: []plots.Figure{f}, Caption: fmt.Sprintf("Input watts of one luminaire against light, of %d lamps and ballasts; the line joins "+
		"those than which no other is as bright for fewer watts.", len(f.Options))}
}

// cashFigure is what each system costs over the study period, by its parts; ok is false where too little is priced.
func cashFigure(r *study.Result) (f document.Figure, ok bool) {
	m, ok := figures.Cash(r)
	if !ok {
		return document.Figure{}, false
	}
	t := r.LifeCycle.Terms
	return document.Figure{Parts: []plots.Figure{m}, Caption: fmt.Sprintf("Life-cycle cost over %d years, present values at %.3g percent real.", t.Years, 100*t.DiscountRate)}, true
}

// doubtFigure is what each input does alone to the average of the proposed lighting.
func doubtFigure(r *study.Result) document.Figure {
	return document.Figure{Parts: []plots.Figure{figures.Doubt(r)}, Caption: "What each input does alone to the average of the proposed lighting, at the lower and the upper end of its tolerance."}
}

package proposal

import (
	"math"
	"slices"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/glare"
	"lampswap/photometry/number"
	"lampswap/photometry/wording"
	"lampswap/plots"
)

// comfort is what it is like to live with the light: glare, bare lamps, color, flicker.
func (c *content) comfort() {
	c.chapter("Glare, color, flicker")
	if figure, ok := figures.Glare(c.result); ok {
		c.glare()
		c.show(document.Figure{Parts: []plots.Figure{figure}, Caption: "Who looks where, and the unified glare rating existing and proposed; the arrows are lines of sight."})
	}
	c.list(wording.Comfort(c.result))
}

// glare is a table of what each observer sees.
func (c *content) glare() {
	r := c.result
	t := document.Table{Caption: "Unified glare rating (UGR), new lamps, position index by a fit", Label: "Observer",
		Columns: []document.Column{{Name: "At, looking", Share: 1}}}
	for _, side := range r.Sides {
		t.Columns = append(t.Columns, document.Column{Name: typeset.Capital(side.Name)})
	}
	g := document.Group{}
	var why []string // there is no rating, each reason once
	for i, o := range r.Job.Observers {
		row := document.Row{Label: o.Name, Cells: []document.Cell{{Text: c.at(o)}}}
		for _, side := range r.Sides {
			ugr, reason := side.Observers[i].Rating()
			text := number.Fixed(ugr, 1)
			if reason != glare.Rated {
				text = "none"
				if line := "No rating: " + string(reason) + "."; !slices.Contains(why, line) {
					why = append(why, line)
				}
			}
			row.Cells = append(row.Cells, document.Cell{Text: text})
		}
		g.Rows = append(g.Rows, row)
	}
	t.Groups = []document.Group{g}
	c.add(t)
	for _, line := range why {
		c.say(line)
	}
}

// at is where an eye is and where it looks.
func (c *content) at(o glare.Observer) string {
	return "x " + c.long(o.Eye.X) + ", y " + c.long(o.Eye.Y) + ", " + c.long(o.Eye.Z) + " " + c.Length + " high; " + number.Fixed(o.Looking*180/math.Pi, 0) + "°"
}

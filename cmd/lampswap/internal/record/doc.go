// Package record is what is filled in and signed on site: the form on paper, and the report of what readings prove.
package record

import (
	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
)

// A content gathers the blocks of a document.
type content struct {
	units.Units
	document.Document
}

// begin begins a document of a job with its title and what it is.
func begin(j *job.Job, from origin.Origin, what string) content {
	c := content{Units: units.Of(j), Document: document.Document{Title: j.Title, Author: j.Facts.PreparedBy, Language: "en", Date: j.Facts.Date,
		Foot: from.Line(), PageOf: [3]string{"Page ", " of ", ""}, Contents: "Contents", Source: figures.SourceOf(from)}}
	c.add(document.Heading{Level: 1, Text: j.Title}, document.Prose{Text: typeset.Text(what)})
	return c
}

func (c *content) add(b ...document.Block) { c.Blocks = append(c.Blocks, b...) }

func (c *content) chapter(title string) { c.add(document.Heading{Level: 2, Text: title}) }

func (c *content) part(title string) { c.add(document.Heading{Level: 3, Text: title}) }

func (c *content) list(items []string) {
	if len(items) > 0 {
		c.add(document.Bullets{Items: typeset.All(items)})
	}
}

package record

import (
	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/proposal"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/realised"
	"lampswap/photometry/wording"
)

// SavingReport is what power and hours that were read make of the saving of a building, with what readings of light prove in some of its spaces, and lines
// to sign on.
func SavingReport(r *realised.Result, light []ledger.SpaceLight, from origin.Origin) document.Document {
	c := begin(r.Building.Whole, from, "What readings on site prove: the saving of a year by power and hours, promised and found.")
	c.Title = r.Building.Title
	c.Blocks[0] = document.Heading{Level: 1, Text: c.Title}
	c.chapter("Power and hours")
	c.power(r)
	for _, l := range light {
		c.chapter("Light: " + l.Space + ", " + l.Found.System)
		c.found(l.Found)
		if beside := ledger.Beside(r, l); beside != "" {
			c.add(document.Prose{Text: typeset.Text(beside)})
		}
		c.titled("What it rests on", c.rests(l.Found))
	}
	c.signed()
	return c.Document
}

// power is the verdict on a saving, with the table of what was promised and read.
func (c *content) power(r *realised.Result) {
	word, mark := "Not proven", document.None
	switch {
	case r.Proven():
		word, mark = "Met", document.Good
	case r.Missed():
		word, mark = "Missed", document.Bad
	}
	c.add(document.Verdict{Word: word, Sentence: typeset.Text(wording.Saving(r)), Mark: mark})
	table := proposal.TableOf(ledger.Realised(r), "Group")
	c.add(table)
	samples := ledger.Samples(r)
	if len(samples.Sections[0].Rows) > 0 {
		c.add(proposal.TableOf(samples, "Kind"))
	}
	c.titled("How the saving is worked out", ledger.SavingNotes(r))
}

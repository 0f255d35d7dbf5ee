package record

import (
	"fmt"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/files"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/proposal"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/job"
	"lampswap/photometry/survey"
	"lampswap/photometry/wording"
	"lampswap/plots"
)

// FormName is the name of the form on paper.
const FormName = "form.pdf"

// day is what is written down of the readings as a whole.
var day = []string{"Site", "Date, time of first reading", "Read by", "Meter, serial number", "Its class, or error in percent and digits", "Calibrated on, factor",
	"Meter shows:  [  ] fc   [  ] lx", "Lamps on before reading, minutes", "Hours burnt since new", "Months since cleaning",
	"Line voltage at the luminaires, rated", "Air temperature at the luminaires", "Daylight:  [  ] dark  [  ] subtracted  [  ] in it", "Lamps out, and of how many",
	"Signature", "Witness"}

// Form is a measurement on paper: what to write down, the marked plan, and a line for each station with the place as a tape has it.
func Form(j *job.Job, m stations.Measurement) document.Document {
	c := begin(j, origin.Of(j.InputsDigest), fmt.Sprintf("Readings of light with the %s luminaires burning. Write what the meter shows, then copy it into %s. "+
		"A reading that does not count is crossed out with its reason and taken again.", m.System, stations.FormName))
	c.chapter("The day")
	c.add(document.Blanks{Names: day})
	c.part("Before and while reading")
	c.list(append(wording.Preparation(), ledger.OnSite...))
	for _, p := range m.Plans {
		c.chapter(typeset.Capital(p.Grid))
		if figure, ok := stations.Marked(j, m, p, nil); ok {
			figure.Title, figure.Subtitle = "", ""
			c.add(document.Figure{Parts: []plots.Figure{figure}, Caption: fmt.Sprintf("%s: %s, %s. %s",
				typeset.Capital(p.Grid), p.Words(), typeset.Count(len(p.Stations), "station"), p.Axes(c.Units))})
		}
		c.add(c.lines(p))
	}
	return c.Document
}

// lines has a line to write on for each station of a plan, in the order of walking.
func (c *content) lines(p stations.Plan) document.Table {
	t := document.Table{Caption: "Stations: sensor " + heights(c, p.Stations), Label: "Station", Write: true,
		Columns: []document.Column{{Name: "x"}, {Name: "y"}, {Name: "up"}, {Name: "Place", Share: 2}, {Name: "Reading", Share: 0.8}, {Name: "Again", Share: 0.8},
			{Name: "Remark, or why crossed out", Share: 1.2}}}
	g := document.Group{}
	for _, s := range p.Stations {
		at := s.Position
		g.Rows = append(g.Rows, document.Row{Label: s.Name, Cells: []document.Cell{{Text: c.Tape(at.X)}, {Text: c.Tape(at.Y)}, {Text: c.Tape(at.Z)},
			{Text: typeset.Text(s.Place)}, {}, {}, {}}})
	}
	t.Groups = []document.Group{g}
	return t
}

// heights tells how the sensors stand.
func heights(c *content, all []survey.Station) string {
	if len(all) == 0 {
		return "as noted"
	}
	for _, s := range all {
		if s.Position.Z != all[0].Position.Z || s.Normal.Z < 0.5 {
			return "upright against the face, facing away from it, at the height up"
		}
	}
	return "level, " + c.Tape(all[0].Position.Z) + " above the floor"
}

// FormFile is the form on the paper of the job's country.
func FormFile(j *job.Job, m stations.Measurement) (files.File, error) {
	content, err := proposal.Writers[".pdf"](Form(j, m), proposal.PaperFor("", j))
	return files.File{Name: FormName, Content: content}, err
}

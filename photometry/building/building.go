package building

import (
	"strings"

	"lampswap/photometry/job"
)

// A Building is a checked building file in SI units.
type Building struct {
	Title    string
	Imperial bool // the file and every result are in feet and footcandles, else in meters and lux
	Firm     job.Firm
	Spaces   []Space
	Phases   []Phase  // in the order of their dates; none is all at once
	Whole    *job.Job // all luminaires of all spaces, copies too, with the building's money: for energy and money, it has no room
	Defaults []job.Default
	Warnings []string

	InputsDigest string   // of the building's file and of every file that it names, directly or by a job
	InputNames   []string // of the files, as seen from the building's file, sorted
}

// A Space is one room of a building, or several alike.
type Space struct {
	Name   string
	Copies int
	Path   string // of the job that it is, as the building names it; "" where it stands in place
	Job    *job.Job
}

// Find returns the space of a name, in whatever case it is written; nil if there is none.
func (b *Building) Find(name string) *Space {
	for i := range b.Spaces {
		if strings.EqualFold(b.Spaces[i].Name, name) {
			return &b.Spaces[i]
		}
	}
	return nil
}

// Names are those of the spaces, in the order of the file.
func (b *Building) Names() []string {
	var all []string
	for _, s := range b.Spaces {
		all = append(all, s.Name)
	}
	return all
}

// OfJob is a job of one room as a building of one space, which has the job's money and the name of its title.
func OfJob(j *job.Job) *Building {
	name := j.Title
	if name == "" {
		name = "room"
	}
	return &Building{Title: j.Title, Imperial: j.Imperial, Firm: j.Facts.Offer.Firm, Spaces: []Space{{Name: name, Copies: 1, Job: j}}, Whole: j,
		Defaults: j.Defaults, InputsDigest: j.InputsDigest}
}

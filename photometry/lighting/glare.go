package lighting

import (
	"math"

	"lampswap/photometry/glare"
	"lampswap/photometry/job"
	"lampswap/photometry/room"
)

// A Seen is what an observer sees of the initial light of a system.
type Seen struct {
	glare.Observer
	glare.Light
}

// eyesOf are upright surfaces at the eyes of a job's observers, square to their lines of sight.
func eyesOf(j *job.Job) []room.Grid {
	all := make([]room.Grid, len(j.Observers))
	for i, o := range j.Observers {
		all[i] = room.PointGrid(o.Eye, room.Facing(o.Looking))
	}
	return all
}

// seen is what a job's observers see of luminaires of one kind, which give so many times the light that they
// were photometered with.
func (p *Space) seen(from *job.System, eyes []Grid, scale float64) []Seen {
	if len(eyes) == 0 {
		return nil
	}
	var racks *room.Obstructions
	if boxes := p.job.Room.Boxes(p.job.Racks); len(boxes) > 0 {
		racks = room.NewObstructions(boxes)
	}
	all := make([]Seen, len(eyes))
	for i, o := range p.job.Observers {
		light := glare.Look(o, from.Luminaire, from.Lit(), racks)
		if light.Background = eyes[i].Interreflected[0] / math.Pi; !p.job.Interreflection {
			light.Background = math.NaN()
		}
		all[i] = Seen{o, light.Times(scale)}
	}
	return all
}

// Worst returns what the observer sees who is most glared at; nil where nobody has a rating.
func (s System) Worst() *Seen {
	var worst *Seen
	most := math.Inf(-1)
	for i := range s.Observers {
		if ugr, why := s.Observers[i].Rating(); why == glare.Rated && ugr > most {
			worst, most = &s.Observers[i], ugr
		}
	}
	return worst
}

// Glare returns the unified glare rating of the observer who has most; NaN with a reason where nobody sees a
// luminaire, or where the rating of anybody is not known.
func (s System) Glare() (ugr float64, why glare.Reason) {
	for _, o := range s.Observers {
		if _, why := o.Rating(); why.Unknown() {
			return math.NaN(), why
		}
	}
	if worst := s.Worst(); worst != nil {
		return worst.Rating()
	}
	return math.NaN(), glare.NothingSeen
}

// colorRendering is that of the lamps of one kind of luminaire; NaN where it is not known.
func colorRendering(from *job.System) float64 {
	if from.Lamp == nil || from.Lamp.ColorRendering == 0 {
		return math.NaN()
	}
	return from.Lamp.ColorRendering
}

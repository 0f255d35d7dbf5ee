package ordinary

import (
	"fmt"
	"slices"

	"lampswap/photometry/catalog"
)

// copied is a job of its own, so that a change leaves the drawn one as it is.
func (j *Job) copied() *Job {
	c := *j
	c.Places, c.Racks, c.Grids, c.Criteria = slices.Clone(j.Places), slices.Clone(j.Racks), slices.Clone(j.Grids), slices.Clone(j.Criteria)
	c.Outline = slices.Clone(j.Outline)
	return &c
}

// Converted is the same job in the other units.
func (j *Job) Converted() *Job {
	c := j.copied()
	c.Imperial = !j.Imperial
	return c
}

// Mirrored is the job as seen in a mirror across the room's length.
func (j *Job) Mirrored() *Job {
	c := j.copied()
	for i := range c.Outline {
		c.Outline[i].X = j.Length - c.Outline[i].X
	}
	for i := range c.Places {
		c.Places[i].X, c.Places[i].Rotation = j.Length-c.Places[i].X, -c.Places[i].Rotation
	}
	for i := range c.Racks {
		c.Racks[i].X = j.Length - c.Racks[i].X - c.Racks[i].Long
	}
	for i := range c.Grids {
		g := &c.Grids[i]
		g.FromX, g.ToX, g.Facing = j.Length-g.ToX, j.Length-g.FromX, turned(180-g.Facing)
	}
	return c
}

// Turned is the job with x and y in each other's place.
func (j *Job) Turned() *Job {
	c := j.copied()
	c.Length, c.Width, c.Rows, c.Columns, c.AlongWidth = j.Width, j.Length, j.Columns, j.Rows, !j.AlongWidth
	for i, p := range c.Outline {
		c.Outline[i] = Corner{p.Y, p.X}
	}
	for i, p := range c.Places {
		c.Places[i] = Place{p.Y, p.X, 90 - p.Rotation}
	}
	for i, r := range c.Racks {
		c.Racks[i].X, c.Racks[i].Y, c.Racks[i].Long, c.Racks[i].Wide = r.Y, r.X, r.Wide, r.Long
	}
	for i := range c.Grids {
		g := &c.Grids[i]
		g.FromX, g.FromY, g.ToX, g.ToY, g.Facing = g.FromY, g.FromX, g.ToY, g.ToX, turned(90-g.Facing)
	}
	return c
}

// turned keeps an azimuth between -180 and 180 degrees.
func turned(azimuth float64) float64 {
	for azimuth > 180 {
		azimuth -= 360
	}
	return azimuth
}

// ByFigures is the job whose proposed lamps are described, and not named.
func (j *Job) ByFigures() *Job {
	c := j.copied()
	c.Proposed.ByFigures = true
	return c
}

// A number is one of a job's, by its name.
type number struct {
	name string
	at   *float64
}

// numbers are all that light depends on steadily: none that is counted.
func (j *Job) numbers() []number {
	all := []number{{"length", &j.Length}, {"width", &j.Width}, {"height", &j.Height}, {"work plane", &j.WorkPlane}, {"ceiling", &j.Ceiling}, {"walls", &j.Walls},
		{"floor", &j.Floor}, {"mounting height", &j.Mounting}, {"ambient", &j.Ambient}, {"months", &j.CleanMonths}, {"relamping", &j.RelampHours}}
	for i := range j.Places {
		at := &j.Places[i]
		all = append(all, number{fmt.Sprintf("x of place %d", i), &at.X}, number{fmt.Sprintf("y of place %d", i), &at.Y}, number{fmt.Sprintf("rotation of place %d", i), &at.Rotation})
	}
	for i := range j.Racks {
		r := &j.Racks[i]
		for name, at := range map[string]*float64{"x": &r.X, "y": &r.Y, "length": &r.Long, "width": &r.Wide, "height": &r.High, "reflectance": &r.Reflectance, "transmittance": &r.Transmittance, "underside": &r.Bottom} {
			if name == "underside" && r.Bottom == 0 {
				continue
			}
			all = append(all, number{fmt.Sprintf("%s of rack %d", name, i), at})
		}
	}
	slices.SortFunc(all[11+3*len(j.Places):], func(a, b number) int {
		switch {
		case a.name < b.name:
			return -1
		case a.name > b.name:
			return 1
		}
		return 0
	})
	return all
}

// Nudged is the job with one of its numbers less by a part in a million, and that number's name. Which one is told by k, of any size.
func (j *Job) Nudged(k uint64) (nudged *Job, name string) {
	c := j.copied()
	all := c.numbers()
	n := all[k%uint64(len(all))]
	*n.at *= 1 - 1e-6
	if n.name == "height" && j.Mounting == j.Height { // the lamps stay at the ceiling
		c.Mounting = c.Height
	}
	return c, n.name
}

// Brighter is the job whose proposed lamps give a tenth more than those of the list.
func (j *Job) Brighter() *Job {
	c := j.copied()
	l, _ := catalog.FindLamp(j.Proposed.Lamp)
	c.Proposed.Lumens = 1.1 * l.InitialLumens
	return c
}

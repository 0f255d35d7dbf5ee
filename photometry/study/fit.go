package study

import (
	"fmt"
	"math"
	"strconv"

	"lampswap/photometry"
	"lampswap/photometry/lighting"
	"lampswap/photometry/room"
)

const (
	fitSlack    = 0.05 // m: openings in files are rounded, and rows touch end to end
	mostInPairs = 2000 // luminaires of which each is held against each
)

// fitWarnings tells of luminaires that do not fit where they hang: they reach through a wall, into a box that hangs, or into one another.
func (r *Result) fitWarnings(side lighting.Side) []Warning {
	var places []room.Placement
	var extents []room.Vec // half, along the room's axes
	var names []string
	var obstacles []room.Rack // walls of an outline, and boxes that hang
	for _, k := range r.Job.Boxes() {
		if k.Outside || k.Hangs() {
			obstacles = append(obstacles, k)
		}
	}
	through, into := reaching{}, reaching{}
	for _, kind := range side.Kinds() {
		for i, p := range kind.From.Layout.Placements {
			extent := halfExtent(kind.From.Luminaire.Opening, p.Rotation)
			places, extents = append(places, p), append(extents, extent)
			if len(r.Job.Groups) > 1 {
				names = append(names, fmt.Sprintf("%d of %q", i+1, kind.From.Group))
			} else {
				names = append(names, strconv.Itoa(i+1))
			}
			beyond := max(extent.X-p.Position.X, p.Position.X+extent.X-r.Job.Room.Length,
				extent.Y-p.Position.Y, p.Position.Y+extent.Y-r.Job.Room.Width)
			inBox := 0.0
			for _, k := range obstacles {
				far := k.Far()
				depth := min(p.Position.X+extent.X-k.Corner.X, far.X-p.Position.X+extent.X, p.Position.Y+extent.Y-k.Corner.Y, far.Y-p.Position.Y+extent.Y)
				switch {
				case k.Outside:
					beyond = max(beyond, depth)
				case p.Position.Z > k.Corner.Z+fitSlack && p.Position.Z < far.Z-fitSlack: // mounted on it is not into it
					inBox = max(inBox, depth)
				}
			}
			through.add(beyond)
			into.add(inBox)
		}
	}
	var all []Warning
	if through.luminaires > 0 {
		all = append(all, Warning{Code: ThroughWall, Side: side, Count: through.luminaires, Value: through.by})
	}
	if into.luminaires > 0 {
		all = append(all, Warning{Code: IntoBox, Side: side, Count: into.luminaires, Value: into.by})
	}
	if i, k, ok := overlapping(places, extents); ok {
		all = append(all, Warning{Code: Overlap, Side: side, Names: []string{names[i], names[k]}})
	}
	return all
}

// A reaching is how many luminaires reach where they should not, and how far, m.
type reaching struct {
	luminaires int
	by         float64
}

func (w *reaching) add(by float64) {
	if by > fitSlack {
		w.luminaires++
		w.by = max(w.by, by)
	}
}

// halfExtent is half of what an opening takes along x and y, m.
func halfExtent(o photometry.Opening, rotation float64) room.Vec {
	sin, cos := math.Sincos(rotation)
	sin, cos = math.Abs(sin), math.Abs(cos)
	return room.Vec{X: (cos*o.Length + sin*o.Width) / 2, Y: (sin*o.Length + cos*o.Width) / 2}
}

// overlapping returns the first two luminaires square to the room that share a place.
func overlapping(all []room.Placement, extents []room.Vec) (first, second int, found bool) {
	if len(all) > mostInPairs {
		return 0, 0, false
	}
	for i, p := range all {
		if math.Abs(math.Sin(2*p.Rotation)) > 1e-6 {
			continue // askew, its extents are not its outline
		}
		for k := i + 1; k < len(all); k++ {
			d := all[k].Position.Sub(p.Position)
			if math.Abs(math.Sin(2*all[k].Rotation)) < 1e-6 && d.Z == 0 &&
				math.Abs(d.X) < max(extents[i].X+extents[k].X-fitSlack, 1e-9) && math.Abs(d.Y) < max(extents[i].Y+extents[k].Y-fitSlack, 1e-9) {
				return i, k, true
			}
		}
	}
	return 0, 0, false
}

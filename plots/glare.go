package plots

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry/number"
	"lampswap/photometry/room"
	"lampswap/plots/internal/pen"
)

// Glare marks on a plan who looks where, with the glare rating of each before and after the swap.
type Glare struct {
	Title, Subtitle, Caption string

	Extent     Rect // room, m
	Luminaires []Mark
	Outline    room.Outline // walls of a room that is no rectangle
	Racks      []Rect       // white and hatched
	Hanging    []Rect       // what hangs
	NorthDeg   *float64     // azimuth of true north in the plan, degrees counter-clockwise from +x; nil draws none
	Observers  []Observer
	Systems    []string // whose ratings these are, in their order
	Imperial   bool     // ft on the paper, else m
}

// An Observer looks from a place, m, along an azimuth, rad.
type Observer struct {
	X, Y, Looking float64
	Name, Kind    string
	Ratings       []float64 // of existing, proposed and what else is compared; NaN where there is none
}

// ratings are those of an observer as its mark bears them.
func (o Observer) ratings() string {
	var all []string
	for _, x := range o.Ratings {
		if math.IsNaN(x) {
			all = append(all, "none")
			continue
		}
		all = append(all, number.Fixed(x, 1))
	}
	return strings.Join(all, " / ")
}

func (g Glare) stations() Stations {
	s := Stations{Title: g.Title, Subtitle: g.Subtitle, Caption: g.Caption, Extent: g.Extent, Luminaires: g.Luminaires, Outline: g.Outline, Racks: g.Racks, Hanging: g.Hanging, NorthDeg: g.NorthDeg, Imperial: g.Imperial}
	for _, o := range g.Observers {
		s.Stations = append(s.Stations, Station{X: o.X, Y: o.Y, Name: o.ratings(), Kind: o.Kind, Deviation: math.NaN(), sight: &o.Looking})
	}
	return s
}

// Height returns the height at which the plan takes the whole width, unless it is taller than broad.
func (g Glare) Height(width vg.Length) vg.Length { return g.stations().Height(width) }

// LeastHeight leaves the plan as much as a plan of stations.
func (g Glare) LeastHeight(width vg.Length) vg.Length { return g.stations().LeastHeight(width) }

// Draw draws the plan into the whole of the canvas.
func (g Glare) Draw(c draw.Canvas) { g.stations().Draw(c) }

// Describe gives the ratings of all observers.
func (g Glare) Describe() string {
	var all []string
	for _, o := range g.Observers {
		all = append(all, o.Name+" "+o.ratings())
	}
	return fmt.Sprintf("%s Unified glare rating %s: %s.", opening("Plan", g.Title, "glare by observer and direction"), strings.Join(g.Systems, " / "), strings.Join(all, "; "))
}

// An arrow from an observer's mark.
const sightLength, sightHead vg.Length = 17, 5

// drawSight draws it, white about it so that it shows on luminaires.
func drawSight(c vg.Canvas, at vg.Point, azimuth float64) {
	tip, neck := pen.OnCircle(at, sightLength, azimuth), pen.OnCircle(at, sightLength-1.3*sightHead, azimuth)
	head := []vg.Point{tip, pen.OnCircle(neck, sightHead/2, azimuth+math.Pi/2), pen.OnCircle(neck, sightHead/2, azimuth-math.Pi/2)}
	pen.Stroke(c, pen.White, 3, nil, at, neck)
	pen.Outline(c, pen.White, 1.6, head...)
	pen.Stroke(c, pen.Ink, pen.Medium, nil, at, neck)
	pen.Fill(c, pen.Ink, head...)
}

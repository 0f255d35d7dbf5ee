package plots

import (
	"cmp"
	"fmt"
	"image/color"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"lampswap/photometry"
	"lampswap/photometry/number"
	"lampswap/plots/internal/contour"
	"lampswap/plots/internal/pen"
	"lampswap/plots/internal/place"
)

// A stationGlyph is the shape of a station's mark.
type stationGlyph int

const (
	discGlyph stationGlyph = iota
	squareGlyph
	diamondGlyph
	ringGlyph
	boxGlyph
	hollowDiamondGlyph
	upGlyph
	downGlyph
	crossGlyph
)

// kindGlyphs are the marks of kinds, in the order in which kinds first occur; after the last they begin again.
var kindGlyphs = []stationGlyph{discGlyph, squareGlyph, diamondGlyph, ringGlyph, boxGlyph, hollowDiamondGlyph}

const (
	stationRadius vg.Length = 2.5
	signRadius    vg.Length = 3.6 // of a mark that shows a deviation
	ringRadius    vg.Length = 6.2 // of an outlier
)

// draw draws a mark on a white ground, so that it shows on luminaires and racks.
func (g stationGlyph) draw(c vg.Canvas, at vg.Point, r vg.Length, colour color.Color) {
	shape := pen.Circle(at, r)
	filled := true
	switch g {
	case discGlyph:
	case ringGlyph:
		filled = false
	case squareGlyph, boxGlyph:
		filled = g == squareGlyph
		half := vg.Point{X: 0.9 * r, Y: 0.9 * r}
		shape = pen.Corners(vg.Rectangle{Min: at.Sub(half), Max: at.Add(half)})
	case diamondGlyph, hollowDiamondGlyph:
		filled = g == diamondGlyph
		shape = []vg.Point{{X: at.X - 1.25*r, Y: at.Y}, {X: at.X, Y: at.Y - 1.25*r}, {X: at.X + 1.25*r, Y: at.Y}, {X: at.X, Y: at.Y + 1.25*r}}
	case upGlyph:
		shape = []vg.Point{{X: at.X - r, Y: at.Y - 0.8*r}, {X: at.X + r, Y: at.Y - 0.8*r}, {X: at.X, Y: at.Y + r}}
	case downGlyph:
		shape = []vg.Point{{X: at.X - r, Y: at.Y + 0.8*r}, {X: at.X + r, Y: at.Y + 0.8*r}, {X: at.X, Y: at.Y - r}}
	case crossGlyph:
		k := 0.6 * r
		for _, slope := range []vg.Length{1, -1} {
			pen.Stroke(c, pen.White, 3, nil, vg.Point{X: at.X - k, Y: at.Y - slope*k}, vg.Point{X: at.X + k, Y: at.Y + slope*k})
		}
		for _, slope := range []vg.Length{1, -1} {
			pen.Stroke(c, colour, pen.Medium, nil, vg.Point{X: at.X - k, Y: at.Y - slope*k}, vg.Point{X: at.X + k, Y: at.Y + slope*k})
		}
		return
	}
	pen.Outline(c, pen.White, 2.4, shape...)
	if !filled {
		pen.Fill(c, pen.White, shape...)
		pen.Outline(c, colour, pen.Medium, shape...)
		return
	}
	pen.Fill(c, colour, shape...)
	pen.Outline(c, pen.Ink, pen.Thin, shape...)
}

// A stationLabel is the text beside a mark.
type stationLabel struct {
	text string
	box  place.Box
	lead []vg.Point // from its mark, of one that is not close to it
}

// ground returns the paper with all that is drawn on it but the labels. Labels keep off luminaires, or only avoid them.
func (s Stations) ground(v view, keepOff bool) *place.Ground {
	g := &place.Ground{Frame: v.frame}
	for _, r := range s.Racks {
		g.Avoid(place.BoxOf(v.rect(r)))
	}
	p := s.plan()
	p.racks = nil
	if keepOff {
		g.Take(p.obstacles(v)...)
	} else {
		g.Avoid(p.obstacles(v)...)
	}
	for _, at := range s.Stations {
		mark := v.at(contour.Point{X: at.X, Y: at.Y})
		g.Take(place.Box{Centre: mark, Width: 2 * s.reach(at), Height: 2 * s.reach(at)})
		if at.sight != nil {
			g.Take(place.Box{Centre: pen.OnCircle(mark, sightLength/2, *at.sight), Width: sightLength, Height: sightHead, Angle: *at.sight})
		}
	}
	return g
}

// reach is how far a mark reaches from its point.
func (s Stations) reach(at Station) vg.Length {
	if s.Deviations && at.Outlier {
		return ringRadius
	}
	return s.radius()
}

// How far from its mark a label may stand, pt: so close that it needs no line to it, or called out with one.
const closeBy, calledOut vg.Length = 4, 34

// labels finds room for the labels, and says which had none.
func (s Stations) labels(v view) (labels []stationLabel, left string) {
	if s.Deviations {
		return s.deviationLabels(v)
	}
	for _, every := range []int{1, 2, 5, 10, 20, 50} {
		if every == 2 {
			if labels, unnamed := s.calledOut(v); len(unnamed) <= mostUnnamed {
				return labels, "Without room for a name: " + strings.Join(unnamed, ", ") + "."
			}
		}
		for _, far := range []vg.Length{closeBy, calledOut} {
			for _, keepOff := range []bool{true, false} {
				if labels, ok := s.numbers(s.ground(v, keepOff), v, every, far); ok {
					if every > 1 {
						left = fmt.Sprintf("One station in %d is named; the others follow in order.", every)
					}
					return labels, left
				}
			}
		}
	}
	return nil, "There is no room to name the stations."
}

// numbers finds room for the names of the first station and of every so many; ok is false if one has none.
func (s Stations) numbers(g *place.Ground, v view, every int, far vg.Length) (labels []stationLabel, ok bool) {
	for i, at := range s.Stations {
		if every > 1 && i > 0 && (i+1)%every != 0 {
			continue
		}
		b, lead, ok := s.beside(g, v, at, at.Name, far)
		if !ok {
			return nil, false
		}
		labels = append(labels, stationLabel{at.Name, b, lead})
	}
	return labels, true
}

// mostUnnamed is how many stations may have no room for their name before only one in several is named.
const mostUnnamed = 5

// calledOut finds room for as many names as have it, and returns the others.
func (s Stations) calledOut(v view) (labels []stationLabel, unnamed []string) {
	g := s.ground(v, false)
	for _, at := range s.Stations {
		if b, lead, ok := s.beside(g, v, at, at.Name, calledOut); ok {
			labels = append(labels, stationLabel{at.Name, b, lead})
		} else {
			unnamed = append(unnamed, at.Name)
		}
	}
	return labels, unnamed
}

// beside finds room for a text no further than far from its mark, with a line to it where it is not close.
func (s Stations) beside(g *place.Ground, v view, at Station, text string, far vg.Length) (b place.Box, lead []vg.Point, ok bool) {
	mark := v.at(contour.Point{X: at.X, Y: at.Y})
	b, ok = g.Beside(mark, s.reach(at), pen.Width(pen.Tiny, text), pen.CapHeight(pen.Tiny), far)
	if from, to, leads := place.Leads(mark, s.reach(at), b); ok && leads {
		lead = []vg.Point{from, to}
		g.TakeLine(lead...)
	}
	return b, lead, ok
}

// deviationLabels finds room for the deviations, outliers and large ones first.
func (s Stations) deviationLabels(v view) (labels []stationLabel, left string) {
	order := slices.DeleteFunc(slices.Clone(s.Stations), func(at Station) bool { return !photometry.Finite(at.Deviation) })
	rank := func(at Station) float64 {
		if at.Outlier {
			return math.Inf(1)
		}
		return math.Abs(at.Deviation)
	}
	slices.SortStableFunc(order, func(a, b Station) int { return cmp.Compare(rank(b), rank(a)) })
	g := s.ground(v, true)
	missing := 0
	for _, at := range order {
		text := number.SignedExact(rounded(at.Deviation))
		if b, lead, ok := s.beside(g, v, at, text, closeBy); ok {
			labels = append(labels, stationLabel{text, b, lead})
		} else {
			missing++
		}
	}
	if missing > 0 {
		left = fmt.Sprintf("%d of %d deviations have no room for their number; their marks show the sign.", missing, len(order))
	}
	return labels, left
}

package plots

import (
	"cmp"
	"image/color"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry/number"
	"lampswap/plots/internal/contour"
	"lampswap/plots/internal/palette"
	"lampswap/plots/internal/pen"
	"lampswap/plots/internal/place"
)

// fewLines is how many lines between bands a map has at most to have the values of some points written on it: bands alone would not tell them.
const fewLines = 1

// valueEvery is how far apart the points are whose values are written, pt.
const valueEvery vg.Length = 64

// valueDot is the radius of the dot that marks the point that a value is of, pt.
const valueDot vg.Length = 1

// sparse tells whether values of points are written on the map.
func (m Map) sparse() bool {
	s := m.summary
	if s.Points == 0 {
		return false
	}
	lines := 0
	for _, level := range m.Levels {
		if level > s.Minimum && level < s.Maximum {
			lines++
		}
	}
	if level, asked := m.required(); asked && level > s.Minimum && level < s.Maximum {
		lines++
	}
	return lines <= fewLines
}

// drawValues writes the values of points near a coarse lattice, where they have room.
func (m Map) drawValues(c draw.Canvas, v view, l place.Labeller) {
	g := &place.Ground{Frame: v.frame}
	g.Take(l.Taken...)
	for _, t := range l.Tracks {
		for _, piece := range t.Pieces() {
			g.TakeLine(piece...)
		}
	}
	values, scale := m.shown(), m.scale()
	text := number.Reading
	if m.Change {
		text = number.SignedReading
	}
	for _, part := range lattice(v) {
		for _, k := range m.near(part) {
			at := v.at(contour.Point{X: m.X[k%len(m.X)], Y: m.Y[k/len(m.X)]})
			mark := place.Box{Centre: at, Width: 2 * valueDot, Height: 2 * valueDot}
			if !g.Free(mark) {
				continue
			}
			said := text(values[k])
			b, ok := g.Beside(at, valueDot, pen.Width(pen.Tiny, said), pen.CapHeight(pen.Tiny), 1.5)
			if !ok {
				continue
			}
			g.Take(mark)
			ink := scale.inkOn(values[k])
			pen.Fill(c, ink, pen.Circle(at, valueDot)...)
			pen.Write(c, pen.Tiny, ink, vg.Point{X: b.Centre.X, Y: b.Centre.Y - b.Height/2}, pen.Centre, said)
			break
		}
	}
}

// lattice returns the even parts of a view, about valueEvery long and high.
func lattice(v view) []Rect {
	e, size := v.extent, v.frame.Size()
	columns, rows := max(1, int(math.Round(float64(size.X/valueEvery)))), max(1, int(math.Round(float64(size.Y/valueEvery))))
	w, h := (e.X1-e.X0)/float64(columns), (e.Y1-e.Y0)/float64(rows)
	var all []Rect
	for row := range rows {
		for column := range columns {
			x, y := e.X0+float64(column)*w, e.Y0+float64(row)*h
			all = append(all, Rect{x, y, x + w, y + h})
		}
	}
	return all
}

// near returns the points with a value that are nearest to the middle of a part, as their places in Values, the nearest first.
func (m Map) near(part Rect) []int {
	i0, i1 := sort.SearchFloat64s(m.X, part.X0), sort.SearchFloat64s(m.X, part.X1)
	j0, j1 := sort.SearchFloat64s(m.Y, part.Y0), sort.SearchFloat64s(m.Y, part.Y1)
	var all []int
	for j := j0; j < j1; j++ {
		for i := i0; i < i1; i++ {
			if k := j*len(m.X) + i; !math.IsNaN(m.Values[k]) {
				all = append(all, k)
			}
		}
	}
	away := func(k int) float64 {
		return math.Hypot(m.X[k%len(m.X)]-(part.X0+part.X1)/2, m.Y[k/len(m.X)]-(part.Y0+part.Y1)/2)
	}
	slices.SortStableFunc(all, func(a, b int) int { return cmp.Compare(away(a), away(b)) })
	return all[:min(len(all), mostTried)]
}

// mostTried is how many points of a part are tried for one whose value has room.
const mostTried = 40

// inkOn returns the ink that shows on the band of a value.
func (s scale) inkOn(value float64) color.NRGBA {
	if len(s.colours) == 0 {
		return pen.Ink
	}
	band := s.colours[min(max(sort.SearchFloat64s(s.levels, value)-1, 0), len(s.colours)-1)]
	return palette.InkOn(band, band)
}

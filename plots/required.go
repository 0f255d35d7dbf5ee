package plots

import (
	"cmp"
	"image/color"
	"maps"
	"math"
	"slices"
	"sort"

	"gonum.org/v1/plot/vg"

	"lampswap/photometry"
	"lampswap/photometry/number"
	"lampswap/plots/internal/contour"
	"lampswap/plots/internal/palette"
	"lampswap/plots/internal/pen"
	"lampswap/plots/internal/place"
)

// requiredBand stands for the band of the lines of the level that is required, which is none of the scale's.
const requiredBand = -1

// belowEvery is how far apart the lines are that hatch what lies below the required level, pt.
const belowEvery vg.Length = 5

const requiredWidth = 2.6 * pen.Thin

// required returns the level that is required, in the units of the paper; ok is false where none is.
func (m Map) required() (level float64, ok bool) {
	if !(m.Required > 0) || m.Change || !photometry.Finite(m.Required) || len(m.Levels) < 2 {
		return 0, false
	}
	return m.Required / illuminanceUnit(m.Imperial).size, true
}

// drawBelow hatches what lies below the required level, and puts the tracks of its line in place of those of a level that is equal.
func (m Map) drawBelow(c vg.Canvas, v view, f contour.Surface, s scale, tracks []*place.Track) []*place.Track {
	level, _ := m.required()
	tolerance := 0.04 / float64(v.scale)
	above := f.Above(level)
	h := hatching{every: belowEvery}
	for _, points := range f.Above(math.Inf(-1)).Outlines(tolerance) {
		h.add(v.all(points), 0)
	}
	for _, points := range above.Outlines(tolerance) {
		h.add(v.all(points), 1)
	}
	ink := s.inkBelow(level)
	for _, segment := range h.segments() {
		pen.Stroke(c, ink, pen.Hairline, nil, segment[0], segment[1])
	}
	tracks = slices.DeleteFunc(tracks, func(t *place.Track) bool { return math.Abs(s.levels[t.Band]-level) <= 1e-9*level })
	for _, l := range above.Lines(tolerance) {
		tracks = append(tracks, place.NewTrack(v.all(l.Points), l.Closed, requiredBand))
	}
	return tracks
}

// inkBelow returns the ink that shows on all bands that lie below a level.
func (s scale) inkBelow(level float64) color.NRGBA {
	n := len(s.colours)
	if n == 0 {
		return pen.Ink
	}
	below := min(max(sort.SearchFloat64s(s.levels, level)-1, 0), n-1)
	return palette.InkOn(s.colours[0], s.colours[below])
}

// inkOf returns the ink of a line and its label: of a level of the scale, or of the required one.
func (s scale) inkOf(band int, required float64) color.NRGBA {
	if band != requiredBand {
		return s.inkAt(band)
	}
	return s.inkBelow(required)
}

// requiredNotes say what the hatching of maps means, or that none of them has any.
func requiredNotes(maps []Map) []note {
	var notes []note
	for _, m := range maps {
		level, ok := m.required()
		if !ok {
			continue
		}
		required := "the " + number.Short(level) + " " + illuminanceUnit(m.Imperial).name + " required"
		if m.Of != "" {
			required += " of " + m.Of
		}
		hatched := note{belowGlyph, "Below " + required}
		if m.summary.Minimum < level {
			return []note{hatched}
		}
		notes = []note{{noGlyph, "Nothing is below " + required}}
	}
	return notes
}

// drawBelowGlyph draws a box hatched as what lies below.
func drawBelowGlyph(c vg.Canvas, r vg.Rectangle) {
	pen.Fill(c, pen.White, pen.Corners(r)...) // so that it shows on paper of any color
	h := hatching{every: belowEvery / 2}
	h.add(pen.Corners(r), 0)
	for _, segment := range h.segments() {
		pen.Stroke(c, pen.Ink, pen.Hairline, nil, segment[0], segment[1])
	}
	pen.Outline(c, pen.Ink, requiredWidth, pen.Corners(r)...)
}

// A hatching is parallel lines from the upper left to the lower right, at even distances, where a point lies within the first set of outlines
// and not within the second. An outline is crossed at alternate sides (the even-odd rule).
type hatching struct {
	every  vg.Length
	places map[int][2][]vg.Length // of each line, where outlines of either set cross it: x - y
}

// add notes where the sides of a closed outline cross the lines x + y = k every.
func (h *hatching) add(outline []vg.Point, set int) {
	if h.places == nil {
		h.places = map[int][2][]vg.Length{}
	}
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		from, to := float64((a.X+a.Y)/h.every), float64((b.X+b.Y)/h.every)
		// half-open, so that a corner on a line counts once
		for k := math.Ceil(min(from, to)); k < max(from, to); k++ {
			share := vg.Length((k - from) / (to - from))
			sets := h.places[int(k)]
			sets[set] = append(sets[set], (a.X-a.Y)+share*((b.X-b.Y)-(a.X-a.Y)))
			h.places[int(k)] = sets
		}
	}
}

// segments returns the parts of the lines that are drawn.
func (h *hatching) segments() [][2]vg.Point {
	var all [][2]vg.Point
	for _, k := range slices.Sorted(maps.Keys(h.places)) {
		type crossing struct {
			at  vg.Length
			set int
		}
		var crossings []crossing
		for set, places := range h.places[k] {
			for _, at := range places {
				crossings = append(crossings, crossing{at, set})
			}
		}
		slices.SortStableFunc(crossings, func(a, b crossing) int { return cmp.Compare(a.at, b.at) })
		var in [2]bool
		for i, x := range crossings {
			in[x.set] = !in[x.set]
			if in[0] && !in[1] && i+1 < len(crossings) && crossings[i+1].at > x.at {
				sum := vg.Length(k) * h.every
				on := func(difference vg.Length) vg.Point {
					return vg.Point{X: (sum + difference) / 2, Y: (sum - difference) / 2}
				}
				all = append(all, [2]vg.Point{on(x.at), on(crossings[i+1].at)})
			}
		}
	}
	return all
}

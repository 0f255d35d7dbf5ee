package place

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"lampswap/plots/internal/pen"
)

// A Label is the text of a level, written along its line.
type Label struct {
	Box  Box
	Text string
	Band int
}

// A Labeller finds places for labels where they meet nothing else.
type Labeller struct {
	Frame  vg.Rectangle // labels stay inside
	Font   font.Font
	Gap    float64 // pt of line left out on either side of a label
	Taken  []Box   // marks that are there already, then the labels
	Tracks []*Track
	Labels []Label

	Foremost int // the band whose lines are labelled first, and once even across lines of others; 0 is none
}

// Distances between labels of one level, pt: along the same line, and on different lines.
const (
	labelEvery = 190.0
	labelApart = 80.0
	labelRoom  = 1.2 // around the text
)

// Place labels the tracks, the foremost first and then the longest, and notes the gaps in them.
func (l *Labeller) Place(text func(band int) string) {
	rank := func(t *Track) int {
		if t.Band == l.Foremost {
			return 0
		}
		return 1
	}
	order := slices.Clone(l.Tracks)
	slices.SortStableFunc(order, func(a, b *Track) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(b.length(), a.length()))
	})
	for i, t := range order {
		if l.Foremost != 0 && t.Band != l.Foremost && i > 0 && order[i-1].Band == l.Foremost {
			l.placeAcross(order[:i], text(l.Foremost))
		}
		s := text(t.Band)
		width := pen.Width(l.Font, s)
		if t.length() < 2.2*float64(width) {
			continue
		}
		n := max(1, int(t.length()/labelEvery))
		for range n {
			if !l.placeOne(t, s, width, false) {
				break
			}
		}
	}
}

// placeAcross labels the first track that has room across the lines of others, where none of the tracks could be labelled beside them.
func (l *Labeller) placeAcross(tracks []*Track, text string) {
	if len(l.Labels) > 0 {
		return
	}
	width := pen.Width(l.Font, text)
	for _, t := range tracks {
		if t.length() >= 2.2*float64(width) && l.placeOne(t, text, width, true) {
			for _, o := range l.Tracks {
				if o != t {
					o.open(l.Labels[0].Box.Grown(labelRoom))
				}
			}
			return
		}
	}
}

// placeOne puts one label at the best free place on the track, or where across is set also on other lines.
func (l *Labeller) placeOne(t *Track, text string, width vg.Length, across bool) bool {
	half := float64(width)/2 + l.Gap
	best, bestCost, bestAt := Label{}, math.Inf(1), 0.0
	from, to := half+3, t.length()-half-3
	if t.closed {
		from, to = 0, t.length()
	}
	for at := from; at <= to; at += 3 {
		b, cost := t.fit(at, half, width, pen.CapHeight(l.Font))
		if cost >= bestCost || !l.free(b, t, gap{at - half, at + half}, across) {
			continue
		}
		best, bestCost, bestAt = Label{b, text, t.Band}, cost, at
	}
	if math.IsInf(bestCost, 1) {
		return false
	}
	l.Labels = append(l.Labels, best)
	l.Taken = append(l.Taken, best.Box)
	t.gaps = append(t.gaps, gap{bestAt - half, bestAt + half})
	return true
}

// fit returns the box of a label centred at a way along the track and how badly it sits there: bends and steep places cost; infinite
// where the line does not stay within the text.
func (t *Track) fit(at, half float64, width, height vg.Length) (Box, float64) {
	a, b, middle := t.at(at-half), t.at(at+half), t.at(at)
	chord := Distance(a, b)
	if chord < 1.9*half {
		return Box{}, math.Inf(1)
	}
	bend := distanceToSegment(middle, a, b)
	if bend > float64(height)/2 {
		return Box{}, math.Inf(1)
	}
	angle := math.Atan2(float64(b.Y-a.Y), float64(b.X-a.X))
	if angle > math.Pi/2 {
		angle -= math.Pi
	} else if angle <= -math.Pi/2 {
		angle += math.Pi
	}
	onto := vg.Point{X: (a.X + b.X + 2*middle.X) / 4, Y: (a.Y + b.Y + 2*middle.Y) / 4}
	centring := 0.0
	if !t.closed {
		centring = math.Abs(at/t.length() - 0.5)
	}
	cost := 2*bend + (2*half - chord) + 1.5*math.Abs(angle) + 2*centring
	return Box{onto, width, height, angle}, cost
}

// free tells whether a label may stand there: inside the frame, clear of marks, other labels and, unless it may stand across them, other lines,
// and of its own line where that comes back.
func (l *Labeller) free(b Box, own *Track, opening gap, across bool) bool {
	room := b.Grown(labelRoom)
	for _, p := range room.Corners() {
		if p.X < l.Frame.Min.X+1 || p.X > l.Frame.Max.X-1 || p.Y < l.Frame.Min.Y+1 || p.Y > l.Frame.Max.Y-1 {
			return false
		}
	}
	for _, o := range l.Labels {
		if o.Band == own.Band && Distance(o.Box.Centre, b.Centre) < labelApart {
			return false
		}
	}
	if slices.ContainsFunc(l.Taken, room.Overlaps) {
		return false
	}
	for _, t := range l.Tracks {
		if (t == own || !across) && t.crosses(room, opening, t == own) {
			return false
		}
	}
	return true
}

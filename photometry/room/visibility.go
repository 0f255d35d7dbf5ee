package room

// A Stretch is a part of a line, of its length 0 to 1, and the share of its light that boxes let through to
// whoever looks at it.
type Stretch struct{ From, To, Passes float64 }

// A Visibility is what boxes leave of a line as a point sees it: Stretches in order; what lies between them
// is dark. It is used again and again, so that it need not allocate.
type Visibility struct {
	Stretches []Stretch
	spare     []Stretch
}

// Clear takes everything out of the way.
func (v *Visibility) Clear() { v.Stretches = append(v.Stretches[:0], Stretch{0, 1, 1}) }

// Look finds what boxes leave of the line from a to b, which may be one point, for whoever is at p.
func (v *Visibility) Look(p, a, b Vec, boxes []Obstruction) {
	v.Clear()
	f := newFan(p, a, b)
	for i := range boxes {
		if a == b {
			if boxes[i].Hides(p, a) {
				v.Dim(0, 1, boxes[i].Passes)
			}
		} else if from, to, ok := f.shadow(&boxes[i].Box); ok {
			v.Dim(from, to, boxes[i].Passes)
		}
		if len(v.Stretches) == 0 {
			return
		}
	}
}

// Dim lets a share of the light between two places of the line through, and tells whether there was any.
func (v *Visibility) Dim(from, to, passes float64) bool {
	if from >= to {
		return false
	}
	// stretches before the dimmed part stay
	first := 0
	for first < len(v.Stretches) && v.Stretches[first].To <= from {
		first++
	}
	if first == len(v.Stretches) || v.Stretches[first].From >= to {
		return false
	}
	v.spare = append(v.spare[:0], v.Stretches[:first]...)
	// others are cut at its ends
	for _, s := range v.Stretches[first:] {
		if s.From >= to {
			v.spare = append(v.spare, s)
			continue
		}
		if s.From < from {
			v.spare = append(v.spare, Stretch{s.From, from, s.Passes})
		}
		if passes > 0 {
			v.spare = append(v.spare, Stretch{max(s.From, from), min(s.To, to), s.Passes * passes})
		}
		if s.To > to {
			v.spare = append(v.spare, Stretch{to, s.To, s.Passes})
		}
	}
	v.Stretches, v.spare = v.spare, v.Stretches
	return true
}

// Merge joins stretches that meet and pass alike, so that what a hidden edge divides is one.
func (v *Visibility) Merge() {
	kept := v.Stretches[:0]
	for _, s := range v.Stretches {
		if last := len(kept) - 1; last >= 0 && kept[last].To == s.From && kept[last].Passes == s.Passes {
			kept[last].To = s.To
			continue
		}
		kept = append(kept, s)
	}
	v.Stretches = kept
}

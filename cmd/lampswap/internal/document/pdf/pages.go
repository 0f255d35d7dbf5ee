package pdf

import (
	"math"
	"slices"
)

// A box is what is not parted between pages.
type box struct {
	before float64                    // white above it, pt; none at the top of a page
	height float64                    // pt
	least  float64                    // the least height that it can be drawn in; 0 is its height
	fit    func(most float64) float64 // the height that it fills of one that it is given; nil if it fills any
	keep   bool                       // on one page with the next
	float  bool                       // a figure with its number, which may stand at the top of a later page while text goes on
	block  int                        // of the document, of a heading
	opens  headingOf                  // what the heading is of, if it is one
	fresh  bool                       // begins a page, as the first of a part
	rather bool                       // begins a page rather than not
	table  int                        // number of the table that it is a row of, 0 if it is none
	head   *box                       // drawn again above it where it begins a page
	draw   func(y, height float64)
}

// headingOf is what a heading opens.
type headingOf int

// Headings open parts of chapters, and chapters.
const (
	noHeading headingOf = iota
	part
	chapter
)

// A placedBox is a box at its place from the top of the text.
type placedBox struct {
	box
	y float64
}

// filled is what a box fills of a height.
func (b box) filled(height float64) float64 {
	if b.fit == nil {
		return height
	}
	return b.fit(height)
}

// lowest is the least height of a box.
func (b box) lowest() float64 {
	if b.least > 0 {
		return b.least
	}
	return b.height
}

// within is the height of a box where there is room for that much, or its least height.
func (b box) within(most float64) float64 {
	if b.height <= most || b.least == 0 {
		return b.height
	}
	return min(max(b.filled(max(most, b.least)), b.least), b.height)
}

// What pages are judged by, in pages that are empty: a page more; one that is less than leastFilled full; figures drawn lower, or behind
// their place; a last page with a few lines only.
const (
	leastFilled   = 2.0 / 3
	perPage       = 0.15
	perUnfilled   = 4.0
	perLower      = 0.35
	perPageBehind = 0.08
	perChapter    = 0.1 // a figure that a chapter overtakes
	perTornTable  = 1.5 // less than fewRows of a table that goes on before and behind
	leastLastPage = 0.35
	perLastPage   = 3.0
	perOpening    = 0.03 // saved where a page begins with a chapter
	perRather     = 0.15 // saved where it begins with what would rather begin one
)

// A run is boxes that stand on one page, or a figure that may stand further on than its place.
type run struct {
	boxes []box
	float bool
}

// figured tells whether a figure is in a run.
func (r run) figured() bool { return slices.ContainsFunc(r.boxes, func(b box) bool { return b.float }) }

// runs are boxes in runs; those that are higher than a page are parted.
func runs(boxes []box, height float64) []run {
	var all []run
	for len(boxes) > 0 {
		n := 1
		for n < len(boxes) && boxes[n-1].keep && !boxes[n].fresh && (!boxes[n].float || boxes[n-1].opens != noHeading) {
			n++
		}
		whole := boxes[:n]
		switch first := whole[0]; {
		case n == 1 && first.float:
			all = append(all, run{whole, true})
		case needs(whole) <= height:
			all = append(all, run{whole, false})
		default:
			for i := range whole {
				all = append(all, run{whole[i : i+1], false})
			}
		}
		boxes = boxes[n:]
	}
	return all
}

// needs is the least height of boxes at the top of a page.
func needs(boxes []box) float64 {
	sum := 0.0
	for i, b := range boxes {
		sum += b.lowest()
		if i > 0 {
			sum += b.before
		} else if b.head != nil {
			sum += b.head.height
		}
	}
	return sum
}

// A place is how far pages are filled: up to a run, and a figure, of all figures by their number, of which some may be due.
type place struct{ run, figure int }

// A plan is how one page is filled.
type plan struct {
	top   int     // so many figures that are due stand at its top
	most  float64 // height of a figure, pt
	later bool    // a figure that must be drawn lower to have room goes to the next page
	stop  int     // the run before which the page ends at the latest
}

// A step is a page with what it leads to.
type step struct {
	plan
	next place
	cost float64 // of this page and of all that follow
}

// A spreader finds the pages on which boxes stand best: the figures each in its place or at the top of the page after it, text filling what
// they leave.
type spreader struct {
	runs    []run
	figures []int // the runs that are figures
	height  float64
	known   map[place]step
}

// spread puts boxes on pages of a height, pt: none less than leastFilled full but the last of a part, as far as there is text for it.
func spread(boxes []box, height float64) [][]placedBox {
	s := spreader{runs: runs(boxes, height), height: height, known: map[place]step{}}
	for i, r := range s.runs {
		if r.float {
			s.figures = append(s.figures, i)
		}
	}
	s.work()
	var pages [][]placedBox
	for at := (place{}); at.run < len(s.runs) || at.figure < len(s.figures); {
		p := s.page(at, s.known[at].plan)
		pages, at = append(pages, p.boxes), p.end
	}
	return pages
}

// work finds the best step from every place that is reached, those further on first.
func (s *spreader) work() {
	steps := map[place]map[place]step{} // from a place to others
	s.known[place{len(s.runs), len(s.figures)}] = step{}
	for open := []place{{}}; len(open) > 0; {
		at := open[len(open)-1]
		if _, ok := s.known[at]; ok {
			open = open[:len(open)-1]
			continue
		}
		if steps[at] == nil {
			steps[at] = s.steps(at)
			for next := range steps[at] {
				open = append(open, next)
			}
			continue
		}
		best := step{cost: math.Inf(1)}
		for next, st := range steps[at] {
			st.cost += s.known[next].cost
			if st.cost < best.cost || st.cost == best.cost && st.before(best) {
				best = st
			}
		}
		s.known[at] = best
	}
}

// before orders steps of equal cost, so that pages do not depend on the order of a map.
func (s step) before(o step) bool {
	return s.next.run > o.next.run || s.next.run == o.next.run && s.next.figure > o.next.figure
}

// steps are the cheapest ways from a place to each other that a page may lead to.
func (s *spreader) steps(at place) map[place]step {
	all := map[place]step{}
	s.plans(at, func(p plan, f filledPage) {
		if known, ok := all[f.end]; !ok || f.cost < known.cost {
			all[f.end] = step{p, f.end, f.cost}
		}
	})
	return all
}

// plans calls a function for every way to fill a page from a place.
func (s *spreader) plans(at place, each func(plan, filledPage)) {
	due := s.due(at)
	for top := min(due, 1); top <= due; top++ {
		for _, most := range []float64{1, 0.8, 0.65, 0.5, 0.4, 0.32} {
			for _, later := range []bool{false, true} {
				p := plan{top: top, most: most * s.height, later: later, stop: len(s.runs)}
				full := s.page(at, p)
				if !full.ok {
					continue
				}
				each(p, full)
				for _, stop := range s.stops(at, full.end.run) {
					p.stop = stop
					if f := s.page(at, p); f.ok {
						each(p, f)
					}
				}
				if !full.figured {
					return
				}
			}
		}
	}
}

// due is how many figures are due at a place: their runs are passed.
func (s *spreader) due(at place) int {
	n := 0
	for _, r := range s.figures[at.figure:] {
		if r >= at.run {
			break
		}
		n++
	}
	return n
}

// stops are the runs before which a page may end that could hold more: headings, and the last few.
func (s *spreader) stops(at place, end int) []int {
	const few = 3
	var all []int
	for i := at.run + 1; i < end; i++ {
		if !s.runs[i].float && (i >= end-few || s.runs[i].boxes[0].opens != noHeading) {
			all = append(all, i)
		}
	}
	return all
}

// A filledPage is a page with the place that it leads to and what it costs.
type filledPage struct {
	boxes   []placedBox
	end     place
	cost    float64
	ok      bool // the plan can be had
	figured bool // there are figures on it, or due
	y       float64
	height  float64
	text    bool // a run other than a figure is on it
}

func (f *filledPage) place(b box, height float64) {
	if f.y > 0 {
		f.y += b.before
	}
	b.height = height
	f.boxes = append(f.boxes, placedBox{b, f.y})
	f.y += height
}

// rows is how many rows of a table are on a page, fewRows if there are none.
func (f *filledPage) rows(table int) int {
	n := 0
	for _, b := range f.boxes {
		if b.table == table {
			n++
		}
	}
	if n == 0 {
		return fewRows
	}
	return n
}

// rest is the height that is left for a box.
func (f *filledPage) rest(b box) float64 {
	if f.y > 0 {
		return f.height - f.y - b.before
	}
	return f.height
}

// page fills a page from a place.
func (s *spreader) page(at place, p plan) filledPage {
	f := filledPage{height: s.height, end: at, ok: true, figured: p.top > 0}
	for range p.top {
		if !s.figure(&f, p) && len(f.boxes) > 0 {
			f.ok = false
			return f
		}
	}
	for f.end.run < p.stop {
		r := s.runs[f.end.run]
		if !r.float && r.figured() && s.due(f.end) > 0 { // figures keep their order
			break
		}
		if r.boxes[0].fresh && (f.end.run > at.run || len(f.boxes) > 0 || s.due(f.end) > 0) {
			break
		}
		f.figured = f.figured || r.figured()
		if !r.float {
			if !f.add(r, p.most) {
				break
			}
			if r.boxes[0].opens == chapter {
				f.cost += perChapter * float64(s.due(f.end))
			}
			f.end.run++
			continue
		}
		if f.end.figure < len(s.figures) && s.figures[f.end.figure] == f.end.run { // none is due before it
			s.figure(&f, p)
		}
		f.end.run++
		if s.due(f.end) > 0 {
			f.cost += perPageBehind
		}
	}
	f.cost += s.emptiness(f)
	if f.end == at { // nothing has room: no plan
		f.ok = false
	}
	return f
}

// figure places the next figure, as high as its plan has it or as there is room; false if there is none.
func (s *spreader) figure(f *filledPage, p plan) bool {
	b := s.runs[s.figures[f.end.figure]].boxes[0]
	height := b.within(p.most)
	if rest := f.rest(b); height > rest {
		if len(f.boxes) > 0 && (b.lowest() > rest || p.later) {
			return false
		}
		height = b.within(rest)
	}
	f.cost += perLower * (1 - height/b.height)
	f.place(b, height)
	f.end.figure++
	return true
}

// add places a run of boxes that are kept together, figures in it of a height at most; false if they have no room.
func (f *filledPage) add(r run, most float64) bool {
	boxes := r.boxes
	if head := boxes[0].head; head != nil && !f.text {
		again, first := *head, boxes[0]
		again.before, first.before = first.before, 0
		boxes = append([]box{again, first}, boxes[1:]...)
	}
	tall, slack := 0.0, 0.0
	for i, b := range boxes {
		height := b.within(most)
		tall += height
		slack += height - b.lowest()
		if i > 0 || f.y > 0 {
			tall += b.before
		}
	}
	over := max(f.y+tall-f.height, 0)
	if over > slack+1e-9 && len(f.boxes) > 0 {
		return false
	}
	for _, b := range boxes {
		height := b.within(most)
		if over > 0 && slack > 0 {
			height = b.within(height - min(over/slack, 1)*(height-b.lowest()))
		}
		if height < b.height {
			f.cost += perLower * (1 - height/b.height)
		}
		f.place(b, height)
	}
	f.text = true
	return true
}

// ends tells whether a part ends with a page.
func (s *spreader) ends(end place) bool {
	return s.due(end) == 0 && (end.run == len(s.runs) || s.runs[end.run].boxes[0].fresh)
}

// emptiness tells how badly a page is filled: one large gap counts more than two small ones.
func (s *spreader) emptiness(f filledPage) float64 {
	filled := min(f.y/s.height, 1)
	if s.ends(f.end) {
		return perPage + perLastPage*max(leastLastPage-filled, 0)
	}
	cost := perPage + (1-filled)*(1-filled)
	if filled < leastFilled {
		cost += perUnfilled*(leastFilled-filled) + 1
	}
	if f.end.run == len(s.runs) {
		return cost
	}
	next := s.runs[f.end.run].boxes[0]
	if next.table > 0 && f.rows(next.table) < fewRows {
		cost += perTornTable
	}
	switch {
	case next.rather:
		cost -= perRather
	case next.opens == chapter:
		cost -= perOpening
	}
	return cost
}

// A Page is what stands on one page of a document, for who judges its layout.
type Page struct {
	Filled float64     // share of its height
	Ends   bool        // a part of the document ends on it
	Rows   map[int]int // of each table on it, by the number of the table
}

// pageOf tells of a page that is laid out, and of the next one.
func pageOf(boxes, next []placedBox, height float64) Page {
	p := Page{Ends: len(next) == 0, Rows: map[int]int{}}
	for _, b := range boxes {
		p.Filled = max(p.Filled, (b.y+b.height)/height)
		if b.table > 0 {
			p.Rows[b.table]++
		}
	}
	for _, b := range next {
		p.Ends = p.Ends || b.fresh
	}
	return p
}

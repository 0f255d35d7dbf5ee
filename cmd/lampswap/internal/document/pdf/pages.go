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
	opens  headingOf                  // what the heading is of, if it is one
	fresh  bool                       // begins a page
	head   *box                       // drawn again above it where it begins a page
	draw   func(y, height float64)
}

// headingOf is what a heading opens.
type headingOf int

// Headings open parts and chapters.
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

// A paginator fills pages of a height from the top.
type paginator struct {
	height float64
	pages  [][]placedBox
	y      float64 // to which the page is filled
}

// How much lower than it could be all that can be drawn lower is tried.
var lower = []float64{1, 0.95, 0.9, 0.85, 0.8}

// spread is paginate at its best: with figures drawn so much lower, with the first chapter behind the cover and the last chapter or part on
// a page of their own or not, that the pages are filled and few.
func spread(boxes []box, height float64) [][]placedBox {
	var best [][]placedBox
	least := math.Inf(1)
	last := []int{0, headingBefore(boxes, len(boxes), part), headingBefore(boxes, len(boxes), chapter)}
	for _, share := range lower {
		for _, first := range []int{0, secondChapter(boxes)} {
			for _, end := range last {
				pages := paginate(lowered(boxes, share, first, end), height)
				if cost := emptiness(pages, height) + perLower*(1-share); cost < least {
					best, least = pages, cost
				}
			}
		}
	}
	return best
}

// What a spread is judged by, in pages that are empty: a page more, figures drawn lower, the first page, which is a cover, and a last page
// with a few lines only.
const (
	perPage       = 0.15
	perLower      = 0.3
	ofCover       = 0.5
	leastLastPage = 0.35 // of a page
	perLastPage   = 3.0
)

// emptiness tells how badly pages are filled: one large gap counts more than two small ones.
func emptiness(pages [][]placedBox, height float64) float64 {
	sum := perPage * float64(len(pages))
	for i, p := range pages {
		filled := 0.0
		if n := len(p); n > 0 {
			filled = min((p[n-1].y+p[n-1].height)/height, 1)
		}
		empty := (1 - filled) * (1 - filled)
		switch i {
		case len(pages) - 1:
			if i > 0 {
				sum += perLastPage * max(leastLastPage-filled, 0)
			}
		case 0:
			sum += ofCover * empty
		default:
			sum += empty
		}
	}
	return sum
}

// headingBefore is the place of the last heading before a box that opens a chapter, or a part too, and can begin a page; 0 if there is none.
func headingBefore(boxes []box, before int, least headingOf) int {
	for i := before - 1; i > 0; i-- {
		if boxes[i].opens >= least && !boxes[i-1].keep {
			return i
		}
	}
	return 0
}

// secondChapter is the place of the heading of the chapter behind the answer; 0 if there is none.
func secondChapter(boxes []box) int {
	seen := 0
	for i, b := range boxes {
		if b.opens == chapter {
			seen++
		}
		if seen == 2 {
			return i
		}
	}
	return 0
}

// lowered are the boxes with that share of the height of all that can be drawn lower, but for maps, which jump to another arrangement; those
// at the places given begin a page.
func lowered(boxes []box, share float64, fresh ...int) []box {
	all := slices.Clone(boxes)
	for i, b := range all {
		if b.least > 0 && b.fit == nil {
			all[i].height = max(b.least, share*b.height)
		}
	}
	for _, i := range fresh {
		if i > 0 {
			all[i].fresh = true
		}
	}
	return all
}

// filled is what a box fills of a height.
func (b box) filled(height float64) float64 {
	if b.fit == nil {
		return height
	}
	return b.fit(height)
}

// paginate spreads boxes over pages of a height, pt. What is kept together begins a new page where it does not fit; what is higher than a
// page is parted anyhow. A box that can be drawn lower is, before it leaves the rest of a page empty.
func paginate(boxes []box, height float64) [][]placedBox {
	p := paginator{height: height, pages: [][]placedBox{nil}}
	for len(boxes) > 0 {
		n := 1
		for n < len(boxes) && boxes[n-1].keep {
			n++
		}
		p.run(boxes[:n])
		boxes = boxes[n:]
	}
	return p.pages
}

// run places boxes that are to be kept together.
func (p *paginator) run(boxes []box) {
	if boxes[0].fresh {
		p.next()
	}
	slack := 0.0
	for _, b := range boxes {
		if b.least > 0 {
			slack += b.height - b.least
		}
	}
	over := p.y + p.tall(boxes) - p.height
	switch {
	case over <= 0:
		over = 0
	case over <= slack: // draw what can be drawn lower
	default:
		p.next()
		if over = p.y + p.tall(boxes) - p.height; over > slack { // higher than a page
			for _, b := range boxes {
				if p.y+p.tall([]box{b}) > p.height {
					p.next()
				}
				p.place(b, b.height)
			}
			return
		}
		over = max(over, 0)
	}
	for _, b := range boxes {
		height := b.height
		if b.least > 0 && over > 0 {
			height = b.filled(height - over*(b.height-b.least)/slack)
		}
		p.place(b, height)
	}
}

// tall is the height that boxes take from here on.
func (p *paginator) tall(boxes []box) float64 {
	sum := 0.0
	for i, b := range boxes {
		sum += b.height
		switch {
		case i > 0 || p.y > 0:
			sum += b.before
		case b.head != nil:
			sum += b.head.height
		}
	}
	return sum
}

func (p *paginator) next() {
	if p.y > 0 {
		p.pages, p.y = append(p.pages, nil), 0
	}
}

func (p *paginator) place(b box, height float64) {
	page := &p.pages[len(p.pages)-1]
	switch {
	case p.y > 0:
		p.y += b.before
	case b.head != nil:
		*page = append(*page, placedBox{*b.head, 0})
		p.y = b.head.height
	}
	b.height = height
	*page = append(*page, placedBox{b, p.y})
	p.y += height
}

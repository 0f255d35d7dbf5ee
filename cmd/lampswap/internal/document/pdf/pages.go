package pdf

// A box is what is not parted between pages.
type box struct {
	before float64 // white above it, pt; none at the top of a page
	height float64 // pt
	least  float64 // the least height that it can be drawn in; 0 is its height
	keep   bool    // on one page with the next
	opens  bool    // a part of the document: its heading
	fresh  bool    // begins a page
	head   *box    // drawn again above it where it begins a page
	draw   func(y, height float64)
}

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

// leastLastPage is the share of a page that the last one holds at least, if the heading before it can go there too.
const leastLastPage = 0.15

// spread is paginate without a few lines left over for a page of their own: the last part goes there whole.
func spread(boxes []box, height float64) [][]placedBox {
	pages := paginate(boxes, height)
	last := pages[len(pages)-1]
	if len(pages) < 2 || last[len(last)-1].y+last[len(last)-1].height > leastLastPage*height {
		return pages
	}
	for i := len(boxes) - 1; i > 0; i-- {
		if boxes[i].opens && !boxes[i-1].keep {
			boxes[i].fresh = true
			break
		}
	}
	return paginate(boxes, height)
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
			height -= over * (b.height - b.least) / slack
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

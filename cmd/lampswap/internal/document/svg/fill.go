package svg

import (
	"image"
	"image/color"
	"math"
	"slices"

	"github.com/srwiley/rasterx"
	"golang.org/x/image/math/fixed"
)

// sublines are how many lines of a row of pixels are looked at; along a line what is covered is exact.
const sublines = 16

// A filler fills outlines by either rule: of every line across it finds where the outline crosses, and which way. It is the rasterizer's
// Scanner, whose own knows one rule alone.
type filler struct {
	picture   *image.RGBA
	crossings [][]crossing // of every line
	from      fixed.Point26_6
	extent    fixed.Rectangle26_6
	drawn     bool // since it was cleared
	painted   int  // pixels that were looked at, of all shapes
	nonZero   bool
	paint     any // color.Color or rasterx.ColorFunc
}

// A crossing is where an outline goes over a line, in pixels, downward (1) or upward (-1).
type crossing struct {
	x   float64
	way int
}

func newFiller(picture *image.RGBA) *filler {
	return &filler{picture: picture, crossings: make([][]crossing, sublines*picture.Bounds().Dy()), nonZero: true}
}

// Start begins an outline.
func (f *filler) Start(a fixed.Point26_6) { f.meet(a); f.from = a }

// Line goes on with it.
func (f *filler) Line(b fixed.Point26_6) {
	f.meet(b)
	a := f.from
	f.from = b
	x0, y0, x1, y1 := float64(a.X)/64, float64(a.Y)/64, float64(b.X)/64, float64(b.Y)/64
	way := 1
	if y0 > y1 {
		x0, y0, x1, y1, way = x1, y1, x0, y0, -1
	}
	first := max(0, int(math.Ceil(y0*sublines-0.5))) // a line lies in the middle of its share of a row
	for k := first; k < len(f.crossings) && (float64(k)+0.5)/sublines < y1; k++ {
		y := (float64(k) + 0.5) / sublines
		f.crossings[k] = append(f.crossings[k], crossing{x0 + (x1-x0)*(y-y0)/(y1-y0), way})
	}
}

func (f *filler) meet(p fixed.Point26_6) {
	if !f.drawn {
		f.extent, f.drawn = fixed.Rectangle26_6{Min: p, Max: p}, true
		return
	}
	f.extent.Min.X, f.extent.Max.X = min(f.extent.Min.X, p.X), max(f.extent.Max.X, p.X)
	f.extent.Min.Y, f.extent.Max.Y = min(f.extent.Min.Y, p.Y), max(f.extent.Max.Y, p.Y)
}

// Draw paints what the outlines hold.
func (f *filler) Draw() {
	width := f.picture.Bounds().Dx()
	covered := make([]float64, width)
	first, last := f.rows()
	if f.painted += width * (last - first); f.painted > mostPainted*width*f.picture.Bounds().Dy() {
		return
	}
	for row := first; row < last; row++ {
		some := false
		for k := row * sublines; k < (row+1)*sublines; k++ {
			some = f.span(covered, f.crossings[k]) || some
		}
		for x := 0; some && x < width; x++ {
			if covered[x] > 0 {
				f.blend(x, row, min(1, covered[x]/sublines))
				covered[x] = 0
			}
		}
	}
}

// rows are those that the outlines reach.
func (f *filler) rows() (first, last int) {
	if !f.drawn {
		return 0, 0
	}
	height := f.picture.Bounds().Dy()
	return min(max(0, f.extent.Min.Y.Floor()), height), min(max(0, f.extent.Max.Y.Ceil()), height)
}

// span adds what is covered of each pixel of a line.
func (f *filler) span(covered []float64, crossings []crossing) bool {
	slices.SortFunc(crossings, func(a, b crossing) int {
		switch {
		case a.x < b.x:
			return -1
		case a.x > b.x:
			return 1
		}
		return a.way - b.way
	})
	winding, some := 0, false
	for i := 0; i+1 < len(crossings); i++ {
		winding += crossings[i].way
		if inside := f.nonZero && winding != 0 || !f.nonZero && i%2 == 0; !inside {
			continue
		}
		low, high := max(0, crossings[i].x), min(float64(len(covered)), crossings[i+1].x)
		for x := int(low); float64(x) < high; x++ {
			covered[x] += min(high, float64(x+1)) - max(low, float64(x))
			some = true
		}
	}
	return some
}

// blend lays the paint over a pixel, as much as is covered of it.
func (f *filler) blend(x, y int, share float64) {
	var c color.Color = color.Black
	switch p := f.paint.(type) {
	case color.Color:
		c = p
	case rasterx.ColorFunc:
		c = p(x, y)
	}
	r, g, b, a := c.RGBA()
	old := f.picture.RGBAAt(x, y)
	mix := func(over uint32, under uint8) uint8 {
		return uint8(math.Round(share*float64(over)/257 + (1-share*float64(a)/65535)*float64(under)))
	}
	f.picture.SetRGBA(x, y, color.RGBA{mix(r, old.R), mix(g, old.G), mix(b, old.B), mix(a, old.A)})
}

// Clear forgets the outlines.
func (f *filler) Clear() {
	for first, last := f.rows(); first < last; first++ {
		for k := first * sublines; k < (first+1)*sublines; k++ {
			f.crossings[k] = f.crossings[k][:0]
		}
	}
	f.drawn, f.extent = false, fixed.Rectangle26_6{}
}

// GetPathExtent returns what the outlines reach over.
func (f *filler) GetPathExtent() fixed.Rectangle26_6 { return f.extent }

// SetColor takes the paint.
func (f *filler) SetColor(paint any) { f.paint = paint }

// SetWinding takes the rule: not 0 times round, or an odd number.
func (f *filler) SetWinding(nonZero bool) { f.nonZero = nonZero }

// SetBounds does nothing: the picture's are known.
func (f *filler) SetBounds(int, int) {}

// SetClip does nothing: nothing is clipped.
func (f *filler) SetClip(image.Rectangle) {}

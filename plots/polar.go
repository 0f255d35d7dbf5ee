package plots

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry"
)

// A Polar shows the candela of a luminaire in three vertical planes, nadir down: how far from the middle a curve lies is the intensity
// in that direction. The side right of the vertical is the plane named first, the left side the one opposite.
type Polar struct {
	Title, Subtitle, Caption string
	Distribution             *photometry.Distribution // cd
}

// A curve is one vertical plane in the diagram.
type curve struct {
	plane  float64 // horizontal angle of its right side, rad
	name   string
	color  color.NRGBA
	width  vg.Length
	dashes []vg.Length
}

// The curves differ in lightness, in width and in dashes, so that they are told apart in grey.
var curves = []curve{
	{0, "along the lamps, 0–180°", color.NRGBA{0x1f, 0x46, 0x77, 0xff}, 1.5, nil},
	{math.Pi / 4, "at 45–225°", color.NRGBA{0x6a, 0x76, 0x82, 0xff}, 1.3, []vg.Length{1.3, 1.9}},
	{math.Pi / 2, "across the lamps, 90–270°", color.NRGBA{0xb8, 0x62, 0x0c, 0xff}, 1.5, []vg.Length{6, 2.4}},
}

const (
	polarStepDeg = 1     // between points of a curve
	upwardShown  = 0.002 // of the peak; less light upward than this is not drawn
	mostCircles  = 5

	angleGap vg.Length = 4 // between the outer circle and the angles
)

// polarScale returns the round step of the circles, cd, and how many there are.
func (p Polar) polarScale() (step float64, circles int) {
	peak := p.Distribution.Peak()
	if peak <= 0 {
		return 1, 1
	}
	step = roundUp(peak / mostCircles)
	return step, int(math.Ceil(peak/step - 1e-9))
}

// upward tells whether there is light above the horizontal to show.
func (p Polar) upward() bool {
	least := upwardShown * p.Distribution.Peak()
	for _, k := range curves {
		for deg := 90 + polarStepDeg; deg <= 180; deg += polarStepDeg {
			if p.intensity(k, float64(deg)) > least || p.intensity(k, -float64(deg)) > least {
				return true
			}
		}
	}
	return false
}

// intensity returns the intensity, cd, at an angle from nadir, degrees, positive on the right side.
func (p Polar) intensity(k curve, deg float64) float64 {
	plane := k.plane
	if deg < 0 {
		plane += math.Pi
	}
	return p.Distribution.Intensity(plane, math.Abs(deg)*math.Pi/180)
}

// A polarLayout is where the parts of the diagram go, pt.
type polarLayout struct {
	header       []block
	notes        block
	footer       block
	headerHeight vg.Length
	below        vg.Length
	side, end    vg.Length // beside, above and below the outer circle, for the angles
}

func (p Polar) layout(width vg.Length) polarLayout {
	d := p.Distribution
	total := d.Flux()
	facts := fmt.Sprintf("Peak %s cd, flux %s lm", reading(d.Peak()), reading(total))
	if share := 100 * d.FluxBetween(math.Pi/2, math.Pi) / total; share >= 0.5 {
		facts += fmt.Sprintf(", %.0f %% of it upward", share)
	}
	l := polarLayout{side: textWidth(smallFont, "150°") + angleGap + 1, end: smallFont.Size + angleGap + 2}
	l.header = []block{newBlock(titleFont, ink, p.Title, width), newBlock(textFont, soft, p.Subtitle, width)}
	l.notes = newBlock(smallFont, ink, facts, width)
	l.footer = newBlock(smallFont, soft, p.Caption, width)
	if h := l.header[0].height() + l.header[1].height(); h > 0 {
		l.headerHeight = h + partGap
	}
	l.below = vg.Length(len(p.legendRows(width)))*legendLine + 2*partGap + l.notes.height() + l.footer.height()
	return l
}

// Height returns the height at which the diagram takes the whole width.
func (p Polar) Height(width vg.Length) vg.Length {
	width -= 2 * margin
	l := p.layout(width)
	diagram := width/2 - l.side
	if p.upward() {
		diagram *= 2
	}
	return l.headerHeight + diagram + 2*l.end + l.below + 2*margin
}

// Draw draws the diagram into the whole of the canvas.
func (p Polar) Draw(c draw.Canvas) {
	c = inset(c)
	width := c.Max.X - c.Min.X
	l := p.layout(width)
	y := c.Max.Y
	for _, b := range l.header {
		y -= b.draw(c, c.Min.X, y)
	}
	top, bottom := c.Max.Y-l.headerHeight-l.end, c.Min.Y+l.below+l.end
	upward := p.upward()
	radius, share := top-bottom, vg.Length(1)
	if upward {
		radius, share = radius/2, 2
	}
	radius = max(min(radius, width/2-l.side), 1)
	middle := vg.Point{X: (c.Min.X + c.Max.X) / 2, Y: top}
	if upward {
		middle.Y -= radius
	}
	p.drawNet(c, middle, radius, upward)
	p.drawCandela(c, middle, radius, upward)
	p.drawCurves(c, middle, radius, upward)
	y = top - share*radius - l.end - partGap
	y -= p.drawLegend(c, c.Min.X, y, width)
	y -= l.notes.draw(c, c.Min.X, y)
	l.footer.draw(c, c.Min.X, y)
}

// direction returns the point at a distance from the middle in the direction of an angle from nadir, degrees.
func direction(middle vg.Point, distance vg.Length, deg float64) vg.Point {
	return onCircle(middle, distance, (deg-90)*math.Pi/180)
}

// drawNet draws the circles and the rays with their angles.
func (p Polar) drawNet(c vg.Canvas, middle vg.Point, radius vg.Length, upward bool) {
	_, n := p.polarScale()
	last := 90
	if upward {
		last = 180
	}
	for i := 1; i <= n; i++ {
		ring := radius * vg.Length(i) / vg.Length(n)
		var points []vg.Point
		for deg := -last; deg <= last; deg += 2 {
			points = append(points, direction(middle, ring, float64(deg)))
		}
		colour, weight := pale, thin
		if i == n {
			colour, weight = faint, thin
		}
		stroke(c, colour, weight, nil, points...)
	}
	for deg := -last; deg <= last; deg += 15 {
		if deg == -180 {
			continue
		}
		from, colour := radius/vg.Length(n), pale
		if deg%30 == 0 {
			from = 0
		}
		if deg%90 == 0 {
			colour = faint
		}
		stroke(c, colour, hairline, nil, direction(middle, from, float64(deg)), direction(middle, radius, float64(deg)))
		if deg%30 == 0 {
			sin, cos := math.Sincos(float64(deg) * math.Pi / 180)
			at := direction(middle, radius+angleGap, float64(deg))
			at.Y -= capHeight(smallFont) * vg.Length(1+cos) / 2 // beside, above or below the circle
			write(c, smallFont, soft, at, (1-sin)/2, exact(math.Abs(float64(deg)))+"°")
		}
	}
}

// drawCurves draws the intensity of each plane.
func (p Polar) drawCurves(c vg.Canvas, middle vg.Point, radius vg.Length, upward bool) {
	step, n := p.polarScale()
	full := step * float64(n)
	last := 90
	if upward {
		last = 180
	}
	for _, k := range curves {
		var points []vg.Point
		for deg := -last; deg <= last; deg += polarStepDeg {
			points = append(points, direction(middle, radius*vg.Length(p.intensity(k, float64(deg))/full), float64(deg)))
		}
		stroke(c, k.color, k.width, k.dashes, points...)
	}
}

// drawCandela labels the circles: above the horizontal where no light goes up, else along the ray that is clearest of the curves.
func (p Polar) drawCandela(c vg.Canvas, middle vg.Point, radius vg.Length, upward bool) {
	step, n := p.polarScale()
	ray, lift := 90.0, vg.Length(6)
	if upward {
		ray, lift = p.clearestRay(middle, radius), -capHeight(contourFont)/2
	}
	last := box{}
	for i := 1; i <= n; i++ {
		text := exact(step * float64(i))
		if i == 1 {
			text += " cd"
		}
		half := textWidth(contourFont, text)/2 + 1.5
		at := direction(middle, radius*vg.Length(i)/vg.Length(n), ray)
		at.Y += lift
		ground := vg.Rectangle{Min: vg.Point{X: at.X - half, Y: at.Y - 1}, Max: vg.Point{X: at.X + half, Y: at.Y + capHeight(contourFont) + 1}}
		if i > 1 && boxOf(ground).overlaps(last) {
			continue
		}
		last = boxOf(ground)
		if upward {
			fill(c, white, corners(ground)...)
		}
		write(c, contourFont, soft, at, centre, text)
	}
}

// clearestRay returns the angle from nadir, degrees, at which the labels of the circles stay furthest from the curves.
func (p Polar) clearestRay(middle vg.Point, radius vg.Length) float64 {
	step, n := p.polarScale()
	full := step * float64(n)
	best, widest := 90.0, -1.0
	for _, ray := range []float64{90, 165, 150, 135, 120, 105, 75, 60, 45, 30, 15} {
		room := math.Inf(1)
		for i := 1; i <= n; i++ {
			at := direction(middle, radius*vg.Length(i)/vg.Length(n), ray)
			for _, k := range curves {
				for deg := 0; deg <= 180; deg += polarStepDeg {
					curve := direction(middle, radius*vg.Length(p.intensity(k, float64(deg))/full), float64(deg))
					room = math.Min(room, distance(at, curve))
				}
			}
		}
		if room > widest*1.05 {
			best, widest = ray, room
		}
	}
	return best
}

const (
	legendLine vg.Length = 11
	sample     vg.Length = 24 // length of a line in the legend
)

// legendRows breaks the curves into rows of at most the width.
func (p Polar) legendRows(width vg.Length) [][]curve {
	var rows [][]curve
	var used vg.Length
	for _, k := range curves {
		w := sample + 5 + textWidth(smallFont, k.name) + noteGap
		if len(rows) == 0 || used+w-noteGap > width {
			rows, used = append(rows, nil), 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], k)
		used += w
	}
	return rows
}

func (p Polar) drawLegend(c vg.Canvas, x, top, width vg.Length) vg.Length {
	rows := p.legendRows(width)
	for i, row := range rows {
		base, at := top-vg.Length(i)*legendLine-smallFont.Size, x
		for _, k := range row {
			y := base + capHeight(smallFont)/2
			stroke(c, k.color, k.width, k.dashes, vg.Point{X: at, Y: y}, vg.Point{X: at + sample, Y: y})
			write(c, smallFont, ink, vg.Point{X: at + sample + 5, Y: base}, left, k.name)
			at += sample + 5 + textWidth(smallFont, k.name) + noteGap
		}
	}
	return vg.Length(len(rows)) * legendLine
}

// Describe says what the diagram shows.
func (p Polar) Describe() string {
	d := p.Distribution
	title := p.Title
	if title == "" {
		title = "luminaire"
	}
	return fmt.Sprintf("Polar diagram of luminous intensity: %s. Straight down %s cd, peak %s cd, flux %s lm.",
		title, reading(d.Intensity(0, 0)), reading(d.Peak()), reading(d.Flux()))
}

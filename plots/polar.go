package plots

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"lampswap/photometry"
	"lampswap/photometry/number"
	"lampswap/plots/internal/chart"
	"lampswap/plots/internal/pen"
	"lampswap/plots/internal/place"
)

// A Polar shows the candela of a luminaire in three vertical planes, nadir down: how far from the middle a curve lies is the intensity
// in that direction. The side right of the vertical is the plane named first, the left side the one opposite.
type Polar struct {
	Title, Subtitle, Caption string
	Distribution             *photometry.Distribution // cd
}

// A curve is one vertical plane in the diagram.
type curve struct {
	plane float64 // horizontal angle of its right side, rad
	name  string
	line  pen.Line
}

var curves = []curve{
	{0, "along the lamps, 0–180°", pen.Solid},
	{math.Pi / 4, "at 45–225°", pen.Dotted},
	{math.Pi / 2, "across the lamps, 90–270°", pen.Dashed},
}

const (
	polarStepDeg = 1     // between points of a curve
	upwardShown  = 0.002 // of the peak; less light upward than this is not drawn
	mostCircles  = 5

	smallestDiagram vg.Length = 20 // radius, whatever the width

	angleGap vg.Length = 4 // between the outer circle and the angles
)

// polarScale returns the round step of the circles, cd, and how many there are.
func (p Polar) polarScale() (step float64, circles int) {
	peak := p.Distribution.Peak()
	if peak <= 0 {
		return 1, 1
	}
	step = chart.RoundUp(peak / mostCircles)
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
	header       []pen.Block
	notes        pen.Block
	footer       pen.Block
	headerHeight vg.Length
	below        vg.Length
	side, end    vg.Length // beside, above and below the outer circle, for the angles
}

func (p Polar) layout(width vg.Length) polarLayout {
	d := p.Distribution
	total := d.Flux()
	facts := fmt.Sprintf("Peak %s cd, flux %s lm", number.Reading(d.Peak()), number.Reading(total))
	if share := 100 * d.FluxBetween(math.Pi/2, math.Pi) / total; share >= 0.5 {
		facts += fmt.Sprintf(", %.0f %% of it upward", share)
	}
	l := polarLayout{side: pen.Width(pen.Small, "150°") + angleGap + 1, end: pen.Small.Size + angleGap + 2}
	l.header = chart.Headline(p.Title, p.Subtitle, width)
	l.notes = pen.NewBlock(pen.Small, pen.Ink, facts, width)
	l.footer = pen.NewBlock(pen.Small, pen.Soft, p.Caption, width)
	if h := l.header[0].Height() + l.header[1].Height(); h > 0 {
		l.headerHeight = h + chart.PartGap
	}
	l.below = chart.SamplesHeight(p.samples(), width) + 2*chart.PartGap + l.notes.Height() + l.footer.Height()
	return l
}

// Height returns the height at which the diagram takes the whole width.
func (p Polar) Height(width vg.Length) vg.Length {
	return p.heightAt(width, 1)
}

// LeastHeight leaves the diagram leastShare of its size.
func (p Polar) LeastHeight(width vg.Length) vg.Length { return p.heightAt(width, leastShare) }

// heightAt returns the height at which the diagram takes a share of the width.
func (p Polar) heightAt(width, share vg.Length) vg.Length {
	width -= 2 * pen.Margin
	l := p.layout(width)
	diagram := share * max(width/2-l.side, smallestDiagram)
	if p.upward() {
		diagram *= 2
	}
	return l.headerHeight + diagram + 2*l.end + l.below + 2*pen.Margin
}

// Draw draws the diagram into the whole of the canvas.
func (p Polar) Draw(c draw.Canvas) {
	c = pen.Inset(pen.AtLeast(c, p.LeastHeight(c.Max.X-c.Min.X)))
	width := c.Max.X - c.Min.X
	l := p.layout(width)
	y := c.Max.Y
	for _, b := range l.header {
		y -= b.Draw(c, c.Min.X, y)
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
	y = top - share*radius - l.end - chart.PartGap
	y -= chart.DrawSamples(c, p.samples(), c.Min.X, y, width)
	y -= l.notes.Draw(c, c.Min.X, y)
	l.footer.Draw(c, c.Min.X, y)
}

// direction returns the point at a distance from the middle in the direction of an angle from nadir, degrees.
func direction(middle vg.Point, distance vg.Length, deg float64) vg.Point {
	return pen.OnCircle(middle, distance, (deg-90)*math.Pi/180)
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
		colour, weight := pen.Pale, pen.Thin
		if i == n {
			colour, weight = pen.Faint, pen.Thin
		}
		pen.Stroke(c, colour, weight, nil, points...)
	}
	for deg := -last; deg <= last; deg += 15 {
		if deg == -180 {
			continue
		}
		from, colour := radius/vg.Length(n), pen.Pale
		if deg%30 == 0 {
			from = 0
		}
		if deg%90 == 0 {
			colour = pen.Faint
		}
		pen.Stroke(c, colour, pen.Hairline, nil, direction(middle, from, float64(deg)), direction(middle, radius, float64(deg)))
		if deg%30 == 0 {
			sin, cos := math.Sincos(float64(deg) * math.Pi / 180)
			at := direction(middle, radius+angleGap, float64(deg))
			at.Y -= pen.CapHeight(pen.Small) * vg.Length(1+cos) / 2 // beside, above or below the circle
			pen.Write(c, pen.Small, pen.Soft, at, (1-sin)/2, number.Exact(math.Abs(float64(deg)))+"°")
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
		k.line.Draw(c, points...)
	}
}

// drawCandela labels the circles: above the horizontal where no light goes up, else along the ray that is clearest of the curves.
func (p Polar) drawCandela(c vg.Canvas, middle vg.Point, radius vg.Length, upward bool) {
	step, n := p.polarScale()
	ray, lift := 90.0, vg.Length(6)
	if upward {
		ray, lift = p.clearestRay(middle, radius), -pen.CapHeight(pen.Tiny)/2
	}
	last := place.Box{}
	for i := 1; i <= n; i++ {
		text := number.Exact(step * float64(i))
		if i == 1 {
			text += " cd"
		}
		half := pen.Width(pen.Tiny, text)/2 + 1.5
		at := direction(middle, radius*vg.Length(i)/vg.Length(n), ray)
		at.Y += lift
		ground := vg.Rectangle{Min: vg.Point{X: at.X - half, Y: at.Y - 1}, Max: vg.Point{X: at.X + half, Y: at.Y + pen.CapHeight(pen.Tiny) + 1}}
		if i > 1 && place.BoxOf(ground).Overlaps(last) {
			continue
		}
		last = place.BoxOf(ground)
		if upward {
			pen.Fill(c, pen.White, pen.Corners(ground)...)
		}
		pen.Write(c, pen.Tiny, pen.Soft, at, pen.Centre, text)
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
					room = math.Min(room, place.Distance(at, curve))
				}
			}
		}
		if room > widest*1.05 {
			best, widest = ray, room
		}
	}
	return best
}

// samples are the curves and their names.
func (p Polar) samples() []chart.Sample {
	var samples []chart.Sample
	for _, k := range curves {
		samples = append(samples, chart.LineSample(k.line, k.name))
	}
	return samples
}

// Describe says what the diagram shows.
func (p Polar) Describe() string {
	d := p.Distribution
	title := p.Title
	if title == "" {
		title = "luminaire"
	}
	return fmt.Sprintf("Polar diagram of luminous intensity: %s. Straight down %s cd, peak %s cd, flux %s lm.",
		title, number.Reading(d.Intensity(0, 0)), number.Reading(d.Peak()), number.Reading(d.Flux()))
}

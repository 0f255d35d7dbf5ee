package survey

import (
	"fmt"
	"math"

	"lampswap/photometry/room"
)

// A Step tells how the points of a grid fall among the luminaires along one direction.
type Step struct {
	Direction string  // "x" or "y"
	Points    int     // of the grid, along the direction
	Ratio     float64 // grid spacing over luminaire spacing
	Ripple    float64 // share of the luminaires' first ripple that is left in the mean of the points, 0 to 1
	Second    float64 // the same of the second ripple, of half the wavelength
	Better    int     // the next larger number of points, over the same length, that is not in step; 0 if none was found
}

// A mean that keeps more than this share of a ripple is in step with it: our choice, half.
const inStep = 0.5

// How far a better number of points is looked for: our choice, up to three times as many.
const mostRefined = 3

// InStep returns the directions in which a grid falls in step with the luminaires, so that its points lie always at like places: all
// under luminaires, say, or all between them. Of light that ripples with the luminaire spacing S, n points of spacing p about the
// middle of their area keep in their mean, and the area itself has in its own,
//
//	points: sin(π n p/S) / (n sin(π p/S))        area: sin(π n p/S) / (π n p/S)
//
// Their difference is what the grid adds: 1 in step, near 0 where the points fall at all places alike. A direction is returned if it
// is above a half, our choice, for the first ripple or for the second, of wavelength S/2 (p/S near 1/2: two places that take turns,
// a fair mean, but the least and the greatest may lie elsewhere). Along a continuous row and across a single one there is no ripple
// to be in step with. Source: our derivation; that a grid must not fall in step is a rule of EN 12464-1 and of DIN 5035 practice.
func (l Lattice) InStep(g room.Grid) []Step {
	l.check()
	if l.LuminousCeiling {
		return nil
	}
	x, y := l.Spacing()
	ripples := map[string]float64{"x": x, "y": y}
	if l.Columns == 1 || l.continuous() && !l.LampsAlongY {
		delete(ripples, "x")
	}
	if l.Rows == 1 || l.continuous() && l.LampsAlongY {
		delete(ripples, "y")
	}
	var steps []Step
	for _, side := range []struct {
		along  room.Vec
		step   float64
		points int
	}{{g.U, g.StepX, g.NX}, {g.V, g.StepY, g.NY}} {
		direction := axis(side.along)
		spacing, ok := ripples[direction]
		if !ok || side.points < 2 {
			continue
		}
		s := Step{Direction: direction, Points: side.points, Ratio: side.step / spacing}
		s.Ripple, s.Second = left(s.Ratio, s.Points), left(2*s.Ratio, s.Points)
		if max(s.Ripple, s.Second) <= inStep {
			continue
		}
		length := s.Ratio * float64(s.Points)
		for n := s.Points + 1; n <= mostRefined*s.Points && s.Better == 0; n++ {
			if r := length / float64(n); max(left(r, n), left(2*r, n)) <= inStep {
				s.Better = n
			}
		}
		steps = append(steps, s)
	}
	return steps
}

// left is what n points, ratio of a wavelength apart, add to the mean of a ripple.
func left(ratio float64, n int) float64 {
	count := float64(n)
	one, all := math.Sin(math.Pi*ratio), math.Sin(math.Pi*ratio*count)
	if math.Abs(one) < 1e-9 {
		return 1
	}
	return math.Abs(all/(count*one) - all/(math.Pi*ratio*count))
}

// axis is the name of the axis that a unit vector in plan lies along, or "".
func axis(v room.Vec) string {
	const near = 1 - 1e-6
	switch {
	case math.Abs(v.X) > near:
		return "x"
	case math.Abs(v.Y) > near:
		return "y"
	}
	return ""
}

// Words is the warning, without units.
func (s Step) Words() string {
	what := fmt.Sprintf("along %s the grid's spacing is %.2f of the luminaires'", s.Direction, s.Ratio)
	shift := "half"
	if s.Ripple > inStep {
		what += fmt.Sprintf(": its %d points fall at like places among them, and the mean may keep %.0f percent of the ripple",
			s.Points, 100*s.Ripple)
	} else {
		shift = "a quarter"
		what += fmt.Sprintf(": its %d points take turns at two places only; the mean is fair, the least and the greatest may lie elsewhere",
			s.Points)
	}
	what += "; "
	if s.Better > 0 {
		what += fmt.Sprintf("take %d points, or ", s.Better)
	}
	return what + "read once more with the grid shifted by " + shift + " of a luminaire spacing"
}

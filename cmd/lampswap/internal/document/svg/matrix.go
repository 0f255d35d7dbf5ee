package svg

import (
	"math"
	"regexp"
	"strings"
)

// A matrix moves points: x' = a x + c y + e, y' = b x + d y + f.
type matrix [6]float64

var identity = matrix{1, 0, 0, 1, 0, 0}

// times is first the other, then this.
func (m matrix) times(o matrix) matrix {
	return matrix{m[0]*o[0] + m[2]*o[1], m[1]*o[0] + m[3]*o[1], m[0]*o[2] + m[2]*o[3], m[1]*o[2] + m[3]*o[3],
		m[0]*o[4] + m[2]*o[5] + m[4], m[1]*o[4] + m[3]*o[5] + m[5]}
}

// stretch is the most by which it makes a length longer, or a little more; shift is how far it moves the origin.
func (m matrix) stretch() float64 {
	return math.Max(math.Abs(m[0])+math.Abs(m[2]), math.Abs(m[1])+math.Abs(m[3]))
}
func (m matrix) shift() float64 { return math.Max(math.Abs(m[4]), math.Abs(m[5])) }

// similar tells that it stretches all lengths alike; scale is by how much, as area goes.
func (m matrix) similar() bool {
	along, up := math.Hypot(m[0], m[1]), math.Hypot(m[2], m[3])
	return math.Abs(along-up) <= 1e-3*along && math.Abs(m[0]*m[2]+m[1]*m[3]) <= 1e-3*along*up
}
func (m matrix) scale() float64 { return math.Sqrt(math.Abs(m[0]*m[3] - m[1]*m[2])) }

func (m matrix) String() string { return "matrix(" + joined(m[:]) + ")" }

var move = regexp.MustCompile(`^[\s,]*(matrix|translate|scale|rotate|skewX|skewY)\s*\(([^()]*)\)`)

// transformOf reads a list of transforms.
func transformOf(text string) (m matrix, ok bool) {
	m = identity
	for strings.TrimSpace(text) != "" {
		found := move.FindStringSubmatch(text)
		if found == nil {
			return m, false
		}
		text = text[len(found[0]):]
		n, ok := numbersOf(found[2])
		if !ok {
			return m, false
		}
		next, ok := moveOf(found[1], n)
		if !ok {
			return m, false
		}
		m = m.times(next)
	}
	for _, x := range m {
		if math.IsNaN(x) || math.Abs(x) > 1e7 {
			return m, false
		}
	}
	return m, true
}

// moveOf is one transform with its numbers.
func moveOf(kind string, n []float64) (m matrix, ok bool) {
	radians := func(degrees float64) float64 { return degrees * math.Pi / 180 }
	switch {
	case kind == "matrix" && len(n) == 6:
		return matrix(n), true
	case kind == "translate" && len(n) == 1:
		return matrix{1, 0, 0, 1, n[0], 0}, true
	case kind == "translate" && len(n) == 2:
		return matrix{1, 0, 0, 1, n[0], n[1]}, true
	case kind == "scale" && len(n) == 1:
		return matrix{n[0], 0, 0, n[0], 0, 0}, true
	case kind == "scale" && len(n) == 2:
		return matrix{n[0], 0, 0, n[1], 0, 0}, true
	case kind == "rotate" && (len(n) == 1 || len(n) == 3):
		sin, cos := math.Sincos(radians(n[0]))
		turn := matrix{cos, sin, -sin, cos, 0, 0}
		if len(n) == 1 {
			return turn, true
		}
		return matrix{1, 0, 0, 1, n[1], n[2]}.times(turn).times(matrix{1, 0, 0, 1, -n[1], -n[2]}), true
	case kind == "skewX" && len(n) == 1:
		return matrix{1, 0, math.Tan(radians(n[0])), 1, 0, 0}, true
	case kind == "skewY" && len(n) == 1:
		return matrix{1, math.Tan(radians(n[0])), 0, 1, 0, 0}, true
	}
	return m, false
}

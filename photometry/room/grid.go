package room

import (
	"errors"
	"math"
)

// A Plane is how a grid stands.
type Plane int

// The planes a grid may have.
const (
	Horizontal Plane = iota
	Vertical
)

// String is the contract's word for the plane.
func (p Plane) String() string {
	if p == Vertical {
		return "vertical"
	}
	return "horizontal"
}

// A Grid is a plane lattice of NX by NY points, centred in equal cells. U and V are the unit directions along its rows and its
// columns; Normal is the unit normal of the side that receives light.
type Grid struct {
	Name           string
	Plane          Plane
	NX, NY         int // columns and rows
	Origin         Vec // corner of the first cell, m
	U, V, Normal   Vec
	StepX, StepY   float64 // cell size along U and V, m
	startX, startY float64 // coordinate of Origin along U and V, as the contract reports it
}

// Cells returns into how many cells of at most the given spacing a length is cut, both in m: ⌈length/spacing⌉, forgiving rounding of
// 1e-9 of a cell, and at least 1.
func Cells(length, spacing float64) int {
	return max(1, int(math.Ceil(length/spacing-1e-9)))
}

// HorizontalGrid returns the grid of the rectangle between two corners, the first nearer the origin, at a height above the floor, m.
// It looks up, and its cells are of at most the spacing, m. The corners' own heights do not count.
func HorizontalGrid(name string, from, to Vec, height, spacing float64) Grid {
	length, width := to.X-from.X, to.Y-from.Y
	g := Grid{Name: name, NX: Cells(length, spacing), NY: Cells(width, spacing),
		Origin: Vec{from.X, from.Y, height}, U: Vec{X: 1}, V: Vec{Y: 1}, Normal: Vec{Z: 1}, startX: from.X, startY: from.Y}
	g.StepX, g.StepY = length/float64(g.NX), width/float64(g.NY)
	return g
}

// WorkPlaneGrid returns the grid of the whole room at the height of its work plane, with cells of at most the spacing, m.
func (r Room) WorkPlaneGrid(spacing float64) Grid {
	return HorizontalGrid("work plane", Vec{}, Vec{X: r.Length, Y: r.Width}, r.WorkPlane, spacing)
}

// ErrFacing says that a vertical grid was asked to face another way than square to its line.
var ErrFacing = errors.New("room: a vertical grid must face square to its line")

// VerticalGrid returns a grid that stands on the plan line between two points and reaches from one height to another, m, with cells of
// at most the spacing, m. facing is the azimuth, rad, of the side that receives light; it errs with ErrFacing unless that is square to
// the line within 0.5 degrees.
func VerticalGrid(name string, from, to Vec, low, high, facing, spacing float64) (Grid, error) {
	line := Vec{X: to.X - from.X, Y: to.Y - from.Y}
	length := line.Length()
	u := line.Scale(1 / length)
	left := Vec{X: -u.Y, Y: u.X}
	side := left.Dot(Vec{X: math.Cos(facing), Y: math.Sin(facing)})
	if !(math.Abs(side) > math.Cos(0.5*math.Pi/180)) {
		return Grid{}, ErrFacing
	}
	g := Grid{Name: name, Plane: Vertical, NX: Cells(length, spacing), NY: Cells(high-low, spacing),
		Origin: Vec{from.X, from.Y, low}, U: u, V: Vec{Z: 1}, Normal: left.Scale(math.Copysign(1, side)), startY: low}
	g.StepX, g.StepY = length/float64(g.NX), (high-low)/float64(g.NY)
	return g, nil
}

// Point returns the point, m, in column ix and row iy, both from 0.
func (g Grid) Point(ix, iy int) Vec {
	return g.Origin.Add(g.U.Scale((float64(ix) + 0.5) * g.StepX)).Add(g.V.Scale((float64(iy) + 0.5) * g.StepY))
}

// Coordinates returns the position of the columns and of the rows, m: x and y of a horizontal grid, distance along the line and
// height above the floor of a vertical one.
func (g Grid) Coordinates() (x, y []float64) {
	x, y = make([]float64, g.NX), make([]float64, g.NY)
	for i := range x {
		x[i] = g.startX + (float64(i)+0.5)*g.StepX
	}
	for j := range y {
		y[j] = g.startY + (float64(j)+0.5)*g.StepY
	}
	return x, y
}

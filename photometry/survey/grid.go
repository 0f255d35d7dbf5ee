package survey

import (
	_ "embed"
	"fmt"
	"math"
	"sync"

	"lampswap/photometry/internal/table"
	"lampswap/photometry/room"
)

// GridSpacing returns the largest distance between the points of a grid over an area with sides of a and b, m:
//
//	p = 0.2 · 5^log10(d), at most 10
//
// d is the longer side, or the shorter once the longer is 5 times it or more. Where the area is so narrow that cells of p would be
// longer than twice their width, it is less. Source: EN 12464-1, see rules.csv. It panics unless both sides are above 0.
func GridSpacing(a, b float64) float64 {
	if !(a > 0) || !(b > 0) {
		panic(errArea)
	}
	longer, shorter := max(a, b), min(a, b)
	d := longer
	if longer >= rule("grid elongated").Value*shorter {
		d = shorter
	}
	p := min(rule("grid base").Value*math.Pow(rule("grid power").Value, math.Log10(d)), rule("grid cap").Value)
	if shorter < p {
		p = min(p, 2*shorter) // one row of cells as wide as the area: no longer than twice that
	}
	return p
}

const errArea = "survey: an area needs two sides above 0"

// AreaGrid returns the EN 12464-1 grid of a horizontal rectangle between two corners, at a height, m. Its cells have sides
// between 1:2 and 2:1. It panics on a rectangle without extent.
func AreaGrid(name string, from, to room.Vec, height float64) room.Grid {
	low := room.Vec{X: min(from.X, to.X), Y: min(from.Y, to.Y)}
	high := room.Vec{X: max(from.X, to.X), Y: max(from.Y, to.Y)}
	return room.HorizontalGrid(name, low, high, height, GridSpacing(high.X-low.X, high.Y-low.Y))
}

// Band returns what lies outside a room's outline with the band of 0.5 m along its walls that EN 12464-1 leaves out; nothing of a room without
// an outline.
func Band(r room.Room) []room.Rack {
	band, all := rule("wall band").Value, r.Outside()
	for i := range all {
		all[i].Corner = all[i].Corner.Sub(room.Vec{X: band, Y: band})
		all[i].Size = all[i].Size.Add(room.Vec{X: 2 * band, Y: 2 * band})
	}
	return all
}

// RoomGrid returns the EN 12464-1 grid of a room's work plane; with the band of 0.5 m along the walls left out if asked, and if that
// leaves at least as much again each way.
func RoomGrid(name string, r room.Room, leaveBand bool) room.Grid {
	band := rule("wall band").Value
	if !leaveBand || min(r.Length, r.Width) < 3*band {
		band = 0
	}
	return AreaGrid(name, room.Vec{X: band, Y: band}, room.Vec{X: r.Length - band, Y: r.Width - band}, r.WorkPlane)
}

// FaceGrid returns the grid of a vertical face, with the spacing of EN 12464-1: on the plan line between two points, from one height
// to another, m. facing is the azimuth, rad, of the side that receives light. It errs as room.VerticalGrid does, and panics on a
// face without extent.
func FaceGrid(name string, from, to room.Vec, low, high, facing float64) (room.Grid, error) {
	line := room.Vec{X: to.X - from.X, Y: to.Y - from.Y}
	return room.VerticalGrid(name, from, to, low, high, facing, GridSpacing(line.Length(), high-low))
}

//go:embed points.csv
var pointsCSV string

type pointCount struct {
	over         float64
	equalCounts  bool
	five, ten    int
	tableAndLine string
}

var pointCounts = sync.OnceValue(func() []pointCount {
	rows := table.Load("points", pointsCSV, "room_index_over", "equal_counts", "points_5_percent", "points_10_percent", "source")
	all := make([]pointCount, len(rows))
	for i, r := range rows {
		all[i] = pointCount{r.Number("room_index_over"), r.Required("equal_counts") == "yes", r.Count("points_5_percent"),
			r.Count("points_10_percent"), r.Text("source")}
		if i > 0 && (all[i].over <= all[i-1].over || all[i].five <= all[i-1].five || all[i].ten <= all[i-1].ten) {
			r.Fail("room_index_over", "does not rise with its counts")
		}
	}
	return all
})

// RoomIndex returns L W / (H (L + W)), H from the work plane to the luminaires, m.
func RoomIndex(length, width, height float64) float64 {
	return length * width / (height * (length + width))
}

// PointsByRoomIndex returns the least number of points for an average within 5 and within 10 percent, and the source.
func PointsByRoomIndex(index float64) (within5, within10 int, source string) {
	all := pointCounts()
	row := all[0]
	for _, c := range all[1:] {
		if index > c.over || c.equalCounts && index == c.over {
			row = c
		}
	}
	return row.five, row.ten, row.tableAndLine
}

// SpacingFor returns a spacing, m, at which a grid over an area with sides of a and b, m, has at least so many points, and no more
// than it takes: any wider one has as many or too few. It panics unless the sides are above 0 and the number is at least 1.
func SpacingFor(points int, a, b float64) float64 {
	if !(a > 0) || !(b > 0) || points < 1 {
		panic(errArea)
	}
	best := 0.0
	for n := 1; n <= points; n++ { // the number of points changes where a whole number of cells fills a side
		for _, side := range []float64{a, b} {
			spacing := side / float64(n)
			if room.Cells(a, spacing)*room.Cells(b, spacing) >= points {
				best = max(best, spacing)
			}
		}
	}
	return best
}

// GridPlan returns the plan of reading a grid point by point: an aisle, a rack face, the whole room. Every point counts the same,
// and so the mean is the average of the area. Stations are named by the prefix, row and column, from 1 ("g3-12"); rows run along the
// grid's first direction, and a face is read column by column. Points inside a rack, and points of a level grid within a foot of one, are dropped,
// with a note; those outside the room are none.
func GridPlan(g room.Grid, prefix string, racks []room.Rack) Plan {
	p := Plan{Arrangement: PointGrid, Rows: g.NY, PerRow: g.NX, Length: float64(g.NX) * g.StepX, Width: float64(g.NY) * g.StepY}
	standing, beyond := []room.Rack(nil), []room.Rack(nil)
	for _, k := range racks {
		if k.Outside {
			beyond = append(beyond, k)
		} else {
			standing = append(standing, k)
		}
	}
	solids, outside := room.NewSolids(standing), room.NewSolids(beyond)
	for k := range g.NX * g.NY {
		ix, iy := k%g.NX, k/g.NX
		if g.Plane == room.Vertical { // all heights, and then on along the face
			ix, iy = k/g.NY, k%g.NY
		}
		s := Station{Name: fmt.Sprintf("%s%d-%d", prefix, iy+1, ix+1), Role: GridPoint,
			Place: fmt.Sprintf("%s, row %d, column %d", g.Name, iy+1, ix+1), Position: g.Point(ix, iy), Normal: g.Normal}
		if outside.Cover(s.Position) {
			continue
		}
		inside := solids.Cover(s.Position)
		if inside || g.Plane == room.Horizontal && nearRack(racks, s.Position) {
			p.Dropped = append(p.Dropped, s)
			p.Sampled = p.Sampled || !inside // what it leaves unread belongs to the area
		} else {
			p.Stations = append(p.Stations, s)
		}
	}
	if n := len(p.Dropped); n > 0 {
		p.Notes = append(p.Notes, Note{Code: PointsLeftOut, Of: g.Name, Count: n, All: n + len(p.Stations)})
	}
	return p
}

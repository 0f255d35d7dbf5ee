package interreflect

import (
	"context"
	"math"

	"lampswap/photometry/room"
)

// A tile is a rectangle of a grid's points: columns u0 to u1 and rows v0 to v1.
type tile struct{ u0, u1, v0, v1 int }

const (
	tileHeights = 3.0  // of the room: how long the first tiles are
	leastTile   = 3    // points from one end to the other, of which every one is gathered
	tileMisses  = 7e-4 // what interpolation may miss of the local value where it is checked
	// So many distances between its nodes a tile keeps away from racks, behind whose edges light changes faster.
	rackNears = 3
	perPatch  = 4 // checks, along a surface that is so near that its patches show
)

// tiles gathers the points of a grid where light changes from each to the next, and interpolates where it
// does not: large tiles first, by cubics through four points along each side, then the halves of those that a
// check finds wrong. Tiles that a rack comes near are halved until each point stands for itself. What one
// solution gets does not depend on the others.
func (o *emitters) tiles(ctx context.Context, g room.Grid, all [][]float64) error {
	t := &tiling{
		emitters: o,
		grid:     g,
		known:    make([]bool, g.NX*g.NY),
		gathered: make([][]float64, len(all)),
		all:      all,
	}
	for i := range o.boxes {
		if !g.OneSurface() || o.boxes[i].Ahead(g.Origin, g.Normal) {
			t.ahead = append(t.ahead, o.boxes[i].Box)
		}
	}
	open := make([][]tile, len(all))
	for k, first := range open {
		t.gathered[k] = make([]float64, g.NX*g.NY)
		open[k] = t.first(first)
	}
	for busy := true; busy; { // gather what all tiles ask for, then keep or halve each
		if err := t.gather(ctx, t.wanted(open)); err != nil {
			return err
		}
		busy = false
		for k, tiles := range open {
			open[k] = nil
			for _, c := range tiles {
				if alongU, alongV := t.misses(k, c); alongU || alongV {
					open[k] = t.halve(c, alongU, alongV, open[k])
				} else {
					t.fill(k, c)
				}
			}
			busy = busy || len(open[k]) > 0
		}
	}
	if o.enclosure.options.Progress != nil {
		o.enclosure.options.Progress(gathering, 1)
	}
	return nil
}

// A tiling is the work on one grid.
type tiling struct {
	*emitters
	grid     room.Grid
	ahead    []room.Box   // racks that do not lie behind it
	known    []bool       // which points are gathered,
	done     int          // how many
	gathered [][]float64  // their light, for each solution
	all      [][]float64  // the result
	weights  [][4]float64 // of a tile's columns
}

// first covers the grid with tiles that share their borders.
func (t *tiling) first(tiles []tile) []tile {
	longest := tileHeights * t.enclosure.room.Height
	us, vs := stops(t.grid.NX, longest/t.grid.StepX), stops(t.grid.NY, longest/t.grid.StepY)
	for j := range len(vs) - 1 {
		for i := range len(us) - 1 {
			tiles = t.free(tile{us[i], us[i+1], vs[j], vs[j+1]}, tiles)
		}
	}
	return tiles
}

// stops cuts n points in a row into stretches of so many at most, that share their ends.
func stops(n int, most float64) []int {
	parts := room.Cells(float64(n-1), most)
	all := make([]int, parts+1)
	for i := range all {
		all[i] = i * (n - 1) / parts
	}
	return all
}

// free appends a tile that no rack or surface comes near, or the parts of one that it does.
func (t *tiling) free(c tile, tiles []tile) []tile {
	nu, nv := c.u1-c.u0, c.v1-c.v0
	nearU, nearV := t.near(c)
	if nearU && nearV { // keep it about square
		nearU, nearV = nu > nv/2, nv > nu/2
	}
	nearU, nearV = nearU && nu > leastTile, nearV && nv > leastTile
	if !nearU && !nearV {
		return append(tiles, c)
	}
	return t.halve(c, nearU, nearV, tiles)
}

// halve appends the halves of a tile, along one side or both.
func (t *tiling) halve(c tile, alongU, alongV bool, tiles []tile) []tile {
	columns, rows := [][2]int{{c.u0, c.u1}}, [][2]int{{c.v0, c.v1}}
	if middle := (c.u0 + c.u1) / 2; alongU {
		columns = [][2]int{{c.u0, middle}, {middle, c.u1}}
	}
	if middle := (c.v0 + c.v1) / 2; alongV {
		rows = [][2]int{{c.v0, middle}, {middle, c.v1}}
	}
	for _, v := range rows {
		for _, u := range columns {
			tiles = t.free(tile{u[0], u[1], v[0], v[1]}, tiles)
		}
	}
	return tiles
}

// whole tells whether every point of a tile is gathered.
func (c tile) whole() bool { return max(c.u1-c.u0, c.v1-c.v0) <= leastTile }

// near tells along which sides of a tile its light may change from point to point: across surfaces so near
// that each of their patches shows, along both beside racks.
func (t *tiling) near(c tile) (alongU, alongV bool) {
	at := [4]room.Vec{
		t.grid.Point(c.u0, c.v0),
		t.grid.Point(c.u1, c.v0),
		t.grid.Point(c.u0, c.v1),
		t.grid.Point(c.u1, c.v1),
	}
	box := room.Box{Low: at[0], High: at[0]}
	for _, p := range at[1:] {
		box = box.With(p)
	}
	// surfaces of the room
	seen := t.enclosure.options.Patch / 2
	for i := range t.enclosure.faces[:roomFaces] {
		f := &t.enclosure.faces[i]
		near := min((along(box.Low, f.normal)-f.at)*f.sign, (along(box.High, f.normal)-f.at)*f.sign)
		if near >= seen || f.inward().Dot(t.grid.Normal) == 1 {
			continue
		}
		u, v := square1(along(t.grid.U, f.normal)), square1(along(t.grid.V, f.normal))
		alongU, alongV = alongU || !v, alongV || !u
	}
	// racks
	near := max(seen, rackNears*max(float64(c.u1-c.u0)*t.grid.StepX, float64(c.v1-c.v0)*t.grid.StepY)/leastTile)
	for i := range t.ahead {
		if t.ahead[i].Grown(room.Vec{X: near, Y: near, Z: near}).Meets(box) {
			return true, true
		}
	}
	return alongU, alongV
}

// A side is the points along one side of a tile through which its cubic runs: four, or all where there are
// fewer.
type side struct {
	n  int
	at [4]int
}

func sideOf(from, to int) side {
	n := to - from
	if n <= leastTile {
		return side{n + 1, [4]int{from, from + 1, from + 2, from + 3}}
	}
	return side{4, [4]int{from, from + (n+1)/3, to - (n+1)/3, to}}
}

// nodes are the points through which a tile's surface runs: columns and rows of them.
func (c tile) nodes() (us, vs side) { return sideOf(c.u0, c.u1), sideOf(c.v0, c.v1) }

// A check is a point of a tile at which gathered light is held against interpolated.
type check struct {
	u, v           int
	alongU, alongV bool // the sides along which it lies between nodes
}

// checks returns points between nodes, on the borders of a tile and in its middle.
func (t *tiling) checks(c tile) (all []check) {
	us, vs := c.nodes()
	var columns, rows []int
	for _, v := range [2]int{c.v0, c.v1} {
		columns = us.between(t.pitch(t.grid.Point(c.u0, v), t.grid.Point(c.u1, v), t.grid.StepX))
		for _, u := range columns {
			all = append(all, check{u, v, true, false})
		}
	}
	for _, u := range [2]int{c.u0, c.u1} {
		rows = vs.between(t.pitch(t.grid.Point(u, c.v0), t.grid.Point(u, c.v1), t.grid.StepY))
		for _, v := range rows {
			all = append(all, check{u, v, false, true})
		}
	}
	if len(columns) > 0 && len(rows) > 0 {
		all = append(all, check{columns[len(columns)/2], rows[len(rows)/2], true, true})
	}
	return all
}

// pitch returns how many points apart a line of them is checked: along a surface so near that its patches
// show, several times a patch; else 0, once between two nodes.
func (t *tiling) pitch(from, to room.Vec, step float64) int {
	patch := t.enclosure.options.Patch
	for i := range t.enclosure.faces[:roomFaces] {
		f := &t.enclosure.faces[i]
		off := max((along(from, f.normal)-f.at)*f.sign, (along(to, f.normal)-f.at)*f.sign)
		if off < patch/2 && f.inward().Dot(t.grid.Normal) != 1 {
			return max(1, int(patch/(perPatch*step)))
		}
	}
	return 0
}

// between returns places in every gap of a side: so far apart at most, or one near its middle, an odd number of
// points from its ends' first, so as not to fall into step with the patches.
func (s *side) between(pitch int) (places []int) {
	for i := range s.n - 1 {
		by := (s.at[i+1]-s.at[i])*2/5 | 1
		if pitch > 0 {
			by = min(by, pitch)
		}
		for x := s.at[i] + by; x < s.at[i+1]; x += by {
			places = append(places, x)
			if pitch == 0 {
				break
			}
		}
	}
	return places
}

// wanted returns the points, in order, that tiles need and that are not gathered yet.
func (t *tiling) wanted(open [][]tile) []int {
	need := make([]bool, len(t.known))
	for _, tiles := range open {
		for _, c := range tiles {
			us, vs := c.nodes()
			for _, v := range vs.at[:vs.n] {
				for _, u := range us.at[:us.n] {
					need[v*t.grid.NX+u] = true
				}
			}
			for _, p := range t.checks(c) {
				need[p.v*t.grid.NX+p.u] = true
			}
		}
	}
	var wanted []int
	for i := range need {
		if need[i] && !t.known[i] {
			wanted, t.known[i] = append(wanted, i), true
		}
	}
	return wanted
}

// gather gathers points by their numbers.
func (t *tiling) gather(ctx context.Context, wanted []int) error {
	light := make([][]float64, len(t.all))
	for k := range light {
		light[k] = make([]float64, len(wanted))
	}
	s := stage{
		gathering,
		float64(t.done) / float64(len(t.known)),
		float64(t.done+len(wanted)) / float64(len(t.known)),
	}
	t.done += len(wanted)
	err := t.points(ctx, len(wanted), s, light, func(i int) (p, normal room.Vec) {
		return t.grid.Point(wanted[i]%t.grid.NX, wanted[i]/t.grid.NX), t.grid.Normal
	})
	for k := range light {
		for i, at := range wanted {
			t.gathered[k][at] = light[k][i]
		}
	}
	return err
}

// misses tells along which sides the interpolation of a tile of one solution will not do.
func (t *tiling) misses(k int, c tile) (alongU, alongV bool) {
	us, _ := c.nodes()
	for _, p := range t.checks(c) {
		line, w, want := t.line(k, c, p.v), us.weights(p.u), t.gathered[k][p.v*t.grid.NX+p.u]
		if !(math.Abs(value(&line, &w)-want) <= tileMisses*want) { // not a number is wrong too
			alongU, alongV = alongU || p.alongU, alongV || p.alongV
		}
	}
	return alongU, alongV
}

// fill writes a tile of one solution.
func (t *tiling) fill(k int, c tile) {
	if width := t.grid.NX; c.whole() { // some may be inside racks
		for v := c.v0; v <= c.v1; v++ {
			copy(t.all[k][v*width+c.u0:v*width+c.u1+1], t.gathered[k][v*width+c.u0:])
		}
		return
	}
	us, _ := c.nodes()
	t.weights = t.weights[:0]
	for u := c.u0; u <= c.u1; u++ {
		t.weights = append(t.weights, us.weights(u))
	}
	for v := c.v0; v <= c.v1; v++ {
		line := t.line(k, c, v)
		for i := range t.weights {
			t.all[k][v*t.grid.NX+c.u0+i] = value(&line, &t.weights[i])
		}
	}
}

// line returns the light of those columns of a tile that are nodes, in one of its rows.
func (t *tiling) line(k int, c tile, v int) (line [4]float64) {
	us, vs := c.nodes()
	w := vs.weights(v)
	for j, row := range vs.at[:vs.n] {
		for i, u := range us.at[:us.n] {
			line[i] += w[j] * t.gathered[k][row*t.grid.NX+u]
		}
	}
	return line
}

// value is what the columns with given light and weights give.
func value(line, w *[4]float64) float64 {
	return max(0, line[0]*w[0]+line[1]*w[1]+line[2]*w[2]+line[3]*w[3])
}

// weights returns what each point of a side counts in the cubic at another.
func (s *side) weights(x int) [4]float64 {
	var nodes [4]float64
	for i, node := range s.at[:s.n] {
		nodes[i] = float64(node)
	}
	return lagrange(nodes[:s.n], float64(x))
}

// lagrange returns what the values at up to four nodes count in the polynomial through them at x (Lagrange's
// interpolation).
func lagrange(nodes []float64, x float64) (w [4]float64) {
	for k, node := range nodes {
		w[k] = 1
		for m, other := range nodes {
			if m != k {
				w[k] *= (x - other) / (node - other)
			}
		}
	}
	return w
}

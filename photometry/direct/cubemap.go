package direct

import (
	"math"
	"sync"

	"lampswap/photometry"
	"lampswap/photometry/internal/crew"
)

// A cubeMap is a distribution seen on a cube about the luminaire, so that a look-up needs one division and
// neither root nor angle. Of a direction (x, y, z) in the luminaire's frame, m is the largest coordinate by
// size and a, b are the other two; the value at u = a/m, v = b/m is
//
//	T = I / (1 + u² + v²)^(3/2), cd    so that    E = I facing / d³ = T facing / m³
//
// It is bilinear between nodes cubeStep apart: T bends by at most four times itself, which leaves less than
// 2e-4 of it, and so do the kinks of a table in steps of 5 degrees.
type cubeMap struct {
	panels [panels][]float64
}

// Panels: straight down, straight up, and the four sides, each below the horizontal and above it, as a table
// may end there.
const (
	nadir = iota
	zenith
	sideX
	sideY  = sideX + 4
	panels = sideY + 4
)

const (
	cubeNodes  = 96              // intervals of u from 0 to 1
	cubeStride = 2*cubeNodes + 2 // one more than the nodes from -1 to 1, for what rounding puts beyond
)

// nearest is how near a piece may come to a point before it counts as lying in it and gives no light, m:
// there is no direction then.
const nearest = 1e-9

func newCubeMap(d *photometry.Distribution) *cubeMap {
	c := &cubeMap{}
	symmetric := d.QuadrantSymmetric()
	var group crew.Group
	for p := range panels {
		if symmetric && p >= sideX && (p-sideX)&2 != 0 {
			continue // equals the opposite side
		}
		group.Go(func() error {
			c.panels[p] = fillPanel(d, p, symmetric)
			return nil
		})
	}
	_ = group.Wait() // none errs
	for p := sideX; p < panels; p++ {
		if c.panels[p] == nil {
			c.panels[p] = c.panels[p-2]
		}
	}
	return c
}

// cubeAngles are where the nodes of a quarter of a panel are seen, by row and column from the middle: the
// same of all distributions.
type cubeAngles struct {
	turn      [cubeNodes + 1]float64                // of a column of a side from its middle, rad: atan u
	elevation [cubeNodes + 1][cubeNodes + 1]float64 // of a node of a side above the horizontal, rad
	vertical  [cubeNodes + 1][cubeNodes + 1]float64 // of a node straight below from the nadir, rad
	azimuth   [cubeNodes + 1][cubeNodes + 1]float64 // of it from its row, rad
	share     [cubeNodes + 1][cubeNodes + 1]float64 // 1 / (1 + u² + v²)^(3/2)
}

var anglesOfCubes = sync.OnceValue(func() *cubeAngles {
	c := &cubeAngles{}
	for j := range c.share {
		for i := range c.share[j] {
			u, v := float64(i)/cubeNodes, float64(j)/cubeNodes
			square := 1 + u*u + v*v
			c.turn[i] = math.Atan(u)
			c.elevation[j][i] = math.Atan(v / math.Sqrt(1+u*u))
			c.vertical[j][i] = math.Atan(math.Sqrt(u*u + v*v))
			c.azimuth[j][i] = math.Atan2(v, u)
			c.share[j][i] = 1 / (square * math.Sqrt(square))
		}
	}
	return c
})

// node returns the direction of a node of a panel, rad, i columns and j rows from its middle, and (1 + u² +
// v²)^(-3/2) there.
func (c *cubeAngles) node(panel, i, j int) (horizontal, vertical, share float64) {
	right, up := i >= 0, j >= 0
	i, j = max(i, -i), max(j, -j)
	share = c.share[j][i]
	if panel < sideX {
		horizontal, vertical = c.azimuth[j][i], c.vertical[j][i]
		if !right {
			horizontal = math.Pi - horizontal
		}
		if !up {
			horizontal = -horizontal
		}
		if panel == zenith {
			vertical = math.Pi - vertical
		}
		return horizontal, vertical, share
	}
	if horizontal = c.turn[i]; !right {
		horizontal = -horizontal
	}
	if panel >= sideY {
		horizontal = math.Pi/2 - horizontal // u is x there
	}
	if (panel-sideX)&2 != 0 {
		horizontal = -horizontal
		if panel < sideY {
			horizontal += math.Pi
		}
	}
	if vertical = c.elevation[j][i]; !up {
		vertical = -vertical
	}
	return horizontal, math.Pi/2 + vertical, share
}

// extent returns the rows of a panel, and which of them is at v = 0.
func extent(panel int) (rows, middle int) {
	switch {
	case panel < sideX:
		return 2*cubeNodes + 1, cubeNodes
	case panel&1 == 0: // sides below the horizontal
		return cubeNodes + 1, cubeNodes
	}
	return cubeNodes + 1, 0
}

// fillPanel samples a panel; a symmetric one has u and, straight down or up, v mirrored.
func fillPanel(d *photometry.Distribution, panel int, symmetric bool) []float64 {
	rows, middle := extent(panel)
	values := make([]float64, (rows+1)*cubeStride)
	above := panel == zenith || panel >= sideX && panel&1 == 1
	angles := d.VerticalAngles()
	if above && angles[len(angles)-1] <= math.Pi/2 || !above && angles[0] > math.Pi/2 {
		return values
	}
	c := anglesOfCubes()
	for j := range rows {
		row := values[j*cubeStride : (j+1)*cubeStride]
		if symmetric && panel < sideX && j > cubeNodes {
			copy(row, values[(2*cubeNodes-j)*cubeStride:])
			continue
		}
		for i := range 2*cubeNodes + 1 {
			if symmetric && i > cubeNodes {
				row[i] = row[2*cubeNodes-i]
				continue
			}
			horizontal, vertical, share := c.node(panel, i-cubeNodes, j-middle)
			if above && j == middle && panel >= sideX { // a table that ends at the horizontal is dark just above it
				vertical += 1e-9
			}
			row[i] = d.Intensity(horizontal, vertical) * share
		}
		row[cubeStride-1] = row[cubeStride-2]
	}
	copy(values[rows*cubeStride:], values[(rows-1)*cubeStride:rows*cubeStride])
	return values
}

// panelOf returns the panel that a direction meets.
func panelOf(x, y, z float64) int {
	ax, ay, az := math.Abs(x), math.Abs(y), math.Abs(z)
	side, m := sideY, y
	switch {
	case az >= ax && az >= ay:
		if z > 0 {
			return zenith
		}
		return nadir
	case ax >= ay:
		side, m = sideX, x
	}
	if m < 0 {
		side += 2
	}
	if z > 0 {
		side++
	}
	return side
}

// light returns I/d³, cd/m³, for one direction from a piece to a point, m.
func (c *cubeMap) light(x, y, z float64) float64 {
	panel := panelOf(x, y, z)
	m, a, b := x, y, z
	switch {
	case panel < sideX:
		m, a, b = z, x, y
	case panel >= sideY:
		m, a = y, x
	}
	if math.Abs(m) < nearest {
		return 0
	}
	inverse := 1 / math.Abs(m)
	u, v := a*inverse*cubeNodes+cubeNodes, b*inverse*cubeNodes+rowShift(panel)
	return bilinear(c.panels[panel], u, v) * inverse * inverse * inverse
}

// rowShift is the row of a panel at v = 0.
func rowShift(panel int) float64 {
	if panel >= sideX && panel&1 == 1 {
		return 0
	}
	return cubeNodes
}

func bilinear(values []float64, u, v float64) float64 {
	iu, iv := int(u), int(v)
	fu, fv := u-float64(iu), v-float64(iv)
	at := iv*cubeStride + iu
	q := values[at : at+cubeStride+2]
	near := q[0] + fu*(q[1]-q[0])
	far := q[cubeStride] + fu*(q[cubeStride+1]-q[cubeStride])
	return near + fv*(far-near)
}

// add adds the illuminance, lx, of one piece to a row of points. It equals, point by point, weight * I *
// facing / d³ where facing > 0.
func (c *cubeMap) add(dst, at []float64, t *track) { c.stretch(dst, at[:len(dst)], t, 0, len(dst)) }

// stretch adds points from to to-1. The directions of a panel and those before the surface are convex: what
// holds for the first and the last point holds for all.
func (c *cubeMap) stretch(dst, at []float64, t *track, from, to int) {
	first, last := at[from], at[to-1]
	frontFirst, frontLast := t.facing+first*t.stepFacing > 0, t.facing+last*t.stepFacing > 0
	if !frontFirst && !frontLast {
		return
	}
	panel := t.panel(first)
	if frontFirst && frontLast && panel == t.panel(last) {
		c.run(dst, at, t, panel, from, to)
		return
	}
	middle := (from + to) / 2
	c.stretch(dst, at, t, from, middle)
	c.stretch(dst, at, t, middle, to)
}

func (t *track) panel(k float64) int { return panelOf(t.x+k*t.stepX, t.y+k*t.stepY, t.z+k*t.stepZ) }

// run adds points that see the piece through one panel and from the front.
func (c *cubeMap) run(dst, at []float64, t *track, panel, from, to int) {
	m, stepM, a, stepA, b, stepB := t.x, t.stepX, t.y, t.stepY, t.z, t.stepZ
	switch {
	case panel < sideX:
		m, stepM, a, stepA, b, stepB = t.z, t.stepZ, t.x, t.stepX, t.y, t.stepY
	case panel >= sideY:
		m, stepM, a, stepA = t.y, t.stepY, t.x, t.stepX
	}
	if panel == nadir || panel >= sideX && (panel-sideX)&2 != 0 {
		m, stepM = -m, -stepM
	}
	values, shift := c.panels[panel], rowShift(panel)
	at = at[from:to]
	dst = dst[from:to][:len(at)]
	facing, stepFacing := t.weight*t.facing, t.weight*t.stepFacing
	if stepM == 0 {
		if m < nearest {
			return
		}
		inverse := 1 / m
		cubed := inverse * inverse * inverse
		facing, stepFacing = facing*cubed, stepFacing*cubed
		inverse *= cubeNodes
		a, stepA, b, stepB = a*inverse+cubeNodes, stepA*inverse, b*inverse+shift, stepB*inverse
		for i, k := range at {
			u, v := a+k*stepA, b+k*stepB
			iu, iv := int(u), int(v)
			fu, fv := u-float64(iu), v-float64(iv)
			node := iv*cubeStride + iu
			q := values[node : node+cubeStride+2] // bilinear, inlined by hand
			near := q[0] + fu*(q[1]-q[0])
			far := q[cubeStride] + fu*(q[cubeStride+1]-q[cubeStride])
			dst[i] += (facing + k*stepFacing) * (near + fv*(far-near))
		}
		return
	}
	for i, k := range at {
		distance := m + k*stepM
		if distance < nearest {
			continue
		}
		inverse := 1 / distance
		u, v := (a+k*stepA)*inverse*cubeNodes+cubeNodes, (b+k*stepB)*inverse*cubeNodes+shift
		iu, iv := int(u), int(v)
		fu, fv := u-float64(iu), v-float64(iv)
		node := iv*cubeStride + iu
		q := values[node : node+cubeStride+2] // bilinear, inlined by hand
		near := q[0] + fu*(q[1]-q[0])
		far := q[cubeStride] + fu*(q[cubeStride+1]-q[cubeStride])
		dst[i] += (facing + k*stepFacing) * inverse * inverse * inverse * (near + fv*(far-near))
	}
}

package direct

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/integrate/quad"
)

const (
	pointRatio  = 20  // an extent below this part of the distance is one piece
	pieceRatio  = 5   // the five-times rule
	mostNodes   = 128 // along one dimension, however near the point is
	gaussOrder  = 12  // above it a rule is made of equal panels
	gaussPanels = 8   // nodes of such a panel
)

// A node is a piece of the interval 0 to 1: its place and its share; those of a rule are in order.
type node struct{ x, w float64 }

// rules holds the Gauss-Legendre rules of 1 to mostNodes nodes on 0 to 1.
var rules = sync.OnceValue(func() [][]node {
	all := make([][]node, mostNodes+1)
	for n := 1; n <= gaussOrder; n++ {
		all[n] = legendre(n)
	}
	panel := all[gaussPanels]
	for n := gaussOrder + 1; n <= mostNodes; n++ {
		panels := (n + gaussPanels - 1) / gaussPanels
		for p := range panels {
			for _, g := range panel {
				all[n] = append(all[n], node{(float64(p) + g.x) / float64(panels), g.w / float64(panels)})
			}
		}
	}
	return all
})

// chords holds the rules of 1 to mostNodes equal steps inside 0 to 1. As angles from end to end of a chord
// they are the Gauss-Chebyshev rule of the second kind: nodes cos(kπ/(n+1)), weights sin²(kπ/(n+1)) · 2/(n+1)
// of the area under a half circle.
var chords = sync.OnceValue(func() [][]node {
	all := make([][]node, mostNodes+1)
	for n := 1; n <= mostNodes; n++ {
		for k := 1; k <= n; k++ {
			all[n] = append(all[n], node{float64(k) / float64(n+1), 1 / float64(n+1)})
		}
	}
	return all
})

func legendre(n int) []node {
	if n == 1 {
		return []node{{0.5, 1}}
	}
	x, w := make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(x, w, 0, 1)
	nodes := make([]node, n)
	for i := range nodes { // an exactly symmetric rule, so that mirrored layouts give mirrored light
		j := n - 1 - i
		nodes[i] = node{(x[i] + 1 - x[j]) / 2, (w[i] + w[j]) / 2}
	}
	slices.SortFunc(nodes, func(a, b node) int { return cmp.Compare(a.x, b.x) })
	return nodes
}

// rounding is forgiven where a distance decides into how many pieces an opening is cut: feet and inches are
// no round meters.
const rounding = 1e-9

// pieces returns how many nodes an extent needs when its nearest point is at the distance, times the
// refinement.
func pieces(extent, distance float64, refine int) int {
	if extent == 0 {
		return 1
	}
	if extent*pointRatio <= distance+rounding {
		return 1
	}
	n := math.Ceil(extent*pieceRatio/distance - rounding)
	if !(n < mostNodes) { // also an opening that holds the point
		return mostNodes
	}
	return min(max(2, int(n))*refine, mostNodes)
}

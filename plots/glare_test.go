package plots_test

import (
	"bytes"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"

	"lampswap/plots"
)

// A plan of glare bears the ratings of each observer before and after, and says them to who cannot see it.
func TestGlare(t *testing.T) {
	g := plots.Glare{Title: "Invented room", Subtitle: "Glare by observer and direction", Extent: plots.Rect{X1: 12, Y1: 6}, Systems: []string{"existing", "proposed"}, Observers: []plots.Observer{
		{X: 1, Y: 3, Name: "bench", Kind: "observer", Ratings: []float64{23.44, 25.06}},
		{X: 12, Y: 3, Looking: math.Pi, Name: "door", Kind: "observer", Ratings: []float64{math.NaN(), 19}},
	}}
	assert.Equal(t, "Plan: Invented room. Unified glare rating existing / proposed: bench 23.4 / 25.1; door none / 19.0.", g.Describe())
	var svg bytes.Buffer
	require.NoError(t, plots.Write(&svg, g, "svg", 6*vg.Inch, 0))
	for _, text := range []string{"23.4 / 25.1", "none / 19.0", "observer (2)"} {
		assert.Contains(t, svg.String(), text)
	}
	assert.Greater(t, g.Height(6*vg.Inch), g.LeastHeight(6*vg.Inch))
}

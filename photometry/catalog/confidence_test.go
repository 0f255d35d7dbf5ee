package catalog

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// No reader sees a raw tag, and what rests on memory or on our own estimate says that it is unverified.
func TestConfidenceWords(t *testing.T) {
	for _, l := range Lamps() {
		assert.NotRegexp(t, `memory-|\bseen\b|^derived`, l.ConfidenceWords(), l.Name)
		assert.Equal(t, strings.Contains(l.Confidence, "memory"), strings.Contains(l.ConfidenceWords(), "from memory, unverified"), l.Name)
		for n := 1; n <= 4; n++ {
			for _, b := range BallastsFor(l, n) {
				assert.NotRegexp(t, `memory-|\b(seen|assumed|derived)\b`, b.ConfidenceWords(), b.Name)
				assert.Equal(t, b.FromMemory(), strings.Contains(b.ConfidenceWords(), "unverified"), b.Name)
			}
		}
	}
	for confidence, want := range map[string]string{
		"seen":                          "",
		"derived":                       "computed from published figures",
		"assumed":                       "our own estimate, unverified",
		"memory-moderate":               "from memory, unverified",
		"memory-low":                    "from memory, unverified, of low confidence: check before use",
		"initial seen; mean memory":     "initial published; mean from memory, unverified",
		"one figure seen; range memory": "one figure published; range from memory, unverified",
		"memory-moderate; least initial lumens derived from law": "from memory, unverified; least initial lumens derived from law",
	} {
		assert.Equal(t, want, confidenceWords(confidence))
	}
}

func TestBallastOrigin(t *testing.T) {
	b, ok := FindBallast(find(t, "F96T12"), 2, "magnetic")
	require.True(t, ok)
	assert.Equal(t, "f96t12-2-magnetic of the ballast list, from memory, unverified", b.Origin())
	b.Confidence = "seen"
	assert.Equal(t, "f96t12-2-magnetic of the ballast list", b.Origin())
}

package origin

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A digest depends on every input, on what each is, on where one ends, and on their order.
func TestWith(t *testing.T) {
	bare := Origin{Version: "v1.2.0", Digest: "abc"}
	seen := map[string]string{}
	for name, o := range map[string]Origin{
		"nothing":      bare,
		"empty":        bare.With("readings", nil),
		"a":            bare.With("readings", []byte("a")),
		"a, as noted":  bare.With("noted", []byte("a")),
		"a, b":         bare.With("readings", []byte("a")).With("readings", []byte("b")),
		"b, a":         bare.With("readings", []byte("b")).With("readings", []byte("a")),
		"ab":           bare.With("readings", []byte("ab")),
		"of other job": Origin{Digest: "abd"}.With("readings", []byte("a")),
	} {
		assert.Empty(t, seen[o.Digest], "%s", name)
		seen[o.Digest] = name
	}
	assert.Equal(t, bare.With("readings", []byte("a")), bare.With("readings", []byte("a")))
	assert.Len(t, bare.With("readings", nil).Digest, 64)
	assert.Equal(t, "v1.2.0", bare.With("readings", nil).Version)
}

func TestWords(t *testing.T) {
	longest := Origin{Version: "v0.0.0-20260430101112-0123456789ab+dirty 01234567"}.With("job", nil)
	assert.LessOrEqual(t, len(longest.Line()), 80)
	assert.Contains(t, longest.Line(), longest.Version+", inputs "+longest.Digest[:shown])
	assert.Contains(t, longest.Full(), longest.Version+", inputs sha256:"+longest.Digest)
	none := Origin{Version: "v1.2.0"}
	assert.Equal(t, []string{"lampswap v1.2.0", "lampswap v1.2.0", ""}, []string{none.Line(), none.Full(), none.Inputs()})
}

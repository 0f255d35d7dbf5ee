package form

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/page/tomltext"
)

// A job with groups has no field that would stand beside them: none of [layout], [existing], [proposed].
func TestGroupsHaveNoFields(t *testing.T) {
	text, err := tomltext.Read("[room]\nlength = 20\n[kinds.a]\nlamps = 2\n[[groups]]\nname = \"dock\"\n")
	require.NoError(t, err)
	parts := PartsOf(text, nil, nil)
	require.NotEmpty(t, FieldsOf(parts))
	for _, f := range FieldsOf(parts) {
		assert.NotRegexp(t, `^(layout|existing|proposed)\.`, f.Path)
	}
	assert.Contains(t, layoutNote(text), "groups of them; they are changed in the text")
}

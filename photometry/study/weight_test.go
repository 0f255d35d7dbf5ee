package study

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWeighed(t *testing.T) {
	assert.Equal(t, []string{
		"proposed: the light is not trusted: x",
		"proposed: spacing exceeds the spacing criterion along (1.5 over 1.2)",
		"existing: spacing exceeds the spacing criterion along (1.4 over 1.2)",
		"Warehouse: superseded",
		"existing, hall, shop; proposed: watts of b are from memory, unverified",
	}, Weighed([]string{
		"existing, hall: watts of b are from memory, unverified",
		"existing: spacing exceeds the spacing criterion along (1.4 over 1.2)",
		"existing, shop: watts of b are from memory, unverified",
		"proposed: watts of b are from memory, unverified",
		"proposed: spacing exceeds the spacing criterion along (1.5 over 1.2)",
		"Warehouse: superseded",
		"proposed: the light is not trusted: x",
	}))
}

// Words that weigh are words of warnings: whoever rewords one finds it here.
func TestWeightsAreWordsOfWarnings(t *testing.T) {
	var source strings.Builder
	require.NoError(t, filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || d.Name() == "weight.go" {
			return err
		}
		content, err := os.ReadFile(path) //nolint:gosec // our own sources
		source.Write(content)
		return err
	}))
	for _, words := range append(append([]string{}, weights...), light...) {
		assert.Contains(t, source.String(), words)
	}
}

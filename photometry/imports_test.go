package photometry_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const module = "lampswap/"

// What each room may import of ours. Arrows point down: ground, tables and methods, files in, conductor, figures, command.
// An entry changes in a commit of its own, with the reason.
var arrows = map[string][]string{
	// ground
	"photometry":                {},
	"photometry/room":           {},
	"photometry/diag":           {},
	"photometry/internal/table": {"photometry/diag"},
	// Reads a TOML file key by key, with places: shared by the rooms that read one, and nobody outside should build on it.
	"photometry/internal/tomlfile": {"photometry/diag"},

	// Keeps what was worked out by the digest of its inputs; lets goroutines work on one result. Neither knows of light.
	"photometry/internal/memo": {},
	"photometry/internal/crew": {},

	// tables, with photometry for its conversions of units
	"photometry/catalog": {"photometry", "photometry/diag", "photometry/internal/table"},
	"photometry/levels":  {"photometry", "photometry/diag", "photometry/internal/table"},
	// Power density by energy code, dated rules for lamps and ballasts: the law beside the levels.
	"photometry/codes": {"photometry", "photometry/internal/table"},
	// Prices of electricity and rates of CO2, place by place.
	"photometry/utility": {"photometry/internal/table"},

	// methods
	"photometry/losses": {"photometry", "photometry/diag", "photometry/internal/table"},
	// The constants of the published procedure are an embedded CSV with sources, as every table of a standard is.
	"photometry/cavity":       {"photometry", "photometry/internal/table"},
	"photometry/direct":       {"photometry", "photometry/room", "photometry/internal/crew"},
	"photometry/interreflect": {"photometry", "photometry/direct", "photometry/room", "photometry/internal/crew"},
	// Money over the years, by the federal measures; knows nothing of light.
	"photometry/lifecycle": {},

	// files in
	"photometry/lm63":    {"photometry", "photometry/diag"},
	"photometry/fixture": {"photometry", "photometry/diag", "photometry/internal/tomlfile"},
	// Files of readings may be in feet and footcandles: survey takes the conversions from photometry.
	"photometry/survey": {"photometry", "photometry/room", "photometry/diag", "photometry/internal/table"},
	"photometry/job": {"photometry", "photometry/room", "photometry/diag", "photometry/internal/tomlfile", "photometry/internal/memo",
		"photometry/catalog", "photometry/codes", "photometry/levels", "photometry/losses", "photometry/lm63", "photometry/fixture",
		"photometry/lifecycle", "photometry/utility"},

	// conductor, figures
	// Options are what the catalogue has for the job's cross-section, which may refuse lamps with a diag.List.
	"photometry/study": {"photometry", "photometry/room", "photometry/job", "photometry/levels", "photometry/catalog", "photometry/fixture", "photometry/diag",
		"photometry/losses", "photometry/cavity", "photometry/direct", "photometry/interreflect",
		"photometry/lifecycle", "photometry/utility", "photometry/codes", "photometry/survey", "photometry/internal/memo"},
	"plots": {"photometry", "photometry/room", "plots/internal/chart", "plots/internal/contour", "plots/internal/number", "plots/internal/palette",
		"plots/internal/paper", "plots/internal/pen", "plots/internal/place"},
	// Parts of figures that nobody outside should build on, each of one subject: axes of charts, geometry of lines between levels, numbers
	// as they are read, colours that stay apart, the paper formats, the one look of text and lines, and room for labels.
	"plots/internal/chart":   {"plots/internal/number", "plots/internal/pen"},
	"plots/internal/contour": {"photometry/room"},
	"plots/internal/number":  {},
	"plots/internal/palette": {"plots/internal/pen"},
	"plots/internal/paper":   {},
	"plots/internal/pen":     {},
	"plots/internal/place":   {"plots/internal/pen"},

	// command: all but what is internal
	"cmd/lampswap": {"photometry", "photometry/room", "photometry/diag", "photometry/catalog", "photometry/levels", "photometry/losses",
		"photometry/cavity", "photometry/direct", "photometry/interreflect", "photometry/lm63", "photometry/fixture", "photometry/survey",
		"photometry/job", "photometry/study", "photometry/lifecycle", "photometry/utility", "photometry/codes", "plots"},
}

// The arrows hold in every Go file but those of external tests (package x_test), which may bring rooms together.
func TestArrowsPointDown(t *testing.T) {
	files := 0
	err := filepath.WalkDir("..", func(path string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if name := entry.Name(); entry.IsDir() {
			if name == "testdata" || len(name) > 2 && strings.HasPrefix(name, ".") || strings.HasPrefix(name, "_") {
				return filepath.SkipDir
			}
			return nil
		}
		if filepath.Ext(path) != ".go" {
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		files++
		folder, err := filepath.Rel("..", filepath.Dir(path))
		if err != nil {
			return err
		}
		folder = filepath.ToSlash(folder)
		may, known := arrows[folder]
		if !known {
			t.Errorf("%s: the folder %s is not in the map of arrows", path, folder)
		}
		if strings.HasSuffix(path, "_test.go") && strings.HasSuffix(file.Name.Name, "_test") {
			return nil
		}
		for _, spec := range file.Imports {
			imported, err := strconv.Unquote(spec.Path.Value)
			if err != nil {
				return err
			}
			ours, ok := strings.CutPrefix(imported, module)
			if ok && !slices.Contains(may, ours) {
				t.Errorf("%s: %s may not import %s", path, folder, ours)
			}
		}
		return nil
	})
	require.NoError(t, err)
	require.NotZero(t, files, "the walk found no Go file")
}

// The map itself has no circle, and names only rooms that it knows.
func TestArrowsHaveNoCircle(t *testing.T) {
	const visiting, done = 1, 2
	state := map[string]int{}
	var visit func(room string)
	visit = func(room string) {
		require.NotEqual(t, visiting, state[room], "%s imports itself by a circle", room)
		if state[room] == done {
			return
		}
		state[room] = visiting
		for _, below := range arrows[room] {
			require.Contains(t, arrows, below, "imported by %s", room)
			visit(below)
		}
		state[room] = done
	}
	for room := range arrows {
		visit(room)
	}
}

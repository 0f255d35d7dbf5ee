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

const (
	module = "lampswap/"
	own    = "cmd/lampswap/internal/" // the command's rooms
)

// What each room may import of ours. Arrows point down: ground, tables and methods, files in, conductor, figures, command.
// An entry changes in a commit of its own, with the reason.
var arrows = map[string][]string{
	// ground
	"photometry/number":         {},
	"photometry":                {"photometry/number"},
	"photometry/room":           {},
	"photometry/diag":           {},
	"photometry/internal/table": {"photometry/diag"},
	// Reads a TOML file key by key, with places: shared by the rooms that read one, and nobody outside should build on it.
	"photometry/internal/tomlfile": {"photometry/diag"},

	// Keeps what was worked out by the digest of its inputs; lets goroutines work on one result. Neither knows of light.
	"photometry/internal/cover": {},
	"photometry/internal/memo":  {},
	"photometry/internal/crew":  {},

	// Tells tests how long they may take: every test may ask, and what draws jobs for them.
	"photometry/longtest": {},

	// The warehouse of the speed targets, which the benchmarks of both point methods share.
	"photometry/internal/hall": {"photometry", "photometry/room"},

	// tables, with photometry for its conversions of units
	"photometry/catalog": {"photometry", "photometry/number", "photometry/diag", "photometry/internal/table"},
	"photometry/levels":  {"photometry", "photometry/number", "photometry/diag", "photometry/internal/table"},
	// Power density by energy code, dated rules for lamps and ballasts: the law beside the levels.
	"photometry/codes": {"photometry", "photometry/internal/table"},
	// Kinds of space, which name rows of the levels and of the codes by their ids: what ties those together, and knows neither. It names what
	// may have been meant by an id that it does not have.
	"photometry/spaces": {"photometry", "photometry/diag", "photometry/internal/table"},
	// How amounts of money are written, currency by currency.
	"photometry/currency": {"photometry/number", "photometry/internal/table"},
	// Prices of electricity and rates of CO2, place by place.
	"photometry/utility": {"photometry/internal/table"},

	// methods
	"photometry/losses": {"photometry", "photometry/number", "photometry/diag", "photometry/internal/table"},
	// The constants of the published procedure are an embedded CSV with sources, as every table of a standard is.
	"photometry/cavity": {"photometry", "photometry/internal/table"},
	"photometry/direct": {"photometry", "photometry/room", "photometry/internal/crew"},
	// hall is for its benchmarks alone.
	"photometry/interreflect": {"photometry", "photometry/direct", "photometry/room", "photometry/internal/crew", "photometry/internal/hall"},
	// What luminaires do to an eye; the light that bounces to it is the caller's.
	"photometry/glare": {"photometry", "photometry/room"},
	// What a reading is worth and what it proves; knows nothing of where it was read.
	"photometry/metrology": {"photometry", "photometry/internal/table"},
	// Money over the years, by the federal measures; knows nothing of light.
	"photometry/lifecycle": {},

	// files in
	"photometry/lm63":    {"photometry", "photometry/diag"},
	"photometry/fixture": {"photometry", "photometry/diag", "photometry/internal/crew", "photometry/internal/tomlfile"},
	// Files of readings may be in feet and footcandles: survey takes the conversions from photometry. What it knows of an average's doubt
	// are lines of a budget.
	"photometry/survey": {"photometry", "photometry/room", "photometry/diag", "photometry/internal/table", "photometry/metrology"},
	"photometry/job": {"photometry", "photometry/number", "photometry/room", "photometry/diag", "photometry/internal/tomlfile", "photometry/internal/memo",
		"photometry/catalog", "photometry/codes", "photometry/levels", "photometry/losses", "photometry/lm63", "photometry/fixture",
		"photometry/lifecycle", "photometry/utility", "photometry/spaces", "photometry/glare"}, // of it who looks, and who does by rule

	// A building: what its rooms have in common, and the rooms, each of them a job.
	"photometry/building": {"photometry", "photometry/diag", "photometry/internal/tomlfile", "photometry/job"},

	// conductor
	// The light of one system of a job, by both methods and with its losses; and what jobs have in common of it.
	"photometry/lighting": {"photometry", "photometry/number", "photometry/room", "photometry/job", "photometry/levels", "photometry/losses", "photometry/cavity",
		"photometry/direct", "photometry/glare", "photometry/interreflect", "photometry/internal/memo"},
	// How far that light may be off: it lights the same rooms again with reflectances and heights moved, and knows of no verdict.
	"photometry/uncertainty": {"photometry", "photometry/number", "photometry/room", "photometry/job", "photometry/levels", "photometry/losses",
		"photometry/interreflect", "photometry/lighting", "photometry/internal/crew"},
	// The job worked out. The uncertainty that a job asks for is part of its Result.
	"photometry/study": {"photometry", "photometry/room", "photometry/job", "photometry/levels", "photometry/losses", "photometry/interreflect",
		"photometry/lifecycle", "photometry/utility", "photometry/catalog", "photometry/codes", "photometry/glare", "photometry/lighting", "photometry/uncertainty", "photometry/lm63"}, // cautions go by the type of an LED tube
	// What the catalogue has for the job's cross-section, which may refuse lamps with a diag.List; study prices it and compares.
	"photometry/options": {"photometry", "photometry/number", "photometry/job", "photometry/catalog", "photometry/codes", "photometry/diag", "photometry/fixture",
		"photometry/internal/cover", "photometry/internal/crew", "photometry/internal/memo", "photometry/losses", "photometry/interreflect", "photometry/lighting", "photometry/study"},
	// Readings held against a Result and its uncertainty.
	"photometry/verification": {"photometry", "photometry/job", "photometry/levels", "photometry/room", "photometry/losses", "photometry/survey",
		"photometry/metrology", "photometry/lighting", "photometry/uncertainty", "photometry/study"},
	// A building worked out: the study of each of its rooms, and of all of them together.
	"photometry/whole": {"photometry/building", "photometry/catalog", "photometry/codes", "photometry/fixture", "photometry/internal/crew", "photometry/job", "photometry/lifecycle", "photometry/lighting", "photometry/study"},
	// Power and hours that were read of a building, beside what was promised; it knows of no light.
	"photometry/realised": {"photometry/number", "photometry/building", "photometry/diag", "photometry/job", "photometry/study"},
	// What all of these find, in sentences: one room of words, above them, so that none of them has any.
	"photometry/wording": {"photometry", "photometry/number", "photometry/catalog", "photometry/codes", "photometry/currency",
		"photometry/glare", "photometry/internal/table", "photometry/job", "photometry/levels", "photometry/lighting",
		"photometry/losses", "photometry/options", "photometry/realised", "photometry/room",
		"photometry/study", "photometry/uncertainty", "photometry/utility", "photometry/whole",
		"photometry/metrology", "photometry/survey", "photometry/verification"},
	// The room of the tests of all of these.
	"photometry/internal/bay": {"photometry/job", "photometry/lighting", "photometry/study"},

	// figures
	"plots": {"photometry", "photometry/currency", "photometry/room", "plots/internal/chart", "plots/internal/contour", "photometry/number", "plots/internal/palette",
		"plots/internal/paper", "plots/internal/pen", "plots/internal/place"},
	// Parts of figures that nobody outside should build on, each of one subject: axes of charts, geometry of lines between levels, numbers
	// as they are read, colours that stay apart, the paper formats, the one look of text and lines, and room for labels.
	"plots/internal/chart":   {"photometry/number", "plots/internal/pen"},
	"plots/internal/contour": {"photometry/room"},
	"plots/internal/palette": {"plots/internal/pen"},
	"plots/internal/paper":   {},
	"plots/internal/pen":     {},
	"plots/internal/place":   {"plots/internal/pen"},

	// command: rooms of its own, bottom up; its main package only wires. What some of them import of jobs is for their tests alone.
	// what every room of it may say: which build, how it ends, in which units, how text is set, how files are written
	own + "build":    {},
	own + "notices":  {}, // of the modules that are part of the program
	own + "exit":     {"photometry/diag", "photometry/interreflect", "photometry/job", "photometry/lighting", own + "build"},
	own + "units":    {"photometry", "photometry/job", "photometry/levels", "photometry/currency"},
	own + "terminal": {"photometry/lighting", own + "exit"},
	own + "typeset":  {},
	own + "phrases":  {},                                // the words of an offer in each language
	own + "files":    {"photometry/diag", own + "exit"}, // what is refused before it is written is a wrong command line
	// which build made an answer, and what from: every kind of answer says it
	own + "origin": {own + "build"},
	// what comes with it and what there is to choose from
	own + "jobs":  {"photometry/building", "photometry/job", own + "exit"},
	own + "lists": {"photometry/number", "photometry/catalog", "photometry/codes", "photometry/levels", "photometry/spaces", own + "exit", own + "terminal"},
	// answers: tables and words, JSON, figures; one luminaire, places to measure. losses are for tests of the ledger.
	own + "ledger": {"photometry/building", "photometry/number", "photometry/catalog", "photometry/codes", "photometry/glare", "photometry/job", "photometry/levels", "photometry/lifecycle", "photometry/lighting", "photometry/losses",
		"photometry/metrology", "photometry/options", "photometry/realised", "photometry/whole", "photometry/room", "photometry/spaces", "photometry/study", "photometry/utility",
		"photometry/verification", own + "origin", own + "terminal", own + "units", "photometry/currency", "photometry/wording"},
	own + "answer": {"photometry/building", "photometry/glare", "photometry/job", "photometry/levels", "photometry/lighting", "photometry/metrology",
		"photometry/options", "photometry/realised", "photometry/whole", "photometry/room", "photometry/spaces", "photometry/study", "photometry/uncertainty",
		"photometry/verification", own + "ledger", own + "origin", own + "units", "photometry/wording"},
	own + "figures": {"photometry/job", "photometry/levels", "photometry/lifecycle", "photometry/lighting", "photometry/options",
		"photometry/room", "photometry/study", "photometry/whole", "plots", own + "files", own + "origin", own + "typeset", "photometry/wording"},
	own + "luminaire": {"photometry", "photometry/number", "photometry/catalog", "photometry/cavity", "photometry/diag", "photometry/fixture",
		"photometry/job", "photometry/lm63", "photometry/losses", "plots", own + "answer", own + "exit", own + "origin", own + "terminal"},
	own + "stations": {"photometry", "photometry/building", "photometry/job", "photometry/metrology", "photometry/room", "photometry/survey", "photometry/verification", "plots", own + "answer",
		own + "exit", own + "figures", own + "files", own + "ledger", own + "origin", own + "terminal", own + "units", "photometry/wording"},
	// the sheet of a walk through a building, and the building made of it
	own + "audit": {"photometry/number", "photometry/building", "photometry/diag", "photometry/fixture", "photometry/job", "photometry/levels", "photometry/room", "photometry/spaces", own + "units"},
	// documents and spreadsheets
	own + "document":      {"plots", own + "document/svg"},
	own + "document/svg":  {},
	own + "document/pdf":  {"plots", own + "document"},
	own + "document/html": {"plots", own + "document"},
	own + "proposal": {"photometry/number", "photometry/catalog", "photometry/codes", "photometry/glare", "photometry/job", "photometry/levels", "photometry/lighting", "photometry/losses",
		"photometry/options", "photometry/room", "photometry/study", "photometry/whole", "plots", own + "document", own + "document/html",
		own + "document/pdf", own + "figures", own + "jobs", own + "ledger", own + "origin", own + "phrases", own + "typeset", own + "units", "photometry/wording"},
	// the form on paper, and the report to sign
	own + "record": {"photometry", "photometry/number", "photometry/job", "photometry/levels", "photometry/metrology", "photometry/realised", "photometry/survey", "photometry/verification", "plots", own + "document",
		own + "figures", own + "files", own + "ledger", own + "origin", own + "proposal", own + "stations", own + "typeset", own + "units", "photometry/wording"},
	// building is for a test, of the demonstration's workbook
	own + "export": {"photometry", "photometry/number", "photometry/building", "photometry/job", "photometry/lighting", "photometry/whole", "photometry/room", "photometry/study", "plots",
		own + "document", own + "figures", own + "jobs", own + "ledger", own + "origin", own + "units", "photometry/wording"},
	// many jobs; the page, its parts before it
	own + "batch": {"photometry/building", "photometry/number", "photometry/whole", "photometry/diag", "photometry/job", "photometry/lighting", "photometry/study", own + "answer", own + "build",
		own + "exit", own + "export", own + "ledger", own + "files", own + "jobs", own + "origin", own + "terminal", "photometry/currency"},
	own + "page/tomltext": {},
	own + "page/plan":     {"photometry", "photometry/job", "photometry/room", own + "jobs", own + "page/tomltext"},
	// The page shows the signs of paper, as the proposal does: one look of a number on both.
	own + "page/length": {"photometry"},
	own + "page/form": {"photometry", "photometry/number", "photometry/catalog", "photometry/codes", "photometry/diag", "photometry/fixture", "photometry/job", "photometry/levels",
		"photometry/losses", "photometry/room", "photometry/spaces", own + "jobs", own + "lists", own + "page/length", own + "page/plan", own + "page/tomltext", own + "typeset"}, // jobs are for a test
	own + "page/workshop": {"photometry/building", "photometry/diag", "photometry/interreflect", "photometry/job", "photometry/lighting", "photometry/room",
		"photometry/study", "photometry/whole", own + "jobs", own + "page/tomltext"},
	own + "page/display": {"photometry", "photometry/number", "photometry/catalog", "photometry/glare", "photometry/job", "photometry/levels", "photometry/lighting",
		"photometry/metrology", "photometry/options", "photometry/room", "photometry/study", "photometry/survey", "photometry/verification", "photometry/whole", "plots",
		own + "figures", own + "jobs", own + "ledger", own + "page/form", own + "page/plan", own + "page/tomltext", own + "stations", own + "typeset",
		own + "units", "photometry/wording"},
	// Jobs, files and readings at random, for the tests of what is above.
	own + "drawn": {"photometry/codes", "photometry/levels", "photometry/spaces", "photometry/longtest"},
	// The same for jobs as the trade has them; job, lighting and study are for its test of their light.
	own + "ordinary": {"photometry/catalog", "photometry/fixture", "photometry/levels", "photometry/job", "photometry/lighting",
		"photometry/longtest", "photometry/study"},
	own + "page": {"photometry", "photometry/number", "photometry/building", "photometry/catalog", "photometry/diag", "photometry/fixture", "photometry/job", "photometry/levels", "photometry/lm63",
		"photometry/options", "photometry/study", "photometry/verification", "photometry/whole", "plots", own + "answer", own + "audit", own + "drawn", own + "exit",
		own + "export", own + "figures", own + "files", own + "jobs", own + "origin", own + "page/display", own + "page/form", own + "page/length", own + "page/plan", own + "page/tomltext",
		own + "page/workshop", own + "phrases", own + "proposal", own + "record", own + "stations", own + "typeset", own + "units"},
	// flags and commands; lm63 is for a test, of the files that fixture writes
	"cmd/lampswap": {"photometry", "photometry/number", "photometry/building", "photometry/catalog", "photometry/diag", "photometry/fixture", "photometry/interreflect",
		"photometry/job", "photometry/levels", "photometry/lighting", "photometry/lm63", "photometry/metrology",
		"photometry/options", "photometry/realised", "photometry/whole", "photometry/spaces", "photometry/study", "photometry/survey", "photometry/verification", "plots", own + "answer",
		own + "audit", own + "batch", own + "build", own + "document", own + "drawn", own + "exit", own + "export", own + "figures", own + "files", own + "jobs",
		own + "ledger", own + "lists", own + "luminaire", own + "notices", own + "ordinary", own + "origin", own + "page", own + "page/display", own + "page/tomltext", own + "phrases", own + "proposal", own + "record",
		own + "stations", own + "terminal", own + "typeset", own + "units"}, // display and typeset for its tests, of what page and paper say; tomltext as new turns the text of a job into groups
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
			if ours == "photometry/longtest" && strings.HasSuffix(path, "_test.go") {
				continue
			}
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

package main

import (
	"bytes"
	"maps"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	markup "golang.org/x/net/html"

	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/terminal"
	"lampswap/photometry/longtest"
)

// A usage is a word of the glossary in DEVELOPERS.md with what stands for it nowhere that a person reads.
type usage struct {
	word  string
	not   []string // regular expressions, whole words in any letter case; a blank is any white space
	label []string // the same where it is all that an element of a page or a figure says: a column, a line of a chart
	but   []string // where one of them may stand all the same: regular expressions, in which it means something else
}

// vocabulary is the glossary, row by row.
var vocabulary = []usage{
	{word: "existing, proposed, replacement", not: []string{"convert\\w*", "conversion", "leave as is", "new fixtures", "upgrade\\w*", "retrofits?", "baseline"},
		label: []string{"before", "after", "before the swap", "after the swap", "old", "new"},
		but: []string{"retrofit kits must be listed", "changes what the numbers mean; converts none", // of units
			`"name": "(convert in place|leave as is)"`}}, // older words that scripts may rely on
	{word: "swap", not: []string{"change-?over", "replacement of lamps"}},
	{word: "luminaire", not: []string{"light fittings?", "lighting fixtures?", "lamps in a fixture", "one fixture", "a fixture draws", "fixtures? in the room"}},
	{word: "group, kind", not: []string{"fixture types?", "luminaire types?", "zones? of luminaires", "dead luminaires?", "broken luminaires?"}},
	{word: "fixture", not: []string{"housings?", "bodies"}},
	{word: "lamp", not: []string{"bulbs?", "light sources?"}, but: []string{"own light source"}},
	{word: "ballast", not: []string{"control gear", "chokes?", "what feeds"}},
	{word: "input watts", not: []string{"wattage", "power of a luminaire", "input, W"},
		but: []string{"(full|reduced|rated) wattage", "full-wattage lamps", "of full wattage is out", "standard fixture wattage tables", "reduced-wattage"}}, // kinds of lamps, titles
	{word: "connected load", not: []string{"installed load", "total watts"}},
	{word: "initial, maintained", not: []string{"in-service", "end-of-life light", "when new"}},
	{word: "light loss factor", not: []string{"maintenance factors?", "derating", "depreciation factors?"}, but: []string{"room surface dirt depreciation factors"}}, // a title
	{word: "criterion, required", not: []string{"requirements?", "own rules?", "owner's rules?", "every level", "each level", "levels? asked", "asked for", "what is asked"},
		label: []string{"rule", "asked", "asked by", "target"}},
	{word: "met, missed, not proven", not: []string{"conforms?", "does not conform", "compl(y|ies|iant|iance)", "fulfil\\w*", "satisf\\w+", "violat\\w*", "not met"},
		but: []string{`"outcome": "(conforms|does not conform)"`, "date of compliance"}}, // older words that scripts may rely on; a law's date
	{word: "enough", not: []string{"adequate\\w*", "adequacy", "inadequate\\w*", "sufficient\\w*", "insufficient\\w*"}},
	{word: "level", not: []string{"lighting standards?", "recommended levels?"}},
	{word: "kind of space", not: []string{"space types?", "types? of space", "room types?"}},
	{word: "grid, point", not: []string{"places to look at", "calculation (area|field|surface)s?", "task areas?"}, label: []string{"place", "places", "where"},
		but: []string{"(indoor )?task areas?: 10 fc", "as the task"}}, // of a state's code
	{word: "work plane", not: []string{"task plane", "working plane"}},
	{word: "horizontal, vertical, cylindrical", not: []string{"semi-?cylindrical", "upright illuminance", "spatial illuminance"}},
	{word: "modeling ratio", not: []string{"modelling", "modeling index"}},
	{word: "observer, line of sight", not: []string{"viewers?", "onlookers?", "viewing directions?", "gaze"}},
	{word: "UGR, source, background", not: []string{"glare ind(ex|ices)", "glare values?", "glare scores?", "adaptation luminance"}},
	{word: "average, minimum, maximum", not: []string{"dimmest", "darkest", "brightest", "lowest point", "highest point", "mean illuminance"}},
	{word: "station, reading", not: []string{"measuring points?", "test points?", "measurement points?"}},
	{word: "unresolved, struck out", not: []string{"struck off", "voided"}},
	{word: "sample", not: []string{"spot checks?"}},
	{word: "direct, light that bounces", not: []string{"indirect", "interreflected", "inter-reflected", "bounced light"}, but: []string{"(semi-|direct-)indirect"}},
	{word: "rebate, line", not: []string{"incentives?", "subsid(y|ies)", "line items?"}},
	{word: "saving, payback", not: []string{"savings a year", "pay-back", "payoff", "break-?even", "pays (for itself|back)"}},
	{word: "money", not: []string{"USD", "dollars?", "euros?"}, but: []string{`currency\W+(value\W+)?USD`}}, // the key
	{word: "fc, lx, ft, m, °F, °C", not: []string{"foot-candles?", "foot candles?", "\\d+ lux", "\\d+ (feet|foot|footcandles)", "\\d+ met(er|re)s?", "deg(rees)? [CF]", "\\d C", "\\d F", "metres?", "colours?", "centres?"},
		but: []string{"[1-9]0+ square meters", "29 CFR 1910 Subparts D and F", "8-foot", "10-foot"}},
}

// found are the places where a text says a word of a thing by another; whole are the texts of elements, of a page or a figure.
func (u usage) found(text string, whole []string) []string {
	oneOf := func(before string, phrases []string, after string) *regexp.Regexp {
		return regexp.MustCompile("(?i)" + before + "(" + strings.ReplaceAll(strings.Join(phrases, "|"), " ", `\s+`) + ")" + after)
	}
	if len(u.but) > 0 {
		text = oneOf("", u.but, "").ReplaceAllString(text, "·")
	}
	var all []string
	for _, at := range oneOf(`(^|[^\p{L}\p{N}_-])`, u.not, `($|[^\p{L}\p{N}_-])`).FindAllStringIndex(text, -1) {
		all = append(all, strings.Join(strings.Fields(text[max(0, at[0]-40):min(len(text), at[1]+40)]), " "))
	}
	for _, said := range whole {
		if slices.ContainsFunc(u.label, func(label string) bool { return strings.EqualFold(label, said) }) {
			all = append(all, said)
		}
	}
	return all
}

// Nothing that a person reads says a thing in two ways.
func TestOneWordForOneThing(t *testing.T) {
	for name, text := range everythingSaid(t) {
		var whole []string
		if isMarkup(name) {
			whole = textsOf(t, text)
			text = strings.Join(whole, "\n")
			assert.NotRegexp(t, `>=|<=|W/(ft|m)2|\d x [A-Z]|(^|[ (])-\d`, text, "%s: the signs of a terminal", name)
		}
		for _, u := range vocabulary {
			for _, said := range u.found(text, whole) {
				t.Errorf("%s: %q, where the glossary has %q", name, said, u.word)
			}
		}
	}
}

func TestVocabularyFinds(t *testing.T) {
	criterion := usage{word: "criterion", not: []string{"own rules?", "conversion"}, label: []string{"rule"}, but: []string{"the conversion of units"}}
	assert.Len(t, criterion.found("the owner's own\n    Rule, and Conversion", nil), 2, "across lines, in any letter case")
	assert.Empty(t, criterion.found("no federal rule; own ruler; preconversion; the conversion\n  of units", nil), "whole words, and what is allowed")
	assert.Len(t, criterion.found("", []string{"Rule", "a rule"}), 1)
	assert.Equal(t, []string{"Existing", "≥ 10", "a plan"}, textsOf(t, `<style>.before{}</style><p>Existing <b> ≥ 10 </b></p><img alt="a plan"><script>after()</script>`))
}

// The words are those of the glossary, in its order.
func TestVocabularyIsTheGlossary(t *testing.T) {
	text, err := os.ReadFile("../../DEVELOPERS.md")
	require.NoError(t, err)
	_, rest, found := strings.Cut(string(text), "\n| word | means | key |\n| --- | --- | --- |\n")
	require.True(t, found)
	var glossary, tested []string
	for line := range strings.Lines(rest) {
		if !strings.HasPrefix(line, "| ") {
			break
		}
		glossary = append(glossary, strings.Split(line, " | ")[0][2:])
	}
	for _, u := range vocabulary {
		tested = append(tested, u.word)
	}
	assert.Equal(t, glossary, tested)
}

// everythingSaid is what all commands say of the demonstration job, and what is written for people to read; where there is little time, what
// takes next to none.
func everythingSaid(t *testing.T) map[string]string {
	t.Helper()
	said := map[string]string{}
	for _, name := range []string{"../../README.md", "../../DEVELOPERS.md", "internal/jobs/starter.toml"} {
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		said[filepath.Base(name)] = string(text)
	}
	everything, err := filepath.Abs("testdata/proposal-everything.toml")
	require.NoError(t, err)
	t.Chdir(demonstration(t))
	for _, words := range everyCommand(newRoot(), nil) {
		said[strings.Join(append(words, "--help"), " ")] = work(t, strings.Join(append(words, "--help"), " "))
	}
	lines := longtest.Pick([]string{"check", "check --full", "check parts-store.toml --format json", "stations parts-store.toml --grid all --output survey", "proposal --output plain.html",
		"fixture strip-4in --lamp F96T12", "lamps", "lamps T", "levels", "levels osha", "man pages"}, []string{"", "check", "check --full", "check parts-store.toml --format json", "check --format csv", "options --all", "options --format json", "stations parts-store.toml --grid all --output survey",
		"fixture strip-4in --lamp F96T12", "fixture strip-2x8ft-t12.ies", "lamps", "lamps T", "levels", "levels warehouse-active-bulky", "levels osha", "batch parts-store.toml --output out.jsonl",
		"plot --formats svg --output maps", "options --plot front.svg", "proposal --output plain.html", "proposal " + everything + " --output everything.html", "man pages"})
	for _, line := range lines {
		said[line] = work(t, line)
	}
	fillIn(t, filepath.Join("survey", "stations.csv"))
	for _, how := range longtest.Pick(nil, []string{"--system existing", "--system proposed", "--system proposed --format json"}) {
		line := "verify parts-store.toml survey/stations.csv --meter-class B --grid all " + how
		said[line] = work(t, line)
	}
	for _, pattern := range longtest.Pick([]string{"*.html", "survey/*.csv", "pages/*"}, []string{"*.html", "*.svg", "maps/*.svg", "survey/*.csv", "pages/*"}) {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, files, pattern)
		for _, name := range files {
			text, err := os.ReadFile(name)
			require.NoError(t, err)
			said[name] = string(text)
		}
	}
	page := openPage(t, "serve", "--port", "0")
	said["page.html"] = page.get("/")
	if longtest.On() {
		page.post("/stations", url.Values{"meter": {"B"}, "r:r1": {"20"}, "r:r2": {"30"}})
		said["page-stations.html"] = page.get("/stations?prove=1")
	}
	for _, line := range slices.Sorted(maps.Keys(said)) {
		if words := strings.Fields(line); !strings.Contains(line, " --format ") && len(words) > 0 && !strings.Contains(words[0], ".") {
			for row := range strings.Lines(said[line]) {
				assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimSuffix(row, "\n")), terminal.Width, "%s: %s", line, row)
			}
		}
	}
	return said
}

// demonstration is a folder with the demonstration job and its files.
func demonstration(t *testing.T) string {
	t.Helper()
	folder := t.TempDir()
	files, err := jobs.Demo.ReadDir("demo")
	require.NoError(t, err)
	for _, file := range files {
		content, err := jobs.Demo.ReadFile("demo/" + file.Name())
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(folder, file.Name()), content, 0o600))
	}
	return folder
}

func isMarkup(name string) bool {
	return !strings.Contains(name, " ") && (strings.HasSuffix(name, ".html") || strings.HasSuffix(name, ".svg"))
}

// textsOf are the texts of a page or a figure, element by element, and what is said in place of a picture.
func textsOf(t *testing.T, text string) []string {
	t.Helper()
	var all []string
	say := func(s string) {
		if s = strings.Join(strings.Fields(s), " "); s != "" {
			all = append(all, s)
		}
	}
	reader := markup.NewTokenizer(bytes.NewReader([]byte(text)))
	hidden := ""
	for kind := reader.Next(); kind != markup.ErrorToken; kind = reader.Next() {
		token := reader.Token()
		switch {
		case kind == markup.StartTagToken && (token.Data == "style" || token.Data == "script"):
			hidden = token.Data
		case kind == markup.EndTagToken && token.Data == hidden:
			hidden = ""
		case kind == markup.TextToken && hidden == "":
			say(token.Data)
		}
		for _, a := range token.Attr {
			if slices.Contains([]string{"alt", "aria-label", "label", "placeholder", "title"}, a.Key) {
				say(a.Val)
			}
		}
	}
	return all
}

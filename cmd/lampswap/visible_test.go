package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Nothing that a job says acts on a terminal, in whatever answer or fault: control characters and those that turn the order of what is read.
func TestNothingOfAJobActsOnATerminal(t *testing.T) {
	const acting = `\u001b[2J\u202e\u009b1m\u0007`
	t.Chdir(workplace(t))
	site := fileText(t, "site.toml")
	loud := strings.NewReplacer("site 12", "site "+acting, `"lease"`, `"lease `+acting+`"`).Replace(site) + "[[grids]]\nname = \"aisle " + acting +
		"\"\nfrom = [1.0, 1.0]\nto = [9.0, 1.0]\nheights = [1.0, 2.0]\nfacing = 90.0\nspacing = 1.0\n"
	write := func(name, text string) { require.NoError(t, os.WriteFile(name, []byte(text), 0o644)) }
	write("loud.toml", loud)
	write("loud\x1b[2J.toml", loud)
	write("wrong.toml", strings.Replace(loud, `"strip.ies"`, `"`+acting+`.ies"`, 1)+`"odd `+acting+`" = 1`+"\n[\"table "+acting+"\"]\n")
	write("readings\x1b[2J.csv", "station,reading_lx\nr\u202e1,300\n")
	write("strip\x1b[2J.ies", fileText(t, "strip.ies"))
	for _, line := range []string{"check loud.toml", "check loud.toml --format json", "check loud.toml --format csv", "check loud\x1b[2J.toml",
		"options loud.toml --lamp F32T8", "stations loud.toml", "stations loud.toml --format json", "stations loud.toml -o sur\x1b[2Jvey",
		"stations loud.toml --grid \x1b[2J", "plot loud.toml --formats svg -o ma\x1b[2Jps", "check loud.toml -o a\x1b[2J.txt",
		"batch loud.toml loud\x1b[2J.toml wrong.toml -o out.jsonl", "check wrong.toml", "check no\x1b[2Jne.toml", "check --fo\x1b[2Jrmat", "che\x1b[2Jck",
		"fixture strip\x1b[2J.ies", "fixture strip\x1b[2J.ies --format json", "verify site.toml readings\x1b[2J.csv --meter-class A",
		"check site.toml --grid \x1b[2J --format csv"} {
		var out, stderr bytes.Buffer
		run(strings.Fields(line), strings.NewReader(""), &out, &stderr)
		for _, said := range []string{out.String(), stderr.String()} {
			at := strings.IndexFunc(said, func(r rune) bool {
				return unicode.IsControl(r) && r != '\n' || unicode.Is(unicode.Bidi_Control, r)
			})
			assert.Negative(t, at, "%q: %.80q", line, said[max(0, at-40):])
		}
		assert.NotEmpty(t, out.String()+stderr.String(), line)
	}
	assert.Contains(t, work(t, "check loud.toml"), `site \x1b[2J\u202e\u009b1m\a`)
}

package main

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"encoding/json"
	"io"
	"maps"
	"net/url"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/build"
	"lampswap/photometry/longtest"
)

// origins are the questions that a workplace can be asked: what says whose digest is right, the inputs on which it depends, and the command
// lines that answer on standard output. The writers whose lines begin alike go with them.
var origins = []struct {
	json    string
	inputs  []string
	answers []string
	writers []string // their beginnings
}{
	{"check site.toml --format json", []string{"strip.ies", "site.toml"},
		[]string{"check site.toml", "check site.toml --format csv", "options site.toml --lamp F32T8", "options site.toml --lamp F32T8 --format json",
			"stations site.toml", "stations site.toml --format json"},
		[]string{"check ", "options ", "plot ", "proposal ", "stations ", "batch "}},
	{"verify site.toml readings.csv --meter-class A --format json", []string{"strip.ies", "site.toml", "readings.csv"},
		[]string{"verify site.toml readings.csv --meter-class A"}, []string{"verify "}},
	{"fixture tilted.ies --format json", []string{"lamp.tlt", "tilted.ies"}, []string{"fixture tilted.ies"}, []string{"fixture tilted.ies "}},
	{"fixture --section shop.toml --format json", []string{"shop.toml"}, []string{"fixture --section shop.toml"}, []string{"fixture --section "}},
}

// Every answer, on whatever paper, says which version made it and has the digest of its inputs, which changes with a byte of any of them. The
// same inputs elsewhere give the same bytes. Where there is little time, one picture stands for all, and HTML for PDF.
func TestEveryAnswerTellsItsOrigin(t *testing.T) {
	for _, q := range origins {
		lines := slices.Clone(q.answers)
		for _, w := range writers {
			slow := strings.HasPrefix(w, "plot ") || strings.HasPrefix(w, "options ") && !strings.Contains(w, ".svg") || strings.HasSuffix(w, ".pdf") && strings.HasPrefix(w, "proposal ")
			if (longtest.On() || !slow) && slices.ContainsFunc(q.writers, func(begins string) bool { return strings.HasPrefix(w, begins) }) {
				lines = append(lines, w)
			}
		}
		t.Chdir(workplace(t))
		digest := digestOf(t, q.json)
		first := answersOf(t, lines)
		for name, content := range first {
			tellsOrigin(t, name, content, digest)
		}
		t.Chdir(workplace(t))
		for name, content := range answersOf(t, lines) {
			assert.True(t, bytes.Equal(first[name], content), "%s: the same inputs give other bytes", name)
		}
		digests := []string{digest}
		for _, input := range q.inputs {
			text, err := os.ReadFile(input)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(input, append(text, '\n'), 0o644))
			digest = digestOf(t, q.json)
			assert.NotContains(t, digests, digest, "%s: another byte in %s", q.json, input)
			digests = append(digests, digest)
		}
		for name, content := range answersOf(t, lines) {
			tellsOrigin(t, name, content, digest)
			assert.NotContains(t, toldBy(t, name, content), digests[0][:12], name)
		}
	}
}

// digestOf is the digest of the inputs as the JSON answer tells it, with the version of this build.
func digestOf(t *testing.T, line string) string {
	t.Helper()
	var answer struct {
		Version string `json:"version"`
		Digest  string `json:"inputs_digest"`
	}
	require.NoError(t, json.Unmarshal([]byte(work(t, line)), &answer))
	assert.Equal(t, build.Version(), answer.Version)
	assert.Regexp(t, `^[0-9a-f]{64}$`, answer.Digest)
	return answer.Digest
}

// answersOf are the answers to command lines, by what they are named after, and the files that they write.
func answersOf(t *testing.T, lines []string) map[string][]byte {
	t.Helper()
	all := map[string][]byte{}
	for _, line := range lines {
		stdout := work(t, line)
		if !slices.Contains(writers, line) {
			all[line] = []byte(stdout)
			continue
		}
		written := filesAt(t, ".", target(line))
		assert.NotEmpty(t, written, line)
		maps.Copy(all, written)
	}
	return all
}

// tellsOrigin wants the version and the digest in an answer: whole where it is for machines, its first digits where it is for people.
func tellsOrigin(t *testing.T, name string, content []byte, digest string) {
	t.Helper()
	told := toldBy(t, name, content)
	assert.Contains(t, told, build.Version(), name)
	if path.Ext(name) == ".txt" || strings.Contains(name, " ") && !strings.Contains(name, "--format") {
		digest = digest[:12]
		lines := strings.Split(strings.TrimRight(told, "\n"), "\n")
		assert.Equal(t, "lampswap "+build.Version()+", inputs "+digest, lines[len(lines)-1], "%s: the last line", name)
		assert.Empty(t, lines[len(lines)-2], "%s: apart from the answer", name)
	}
	assert.Contains(t, told, digest, name)
	if path.Ext(name) == ".xlsx" {
		parts := unzipped(t, content)
		for _, part := range []string{"docProps/core.xml", "xl/sharedStrings.xml"} { // the properties and the sheets
			assert.Contains(t, parts[part], build.Version())
			assert.Contains(t, parts[part], digest)
		}
	}
}

// toldBy is all that a file tells in words, its properties too.
func toldBy(t *testing.T, name string, content []byte) string {
	t.Helper()
	switch path.Ext(name) {
	case ".png":
		var texts strings.Builder
		for rest := content[8:]; len(rest) > 0; {
			n := int(binary.BigEndian.Uint32(rest))
			if string(rest[4:8]) == "tEXt" {
				texts.Write(rest[8 : 8+n])
			}
			rest = rest[12+n:]
		}
		return texts.String()
	case ".pdf":
		return strings.NewReplacer(`\(`, "(", `\)`, ")").Replace(string(content))
	case ".xlsx", ".zip":
		return strings.Join(slices.Collect(maps.Values(unzipped(t, content))), "\n")
	}
	return string(content)
}

// unzipped are the texts of the files in an archive, by their names.
func unzipped(t *testing.T, archive []byte) map[string]string {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(archive), int64(len(archive)))
	require.NoError(t, err)
	all := map[string]string{}
	for _, f := range r.File {
		in, err := f.Open()
		require.NoError(t, err)
		text, err := io.ReadAll(in)
		require.NoError(t, err)
		all[f.Name] = toldBy(t, f.Name, text)
	}
	return all
}

// Every command is among those above, with every format that it has, or has no inputs to tell of.
func TestOriginsAreAll(t *testing.T) {
	var lines []string
	for _, q := range origins {
		lines = append(append(lines, q.json), q.answers...)
	}
	lines = append(lines, writers...)
	without := []string{"lamps", "levels", "man", "new", "completion", "help"}
	for _, c := range newRoot().Commands() {
		begins := func(more string) bool {
			return slices.ContainsFunc(lines, func(l string) bool { return strings.HasPrefix(l, c.Name()+" ") && strings.Contains(l+" ", more) })
		}
		if slices.Contains(without, c.Name()) || c.Name() == "serve" { // whose own test is below
			continue
		}
		assert.True(t, begins(""), c.Name())
		if c.Flags().Lookup("format") == nil {
			continue
		}
		words := flagWords[c.Name()+" --format"]
		if words == nil {
			words = flagWords["--format"]
		}
		for _, word := range words()[1:] { // the first is what a line without the flag gives
			assert.True(t, begins(" --format "+word+" "), "%s --format %s", c.Name(), word)
		}
	}
}

// The page says it at its foot, where readings are proven too, and so does every file that it gives away; another job, another digest.
func TestServeTellsItsOrigin(t *testing.T) {
	t.Chdir(workplace(t))
	digest := digestOf(t, "check site.toml --format json")
	page := openPage(t, "serve", "site.toml", "--port", "0")
	line := "lampswap " + build.Version() + ", inputs "
	assert.Contains(t, page.get("/"), line+digest[:12])
	assert.Contains(t, page.get("/stations"), line+digest[:12])
	links := regexp.MustCompile(`href="/take/([a-z.]+)" download data-take`).FindAllStringSubmatch(page.get("/"), -1)
	require.Len(t, links, 9)
	for _, what := range append(links, []string{"", "readings.csv"}) {
		if name := what[1]; name != "job.toml" && name != "job.zip" { // which are the inputs
			tellsOrigin(t, name, []byte(page.get("/take/"+name)), digest)
		}
	}
	readings := url.Values{"meter": {"A"}}
	for _, name := range regexp.MustCompile(`name="(r:[^"]+)"`).FindAllStringSubmatch(page.get("/stations"), -1) {
		readings.Set(name[1], "300")
	}
	page.post("/stations", readings)
	proof := page.get("/stations?prove=1")
	assert.Contains(t, proof, line)
	assert.NotContains(t, proof, digest[:12], "the readings are inputs of a proof")
	readings.Set("meter", "B")
	page.post("/stations", readings)
	assert.NotEqual(t, originIn(t, proof), originIn(t, page.get("/stations?prove=1")))
	page.post("/text", url.Values{"text": {quickSite(13, 4, false)}})
	assert.NotEqual(t, line+digest[:12], originIn(t, page.get("/")))
}

// originIn is the line at the foot of a page.
func originIn(t *testing.T, page string) string {
	t.Helper()
	found := regexp.MustCompile(`<p id="origin" data-live>([^<]+)</p>`).FindStringSubmatch(page)
	require.Len(t, found, 2)
	return found[1]
}

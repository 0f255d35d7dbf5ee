package main

import (
	"bytes"
	"io"
	"io/fs"
	"net"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
)

// refusals are command lines in a workplace with more names, see crowded, that would write over what they read, or where nothing can be
// written, with what is said of it. A ~ is a blank, an @ the folder's own path.
var refusals = []struct{ line, says string }{
	{"check site.toml -o site.toml", "lampswap: --output is site.toml, which this command reads (site.toml): want another name, nothing was written\n"},
	{"check site.toml -o ./sub/../site.toml", "which this command reads (site.toml)"},
	{"check site.toml -o @/site.toml", "which this command reads (site.toml)"},
	{"check @/site.toml -o site.toml", "--output is site.toml, which this command reads"},
	{"check site.toml -o link.toml", "--output is link.toml, which this command reads (site.toml)"},
	{"check link.toml -o site.toml", "--output is site.toml, which this command reads (link.toml)"},
	{"check site.toml -o hard.toml", "--output is hard.toml, which this command reads (site.toml)"},
	{"check site.toml -o SITE.toml", "--output is SITE.toml, which this command reads (site.toml)"},
	{"check site.toml -o here/back.toml", "which this command reads (site.toml)"},
	{"check site.toml --format json -o strip.ies", "--output is strip.ies, which this command reads (strip.ies)"},
	{"check site.toml --format xlsx -o linked.ies", "--output is linked.ies, which this command reads (strip.ies)"},
	{"check tilts.toml -o lamp.tlt", "--output is lamp.tlt, which this command reads (lamp.tlt)"},
	{"check sections.toml -o shop.toml", "--output is shop.toml, which this command reads (shop.toml)"},
	{"check - -o SITE.toml", "--output is SITE.toml, which this command reads"},
	{"options pictured.toml --plot strip.png", "--plot is strip.png, which this command reads (strip.png)"},
	{"plot mapped.toml -o .", "01-work-plane.png, which this command reads (01-work-plane.png)"},
	{"plot site.toml -o site.toml", "--output is site.toml, and site.toml is a file, want a folder"},
	{"plot site.toml -o site.toml/maps", "site.toml is a file, want a folder"},
	{"proposal site.html -o site.html", "--output is site.html, which this command reads (site.html)"},
	{"stations stations.csv -o .", "--output is stations.csv, which this command reads (stations.csv)"},
	{"stations site.toml -o readings.csv", "readings.csv is a file, want a folder"},
	{"stations site.toml -o filled", "has readings or notes on 2 of its lines, want another folder: --output is filled\n"},
	{"stations site.toml -o broken", "is there and is no empty form, want another folder: --output is broken\n"},
	{"verify site.toml deviations.png --meter-class A -o .", "deviations.png, which this command reads (deviations.png)"},
	{"verify site.toml readings.csv --meter-class A -o readings.csv", "readings.csv is a file, want a folder"},
	{"fixture tilted.ies -o tilted.ies", "--output is tilted.ies, which this command reads (tilted.ies)"},
	{"fixture strip.png -o strip.png", "--output is strip.png, which this command reads (strip.png)"},
	{"fixture tilted.png -o LAMP.png", "--output is LAMP.png, which this command reads (lamp.png)"},
	{"fixture --section shop.svg -o shop.svg", "--output is shop.svg, which this command reads (shop.svg)"},
	{"batch site.toml -o site.toml", "--output is site.toml, which this command reads (site.toml)"},
	{"batch sub -o sub/one.toml", "which this command reads (sub/one.toml)"},
	{"batch site.toml -o strip.ies", "--output is strip.ies, which this command reads (strip.ies)"},
	{"batch jobs.part -o jobs", "the journal of --output is jobs.part, which this command reads (jobs.part)"},
	{"check -o site.toml", "--output is site.toml, which is there and is a job or a cross-section: no answer replaces one, want another name"},
	{"check pictured.toml -o strip.ies", "--output is strip.ies, which is there and is a photometric file that lampswap did not write: no"},
	{"check site.toml -o lamp.tlt", "--output is lamp.tlt, which is there and is a tilt file"},
	{"check site.toml --format csv -o readings.csv", "--output is readings.csv, which is there and is a form for readings"},
	{"fixture strip-4in -o strip.ies", "--output is strip.ies, which is there and is a photometric file that lampswap did not write: no"},
	{"batch site.toml -o shop.toml", "--output is shop.toml, which is there and is a job or a cross-section"},
	{"batch - -o list.txt", "--output is list.txt, which this command reads (standard input)"},
	{"new site.toml", "site.toml is there already, want a new name"},
	{"man site.toml", "site.toml is a file, want a folder"},

	{"check site.toml -o nowhere/a.txt", "lampswap: --output is nowhere/a.txt, and there is no folder nowhere, want one that is there\n"},
	{"check site.toml -o nowhere/", "there is no folder nowhere"},
	{"check site.toml -o site.toml/a.txt", "site.toml is a file, want a folder"},
	{"check site.toml -o sub", "--output is sub, which is a folder, want a file"},
	{"proposal site.toml -o nowhere/a.pdf", "there is no folder nowhere"},
	{"options site.toml --plot nowhere/a.png", "--plot is nowhere/a.png, and there is no folder nowhere"},
	{"fixture strip.ies -o nowhere/a.png", "there is no folder nowhere"},
	{"batch site.toml -o nowhere/a.jsonl", "there is no folder nowhere"},
	{"new nowhere/a.toml", "there is no folder nowhere"},
}

// crowded is a workplace with the names that the refusals are about.
func crowded(t *testing.T) string {
	t.Helper()
	folder := workplace(t)
	at := func(name string) string { return filepath.Join(folder, name) }
	write := func(name, text string) {
		require.NoError(t, os.MkdirAll(filepath.Dir(at(name)), 0o755))
		require.NoError(t, os.WriteFile(at(name), []byte(text), 0o644))
	}
	site, strip := fileText(t, at("site.toml")), fileText(t, at("strip.ies"))
	naming := func(file string) string { return strings.ReplaceAll(site, "strip.ies", file) }
	write("tilts.toml", naming("tilted.ies"))
	write("pictured.toml", naming("strip.png"))
	write("mapped.toml", naming("01-work-plane.png"))
	write("sections.toml", strings.Replace(site, "photometry = \"strip.ies\"\ninput_watts = 120.0",
		"fixture = \"shop.toml\"\nlamp = \"F32T8/800\"\nlamps = 1\nballast_factor = 0.9\ninput_watts = 30.0", 1))
	for _, name := range []string{"strip.png", "01-work-plane.png"} {
		write(name, strip)
	}
	write("tilted.png", strings.Replace(strip, "TILT=NONE", "TILT=lamp.png", 1))
	write("lamp.png", fileText(t, at("lamp.tlt")))
	write("shop.svg", fileText(t, at("shop.toml")))
	for _, name := range []string{"site.html", "stations.csv", "jobs.part"} {
		write(name, site)
	}
	write("deviations.png", fileText(t, at("readings.csv")))
	write("sub/one.toml", site)
	write("list.txt", "site.toml\n")
	write("filled/stations.csv", "station,reading_lx,note\nr1,300,\nr2,,\nr3,,locked\n")
	write("broken/stations.csv", "station,reading_lx\nr1,31.5,31\n")
	for link, to := range map[string]string{"link.toml": "site.toml", "linked.ies": "strip.ies", "here": "sub", "sub/back.toml": "../site.toml"} {
		if err := os.Symlink(to, at(link)); err != nil {
			t.Skipf("no links here: %v", err)
		}
	}
	require.NoError(t, os.Link(at("site.toml"), at("hard.toml")))
	return folder
}

// What a command reads is never what it writes, by whatever spelling or link; and where nothing can be written is said before the work. All
// stays as it was.
func TestInputsAreSpared(t *testing.T) {
	folder := crowded(t)
	t.Chdir(folder)
	before := plainFiles(t, folder)
	for _, c := range refusals {
		var stdin *os.File
		switch {
		case strings.HasPrefix(c.line, "check - "):
			stdin = opened(t, "site.toml")
		case strings.HasPrefix(c.line, "batch - "):
			stdin = opened(t, "list.txt")
		}
		var out, stderr bytes.Buffer
		code := func() int {
			if stdin == nil {
				return run(wordsOf(strings.ReplaceAll(c.line, "@", folder)), strings.NewReader(""), &out, &stderr)
			}
			defer redirected(t, stdin)()
			return run(wordsOf(c.line), stdin, &out, &stderr)
		}()
		assert.Equal(t, exit.WrongInput, code, "%s: %s", c.line, stderr.String())
		assert.Contains(t, stderr.String(), c.says, c.line)
		assert.Empty(t, out.String(), c.line)
	}
	before.same(t, plainFiles(t, folder))
}

// plainFiles are the names in a folder and below, with the content of those that are plain files and no links.
func plainFiles(t *testing.T, folder string) tree {
	t.Helper()
	all := tree{}
	require.NoError(t, filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		all[path] = entry.Type().String()
		if err == nil && entry.Type().IsRegular() {
			all[path] = fileText(t, path)
		}
		return err
	}))
	return all
}

func opened(t *testing.T, path string) *os.File {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, f.Close()) })
	return f
}

// The refusals are of every command that can write.
func TestRefusalsAreAll(t *testing.T) {
	for _, line := range writers {
		name, _, _ := strings.Cut(line, " ")
		found := false
		for _, c := range refusals {
			found = found || strings.HasPrefix(c.line, name+" ")
		}
		assert.True(t, found, name)
	}
}

// An empty form gives way to a new one, and folders for several files are made.
func TestAnEmptyFormIsReplaced(t *testing.T) {
	t.Chdir(workplace(t))
	work(t, "stations site.toml --output made/and/made")
	first := fileText(t, "made/and/made/stations.csv")
	work(t, "stations site.toml --plan grid --output made/and/made")
	assert.NotEqual(t, first, fileText(t, "made/and/made/stations.csv"))
}

// Where a job waits on standard input and none is asked for, the demonstration says that it is one; a terminal, nothing, and a pipe that stays
// empty say nothing.
func TestTheDemonstrationSaysThatItIsOne(t *testing.T) {
	t.Chdir(workplace(t))
	const says = "lampswap: this is the demonstration job; what comes on standard input is not read. A job from there is named -\n"
	full, fullEnd, err := os.Pipe()
	require.NoError(t, err)
	_, err = fullEnd.WriteString("title = \"dock\"\n")
	require.NoError(t, err)
	empty, emptyEnd, err := os.Pipe()
	require.NoError(t, err)
	closed, closedEnd, err := os.Pipe()
	require.NoError(t, err)
	require.NoError(t, closedEnd.Close())
	read := opened(t, "site.toml")
	_, err = read.Seek(0, io.SeekEnd)
	require.NoError(t, err)
	for name, c := range map[string]struct {
		stdin io.Reader
		says  string
	}{
		"a file": {opened(t, "site.toml"), says}, "a pipe": {full, says}, "an empty pipe": {empty, ""}, "a closed one": {closed, ""},
		"nothing": {opened(t, os.DevNull), ""}, "a file that is read": {read, ""}, "no file": {strings.NewReader("title"), ""},
	} {
		var out, stderr bytes.Buffer
		run([]string{"stations"}, c.stdin, &out, &stderr)
		assert.Equal(t, c.says, stderr.String(), name)
		assert.NotEmpty(t, out.String(), name)
	}
	for _, f := range []*os.File{full, fullEnd, empty, emptyEnd, closed} {
		require.NoError(t, f.Close())
	}
}

// What is no plain file is refused at once, as whatever input of whatever command: to open a pipe that nobody writes to would wait for ever.
func TestPipesAndDevicesAreRefused(t *testing.T) {
	t.Chdir(workplace(t))
	require.NoError(t, syscall.Mkfifo("pipe", 0o644))
	require.NoError(t, syscall.Mkfifo("pipe.ies", 0o644))
	socket, err := new(net.ListenConfig).Listen(t.Context(), "unix", "socket")
	require.NoError(t, err)
	defer func() { require.NoError(t, socket.Close()) }()
	site := fileText(t, "site.toml")
	require.NoError(t, os.WriteFile("piped.toml", []byte(strings.ReplaceAll(site, "strip.ies", "pipe.ies")), 0o644))
	require.NoError(t, os.WriteFile("tilting.ies", []byte(strings.Replace(fileText(t, "strip.ies"), "TILT=NONE", "TILT=pipe", 1)), 0o644))
	for _, input := range []string{"pipe", "socket", "/dev/zero", "/dev/tty", "."} {
		for _, line := range []string{"check $", "options $", "plot $ -o maps", "proposal $ -o a.pdf", "stations $", "verify $ readings.csv --meter-class A",
			"verify site.toml $ --meter-class A", "fixture $", "fixture --section $", "batch $ -o out.jsonl", "serve $ --port 0"} {
			if input == "." && strings.HasPrefix(line, "batch") {
				continue // a folder of jobs
			}
			var out, stderr bytes.Buffer
			code := run(strings.Fields(strings.ReplaceAll(line, "$", input)), strings.NewReader(""), &out, &stderr)
			assert.Equal(t, exit.WrongInput, code, "%s %s", line, input)
			assert.Regexp(t, "is a pipe or a device, not a file|is a folder|no such device", stderr.String()+out.String(), "%s %s", line, input)
		}
	}
	for _, line := range []string{"check piped.toml", "fixture tilting.ies"} {
		_, stderr := command(t, exit.WrongInput, strings.Fields(line)...)
		assert.Contains(t, stderr, "not a", line)
	}
}

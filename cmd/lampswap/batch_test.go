package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/build"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/cmd/lampswap/internal/jobs"
)

// quickSite is an invented site that is worked out in some milliseconds.
func quickSite(length float64, rows int, bounces bool) string {
	return fmt.Sprintf(`title = "site %g"
units = "metric"
[room]
length = %g
width = 10.0
height = 5.0
[layout]
mounting_height = 4.0
rows = %d
columns = 3
[existing]
photometry = "strip.ies"
input_watts = 120.0
[proposed]
photometry = "strip.ies"
input_watts = 100.0
[calculation]
spacing = 1.0
interreflection = %v
[[criteria]]
name = "lease"
at_least = 100.0
`, length, length, rows, bounces)
}

// sites writes a folder of jobs: sound ones, one that is too dark, one with wrong input, and what is no job.
func sites(t *testing.T, sound int) string {
	t.Helper()
	folder := t.TempDir()
	strip, err := jobs.Demo.ReadFile("demo/strip-4x4ft-t8.ies")
	require.NoError(t, err)
	write := func(name, text string) {
		path := filepath.Join(folder, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	write("strip.ies", string(strip))
	write("b/strip.ies", string(strip))
	for i := range sound {
		write(fmt.Sprintf("a%02d.toml", i), quickSite(12+float64(i%5), 4, i%4 == 0))
	}
	write("b/dark.toml", quickSite(40, 1, false))
	write("b/wrong.toml", strings.NewReplacer("length = 13", "length = -13", "rows = 4", "rows = 0").Replace(quickSite(13, 4, false)))
	write("shop.toml", "name = \"shop\"\nunits = \"in\"\nluminous_length = 46.0\n[[arrangements]]\nlamps = [[0.0, 0.0]]\n")
	write(".hidden.toml", "x = 1")
	return folder
}

// command runs lampswap on no standard input and expects an exit code.
func command(t *testing.T, code int, args ...string) (stdout, stderr string) {
	t.Helper()
	var out, err bytes.Buffer
	require.Equal(t, code, run(args, strings.NewReader(""), &out, &err), "%s", err.String())
	return out.String(), err.String()
}

func fileText(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(text)
}

func TestBatch(t *testing.T) {
	folder := sites(t, 6)
	output := filepath.Join(t.TempDir(), "out.jsonl")
	stdout, stderr := command(t, exit.WrongInput, "batch", folder, "--output", output)
	assert.Equal(t, "lampswap: cross-sections of fixtures among the job files, left out: 1\n", stderr)
	assert.Contains(t, stdout, "8 jobs: 6 met every criterion, 1 missed one, 0 had none, 1 wrong input, 0 failed\n")
	assert.Contains(t, stdout, "b/wrong.toml: 4:10: room.length: is -13, want a length above 0 and up to 3000 m (and 1 more)")
	var files []string
	for line := range strings.Lines(fileText(t, output)) {
		var l map[string]any
		require.NoError(t, json.Unmarshal([]byte(line), &l))
		name := l["file"].(string)
		rel, err := filepath.Rel(folder, name)
		require.NoError(t, err)
		files = append(files, filepath.ToSlash(rel))
		assert.Len(t, l["digest"], 64)
		assert.Equal(t, build.Version(), l["version"])
		assert.Equal(t, []any{"strip.ies"}, l["inputs"])
		if errs, ok := l["errors"]; ok {
			assert.Len(t, errs, 2)
			assert.EqualValues(t, exit.WrongInput, l["exit"])
			assert.NotContains(t, l, "verdict")
			continue
		}
		var out, none bytes.Buffer
		code := run([]string{"check", "--format", "json", name}, nil, &out, &none)
		var alone map[string]any
		require.NoError(t, json.Unmarshal(out.Bytes(), &alone))
		assert.EqualValues(t, code, l["exit"])
		assert.Equal(t, l["digest"], l["inputs_digest"])
		for _, key := range []string{"file", "exit", "digest", "inputs"} {
			delete(l, key)
		}
		assert.Equal(t, alone, l, "the line is what check writes")
	}
	assert.Equal(t, []string{"a00.toml", "a01.toml", "a02.toml", "a03.toml", "a04.toml", "a05.toml", "b/dark.toml", "b/wrong.toml"}, files)
	assert.NoFileExists(t, output+".part")
	left, err := filepath.Glob(filepath.Join(filepath.Dir(output), ".lampswap-*"))
	require.NoError(t, err)
	assert.Empty(t, left)
}

func TestBatchOfAListOnStdin(t *testing.T) {
	folder := sites(t, 2)
	output := filepath.Join(t.TempDir(), "out.jsonl")
	list := strings.Join([]string{filepath.Join(folder, "b", "dark.toml"), "", filepath.Join(folder, "a01.toml") + "\r", filepath.Join(folder, "a01.toml"), "nowhere.toml"}, "\n")
	var out, stderr bytes.Buffer
	require.Equal(t, exit.WrongInput, run([]string{"batch", "-", "-o", output}, strings.NewReader(list), &out, &stderr))
	text := strings.Split(strings.TrimSpace(fileText(t, output)), "\n")
	require.Len(t, text, 4)
	assert.Equal(t, text[1], text[2])
	assert.Equal(t, `{"file":"nowhere.toml","exit":2,"digest":"","inputs":[],"version":"`+build.Version()+`","errors":["nowhere.toml: no such file or directory"]}`, text[3])
}

// Whatever the shards, their lines in turn are those of the whole, to the byte; so says the help, with paste.
func TestShardsAreTheWhole(t *testing.T) {
	folder, out := sites(t, 9), t.TempDir()
	whole := filepath.Join(out, "whole.jsonl")
	command(t, exit.WrongInput, "batch", folder, "-o", whole)
	for _, n := range []int{1, 2, 3, 16} {
		var parts []string
		var each [][]string
		for i := range n {
			part := filepath.Join(out, fmt.Sprintf("part-%d-%02d.jsonl", n, i))
			var none bytes.Buffer
			require.LessOrEqual(t, run([]string{"batch", folder, "-o", part, "--shard", fmt.Sprintf("%d/%d", i, n)}, nil, &none, &none), exit.WrongInput)
			parts = append(parts, part)
			each = append(each, strings.SplitAfter(fileText(t, part), "\n"))
		}
		var union strings.Builder
		for k := range each[0] {
			for _, lines := range each {
				if k < len(lines) {
					union.WriteString(lines[k])
				}
			}
		}
		assert.Equal(t, fileText(t, whole), union.String(), "%d shards", n)
		if paste, err := exec.LookPath("paste"); err == nil {
			pasted, err := exec.Command(paste, append([]string{"-d", `\n`}, parts...)...).Output()
			require.NoError(t, err)
			var kept strings.Builder
			for line := range strings.Lines(string(pasted)) {
				if strings.TrimSpace(line) != "" {
					kept.WriteString(line)
				}
			}
			assert.Equal(t, fileText(t, whole), kept.String(), "%d shards", n)
		}
	}
}

// Killed again and again at any moment, the batch loses no line, does none twice, and ends with the bytes of an undisturbed run.
func TestBatchGoesOnAfterAKill(t *testing.T) {
	lampswap, err := exec.LookPath("lampswap") // that testscript puts there: this test's own binary
	require.NoError(t, err)
	folder, out := sites(t, 40), t.TempDir()
	whole, output := filepath.Join(out, "whole.jsonl"), filepath.Join(out, "out.jsonl")
	summary, _ := command(t, exit.WrongInput, "batch", folder, "-o", whole)
	part := output + ".part"
	lines := func() int {
		text, _ := os.ReadFile(part)
		return bytes.Count(text, []byte("\n"))
	}
	kills := 0
	for wait := 3; wait < 30; wait += 9 {
		cmd := exec.Command(lampswap, "batch", folder, "-o", output)
		require.NoError(t, cmd.Start())
		ended := make(chan struct{})
		go func() {
			_ = cmd.Wait() // with the kill
			close(ended)
		}()
		before := lines()
		for running := true; running && lines() < before+wait; {
			select {
			case <-ended:
				running = false
			case <-time.After(time.Millisecond):
			}
		}
		if _, err := os.Stat(output); err == nil {
			break
		}
		require.NoError(t, cmd.Process.Kill())
		<-ended
		kills++
		assert.GreaterOrEqual(t, lines(), before, "what was there stays")
		f, err := os.OpenFile(part, os.O_APPEND|os.O_WRONLY, 0)
		require.NoError(t, err)
		_, err = f.WriteString(`{"file":"torn`)
		require.NoError(t, err)
		require.NoError(t, f.Close())
	}
	require.NotZero(t, kills)
	done := lines()
	again, stderr := command(t, exit.WrongInput, "batch", folder, "-o", output)
	assert.Contains(t, stderr, fmt.Sprintf("going on after %d of 42 jobs", done), "no whole line is done again")
	assert.Equal(t, fileText(t, whole), fileText(t, output))
	assert.Equal(t, summary, again, "the summary is of all jobs")
	assert.NoFileExists(t, part)
}

// A line that is kept holds as long as the inputs, the version and the program's own health are as they were.
func TestWhichLinesHold(t *testing.T) {
	folder, out := sites(t, 5), t.TempDir()
	whole, output := filepath.Join(out, "whole.jsonl"), filepath.Join(out, "out.jsonl")
	command(t, exit.WrongInput, "batch", folder, "-o", whole)
	lines := strings.SplitAfter(fileText(t, whole), "\n")
	marked := func(i int, old, mark string) string {
		require.Contains(t, lines[i], old)
		return strings.Replace(lines[i], old, mark, 1)
	}
	kept := []string{
		marked(0, `"title":"site 12"`, `"title":"kept"`),
		marked(1, `"title":"site 13"`, `"title":"of other inputs"`),
		marked(2, `"version":"`+build.Version(), `"version":"0.0`),
		marked(3, `"exit":0`, `"exit":3`),
		"\x00\x00 what a crash may leave\n",
		`{"file":"some other job","exit":0,"digest":"x","inputs":[],"version":"` + build.Version() + `"}` + "\n",
	}
	require.NoError(t, os.WriteFile(output+".part", []byte(strings.Join(kept, "")), 0o644))
	changed := quickSite(13, 5, false)
	require.NoError(t, os.WriteFile(filepath.Join(folder, "a01.toml"), []byte(changed), 0o644))
	_, stderr := command(t, exit.WrongInput, "batch", folder, "-o", output)
	assert.Contains(t, stderr, "going on after 1 of 7 jobs")
	got := strings.SplitAfter(fileText(t, output), "\n")
	assert.Equal(t, kept[0], got[0])
	assert.NotEqual(t, lines[1], got[1])
	assert.NotContains(t, got[1], "of other inputs")
	assert.Equal(t, lines[2:], got[2:])

	require.NoError(t, os.WriteFile(output+".part", []byte(strings.Join(lines, "")), 0o644))
	strip := filepath.Join(folder, "strip.ies")
	require.NoError(t, os.WriteFile(strip, []byte(fileText(t, strip)+"\n"), 0o644))
	_, stderr = command(t, exit.WrongInput, "batch", folder, "-o", output)
	assert.Contains(t, stderr, "going on after 2 of 7 jobs", "those in b have a strip.ies of their own")
}

// A job that takes too long costs a line too.
func TestATimeoutCostsALine(t *testing.T) {
	folder := sites(t, 1)
	output := filepath.Join(t.TempDir(), "out.jsonl")
	command(t, exit.Failed, "batch", filepath.Join(folder, "a00.toml"), "-o", output, "--timeout", "1us")
	assert.Contains(t, fileText(t, output), `"errors":["it takes longer than 1µs (--timeout)"]`)
}

type faultyReader struct{}

func (faultyReader) Read([]byte) (int, error) { panic("the reader is broken") }

// No panic reaches the user as such.
func TestPanicAtTheTop(t *testing.T) {
	var out, stderr bytes.Buffer
	code := run([]string{"batch", "-", "-o", filepath.Join(t.TempDir(), "out.jsonl")}, faultyReader{}, &out, &stderr)
	assert.Equal(t, exit.Failed, code)
	assert.Empty(t, out.String())
	assert.Contains(t, stderr.String(), "lampswap: a fault of lampswap itself: the reader is broken; please report it")
	assert.Contains(t, stderr.String(), "faultyReader", "with where it came from")
}

// The same input gives the same bytes on any number of processors.
func TestProcessorsDoNotShow(t *testing.T) {
	folder, out := sites(t, 6), t.TempDir()
	racks := filepath.Join(folder, "racks.toml")
	require.NoError(t, os.WriteFile(racks, []byte(quickSite(12, 4, true)+"[[racks]]\ncorner = [2.0, 2.0]\nsize = [6.0, 1.0, 2.5]\nrepeat = { count = 2, step = [0.0, 4.0] }\n"), 0o644))
	before := runtime.GOMAXPROCS(0)
	defer runtime.GOMAXPROCS(before)
	var batches, checks []string
	for _, n := range []int{1, 4} {
		runtime.GOMAXPROCS(n)
		output := filepath.Join(out, fmt.Sprintf("%d.jsonl", n))
		command(t, exit.WrongInput, "batch", folder, "-o", output)
		batches = append(batches, fileText(t, output))
		for _, args := range [][]string{{racks}, {filepath.Join(folder, "a00.toml")}, {}} {
			text, _ := command(t, exit.Done, append([]string{"check", "--format", "json", "--points"}, args...)...)
			checks = append(checks, text)
		}
	}
	assert.True(t, batches[0] == batches[1])
	for i := range checks[:3] {
		assert.True(t, checks[i] == checks[i+3], "check %d", i)
	}
}

// Memory is shared: jobs that take more than there is run one at a time, and all are done.
func TestBatchWithLittleMemory(t *testing.T) {
	folder := sites(t, 5)
	output := filepath.Join(t.TempDir(), "out.jsonl")
	command(t, exit.WrongInput, "batch", folder, "-o", output, "--memory", "1", "--workers", "4")
	assert.Equal(t, 7, strings.Count(fileText(t, output), "\n"))
}

package batch

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/build"
	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
)

func TestBatchIsInterrupted(t *testing.T) {
	paths := writeSites(t, 3, 3, false)
	output := filepath.Join(t.TempDir(), "out.jsonl")
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	err := Run(ctx, Options{Output: output, Memory: 100, Timeout: time.Minute}, paths, nil, io.Discard, io.Discard)
	require.EqualError(t, err, "interrupted; what is done is kept in "+output+".part: the same command goes on from there")
	assert.Equal(t, exit.Failed, exit.Report(err, io.Discard))
	assert.NoFileExists(t, output)
	assert.FileExists(t, output+".part")
}

func TestTwoRunsOfOneOutput(t *testing.T) {
	paths := writeSites(t, 1, 1, false)
	opts := Options{Output: filepath.Join(t.TempDir(), "out.jsonl"), Memory: 100, Timeout: time.Minute}
	j, err := openJournal(opts.Output + ".part")
	require.NoError(t, err)
	err = Run(t.Context(), opts, paths, nil, io.Discard, io.Discard)
	require.ErrorContains(t, err, "out.jsonl.part: another run writes it")
	assert.Equal(t, exit.WrongInput, exit.Report(err, io.Discard))
	require.NoError(t, j.close())
	err = Run(t.Context(), opts, paths, nil, io.Discard, io.Discard)
	assert.Less(t, exit.Report(err, io.Discard), exit.WrongInput, "%v", err)
	assert.FileExists(t, opts.Output)
}

// A fault of lampswap itself costs one line, and is told with where it came from.
func TestAPanicCostsALine(t *testing.T) {
	paths := writeSites(t, 3, 3, false)
	b := newPool(Options{Workers: 2, Memory: 1, Timeout: time.Minute})
	whole := b.study
	b.study = func(ctx context.Context, j *job.Job) (*study.Result, error) {
		if strings.HasPrefix(j.Title, "site 81 ") {
			panic("no such lamp")
		}
		return whole(ctx, j)
	}
	got := make([]summaryLine, 3)
	require.NoError(t, b.do(t.Context(), paths, []int{0, 1, 2}, func(i int, line []byte) error { return json.Unmarshal(line, &got[i]) }, func() error { return nil }))
	assert.Equal(t, exit.Failed, got[1].Exit)
	assert.Less(t, max(got[0].Exit, got[2].Exit), exit.WrongInput, "the others are done")
	assert.Equal(t, []string{"a fault of lampswap itself: no such lamp; please report it with the job's files, this message and the version (" + build.Version() + ")"}, got[1].Errors)
}

// A panic of what keeps the lines, in a goroutine of its own, ends the batch with code 3, and says so.
func TestAPanicEndsABatch(t *testing.T) {
	paths := writeSites(t, 3, 3, false)
	err := newPool(Options{Workers: 2, Memory: 1, Timeout: time.Minute}).do(t.Context(), paths, []int{0, 1, 2},
		func(int, []byte) error { panic("no such line") }, func() error { return nil })
	var told bytes.Buffer
	assert.Equal(t, exit.Failed, exit.Report(err, &told))
	assert.Contains(t, told.String(), "lampswap: a fault of lampswap itself: no such line; please report it with the job's files, this message and the version ("+
		build.Version()+")\ngoroutine ")
	told.Reset()
	assert.Equal(t, exit.Failed, exit.Report(unfinished(t.Context(), err, "out.jsonl"), &told))
	assert.Contains(t, told.String(), "; what is done is kept in out.jsonl.part: the same command goes on from there\n")
}

func TestSummaryOfMargins(t *testing.T) {
	s := &summary{}
	for i := range 30 {
		margin := fmt.Sprintf("%.2f", 0.5-float64(i%15)/10)
		if i == 20 {
			margin = "null"
		}
		s.add([]byte(fmt.Sprintf(`{"file":"%d","exit":1,"criteria":[{"name":"n","grid":"g","statistic":"average","proposed_met":false,"proposed_margin":%s}]}`, i, margin)))
	}
	s.add([]byte(`{"file":"31","exit":0,"criteria":[{"name":"n","grid":"g","statistic":"average","proposed_met":true,"proposed_margin":null}]}`))
	s.add([]byte(`{"file":"32","exit":0,"criteria":[]}`))
	s.add([]byte("no line"))
	var order []string
	for _, m := range s.margins {
		order = append(order, m.job)
	}
	assert.Equal(t, []string{"20", "14", "29", "13", "28", "12", "27", "11", "26", "10"}, order)
	assert.Equal(t, []int{33, 1, 30, 1, 0, 1}, []int{s.jobs, s.met, s.missed, s.withoutCriteria, s.wrong, s.broken})
	assert.Equal(t, exit.Failed, s.worst)
}

// Money of several currencies is not added up.
func TestSummaryOfMoney(t *testing.T) {
	s := &summary{}
	line := func(money string) {
		s.add([]byte(`{"file": "a.toml", "energy": {"existing_kw": 2, "proposed_kw": 1, ` + money + `}}`))
	}
	line(`"saving_per_year": 1000, "currency": "USD"`)
	line(`"saving_per_year": 500, "currency": "USD"`)
	line(`"saving_per_year": null, "currency": "CAD"`)
	var out strings.Builder
	s.write(&out)
	assert.Contains(t, out.String(), "Saving a year, as far as it is priced (2 jobs): $1,500\n")
	line(`"saving_per_year": 70, "currency": "CAD"`)
	line(`"saving_per_year": 3, "currency": null`)
	out.Reset()
	s.write(&out)
	assert.Contains(t, strings.ReplaceAll(out.String(), "\n", " "), "(4 jobs): 3 in a currency not named, CA$70, $1,500 ")
	assert.Contains(t, out.String(), "Load as found, and set, kW: existing 10.0, proposed 5.0;")
}

// A cross-section beside the jobs is told from a job by its tables, and a file of very many keys takes no time.
func TestSectionsAreNoJobs(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.toml")
	for text, want := range map[string]bool{
		"name = \"shop\"\n[[arrangements]]\nlamps = [[0, 0]]\n": true,
		"surfaces = []\n":                 true,
		"[[surfaces]]\n[room]\n":          false,
		"room.length = 1\n[[surfaces]]\n": false,
		"[existing]\narrangements = 1\n":  false,
		"[other]\nsurfaces = 1\n":         false,
		"[[surfaces]]\nx = \n":            false, // whose fault is to be told
		"":                                false,
		strings.Repeat("a = 1\n", 1_000_000) + "[[surfaces]]\n": true,
	} {
		require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
		assert.Equal(t, want, isSection(path), "%.60q", text)
	}
}

func TestBatchErrorsAreTold(t *testing.T) {
	assert.Equal(t, exit.NotMet, exit.Report(codeError{exit.NotMet}, io.Discard))
	assert.ErrorContains(t, codeError{exit.NotMet}, "code 1")
}

// siteText is an invented site: a room of the given length, computed fixtures, lamps of given lumens.
func siteText(length, lumens float64, racks bool) string {
	text := fmt.Sprintf(`title = "site %g %g"
[room]
length = %.3f
width = 60.0
height = 18.0
[layout]
mounting_height = 16.0
rows = 5
columns = 8
[existing]
fixture = "strip-5in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[proposed]
fixture = "strip-4in"
lamp = "F32T8/800"
lamp_lumens = %.3f
lamps = 2
ballast = "is-normal"
[[criteria]]
level = "warehouse-active-bulky"
`, length, lumens, length, lumens)
	if racks {
		text += "[[racks]]\ncorner = [10.0, 8.0]\nsize = [60.0, 4.0, 12.0]\nrepeat = { count = 3, step = [0.0, 16.0] }\n"
	}
	return text
}

// writeSites writes n sites to a folder, of so many rooms.
func writeSites(tb testing.TB, n, rooms int, racks bool) []string {
	tb.Helper()
	folder := tb.TempDir()
	var paths []string
	for i := range n {
		path := filepath.Join(folder, fmt.Sprintf("%03d.toml", i))
		require.NoError(tb, os.WriteFile(path, []byte(siteText(80+float64(i%rooms), 2800+float64(i%7), racks)), 0o644))
		paths = append(paths, path)
	}
	return paths
}

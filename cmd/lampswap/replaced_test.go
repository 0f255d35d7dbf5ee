package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/photometry/number"
)

// replacedSites writes a job that compares a replacement with all else that a job may have, and a building of two such spaces, and goes there.
func replacedSites(t *testing.T) {
	t.Helper()
	text, err := os.ReadFile("testdata/proposal-everything.toml")
	require.NoError(t, err)
	job := string(text) + "\n[[observers]]\nname = \"bench\"\nat = [5.0, 25.0]\nlooking = 0.0\n[[criteria]]\nstatistic = \"ugr\"\nat_most = 22.0\nname = \"glare\"\n"
	job = strings.ReplaceAll(strings.Replace(job, "is-normal", "is-low", 1), "way out", "exit")
	job = strings.Replace(job, "height = 16.0", "height = 16.0\nspace = \"warehouse-bulky\"", 1)
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("three.toml", []byte(job), 0o644))
	plain, _, _ := strings.Cut(job, "[uncertainty]") // of a building's space: no money, and none of its doubt
	plain += "[[criteria]]\nlevel = \"warehouse-active-bulky\"\n"
	require.NoError(t, os.WriteFile("hall.toml", []byte(plain), 0o644))
	building := "title = \"Two halls\"\nunits = \"imperial\"\nstate = \"OH\"\n[energy]\nprice_per_kwh = 0.1\n[costs]\nlines = [[\"all\", 900.0]]\n[costs.replacement]\ninstalled_cost = 2000.0\n" +
		"[[spaces]]\nname = \"north\"\njob = \"hall.toml\"\n[[spaces]]\nname = \"south\"\ncopies = 2\njob = \"hall.toml\"\n"
	require.NoError(t, os.WriteFile("halls.toml", []byte(building), 0o644))
}

// Wherever an answer tells of the existing and of the proposed system it tells of the replacement: each command, with a number that is the
// replacement's alone.
func TestTheReplacementStandsInEveryAnswer(t *testing.T) {
	replacedSites(t)
	average := func(line string) (all [3]string) {
		var answer struct {
			Existing, Proposed, Replacement struct{ Grids []struct{ Average float64 } }
		}
		require.NoError(t, json.Unmarshal([]byte(work(t, line)), &answer))
		for i, system := range []struct{ Grids []struct{ Average float64 } }{answer.Existing, answer.Proposed, answer.Replacement} {
			require.NotEmpty(t, system.Grids)
			all[i] = number.Digits(system.Grids[0].Average)
		}
		return all
	}
	light := average("check three.toml --format json")
	require.Len(t, slices.Compact(slices.Sorted(slices.Values(light[:]))), 3, "three averages that a reader tells apart: %v", light)
	require.Equal(t, exit.NotMet, run(wordsOf("batch three.toml halls.toml --output lines.jsonl"), strings.NewReader(""), io.Discard, io.Discard))
	for _, line := range []string{
		"check three.toml", "check three.toml --full", "check halls.toml", "check halls.toml --full", "check halls.toml --space south", "check halls.toml --space south --full",
	} {
		said := work(t, line)
		for _, number := range light {
			assert.Contains(t, said, number, line)
		}
		assert.Regexp(t, `existing +proposed .*replacement`, said, line)
	}
	assert.Regexp(t, `(?s)Replacements compared \(2 jobs\).*of the replacement.*three\.toml`, work(t, "batch --summary lines.jsonl"))
	for _, line := range []string{"proposal three.toml -o a.html", "proposal three.toml --part offer -o b.html", "proposal three.toml --part record -o c.html",
		"proposal halls.toml -o d.html"} {
		work(t, line)
		page, err := os.ReadFile(target(line))
		require.NoError(t, err)
		for _, number := range light {
			assert.Contains(t, string(page), number, line)
		}
		heads := regexp.MustCompile(`<tr>((?:<t[dh][^>]*>[^<]*</t[dh]>)*)</tr>`).FindAllStringSubmatch(string(page), -1)
		require.NotEmpty(t, heads, line)
		for _, head := range heads {
			if strings.Contains(head[1], ">Existing<") && strings.Contains(head[1], ">Proposed<") {
				assert.Contains(t, head[1], ">Replacement<", line)
			}
		}
	}
	work(t, "plot three.toml --output maps --formats svg --width 3")
	work(t, "plot halls.toml --output whole --formats svg --width 3")
	for _, pattern := range []string{"maps/*-existing.svg", "whole/*-existing.svg"} {
		names, err := filepath.Glob(pattern)
		require.NoError(t, err)
		require.NotEmpty(t, names)
		for _, name := range names {
			assert.FileExists(t, strings.Replace(name, "-existing", "-replacement", 1))
		}
	}
}

// Every row of a CSV that has a number of both systems has one of the replacement.
func TestTheReplacementStandsInEveryTable(t *testing.T) {
	replacedSites(t)
	for _, line := range []string{"check three.toml --format csv", "check three.toml --format csv --grid exit", "check halls.toml --space north --format csv"} {
		rows, err := csv.NewReader(strings.NewReader(work(t, line))).ReadAll()
		require.NoError(t, err)
		seen := 0
		for k, name := range rows[0] {
			third := slices.Index(rows[0], strings.Replace(name, "existing", "replacement", 1))
			second := slices.Index(rows[0], strings.Replace(name, "existing", "proposed", 1))
			if !strings.Contains(name, "existing") || second < 0 {
				continue
			}
			require.GreaterOrEqual(t, third, 0, "%s: %s", line, name)
			for _, row := range rows[1:] {
				if row[k] != "" && row[second] != "" {
					assert.NotEmpty(t, row[third], "%s: %v", line, row[:2])
					seen++
				}
			}
		}
		assert.Greater(t, seen, 20, line)
	}
}

// Wherever the JSON has a key of the existing and one of the proposed system it has the replacement's.
func TestTheReplacementStandsInTheJSON(t *testing.T) {
	replacedSites(t)
	for _, line := range []string{"check three.toml --format json", "check halls.toml --format json", "check halls.toml --space south --format json --points"} {
		var answer any
		require.NoError(t, json.Unmarshal([]byte(work(t, line)), &answer))
		pairs := thirdIn(t, line, answer)
		assert.Greater(t, pairs, 30, line)
	}
}

// thirdIn looks through a value, and counts the places at which three systems stand.
func thirdIn(t *testing.T, at string, value any) int {
	t.Helper()
	pairs := 0
	switch v := value.(type) {
	case map[string]any:
		for key, inner := range v {
			pairs += thirdIn(t, at+"."+key, inner)
			if !strings.Contains(key, "existing") || strings.HasSuffix(at, ".tolerances") { // which name the systems that an input moves
				continue
			}
			if _, two := v[strings.Replace(key, "existing", "proposed", 1)]; two {
				assert.Contains(t, v, strings.Replace(key, "existing", "replacement", 1), at)
				pairs++
			}
		}
	case []any:
		var systems []string
		for i, inner := range v {
			pairs += thirdIn(t, fmt.Sprintf("%s[%d]", at, i), inner)
			if fields, ok := inner.(map[string]any); ok {
				for _, key := range []string{"system", "name"} {
					if name, ok := fields[key].(string); ok {
						systems = append(systems, name)
					}
				}
			}
		}
		if slices.Contains(systems, "existing") && slices.Contains(systems, "proposed") {
			assert.Contains(t, systems, "replacement", at)
			pairs++
		}
	}
	return pairs
}

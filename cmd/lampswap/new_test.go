package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry/job"
	"lampswap/photometry/study"
)

// A job that is turned into groups gives the same answer as before, to the bit; only what its luminaires are called is another.
func TestAJobInGroupsGivesTheSameAnswer(t *testing.T) {
	everything, err := os.ReadFile("testdata/proposal-everything.toml")
	require.NoError(t, err)
	demo, beside, err := jobs.DemoText("parts-store")
	require.NoError(t, err)
	open := func(name string) ([]byte, error) { return beside[name], nil }
	for name, text := range map[string]string{"the demonstration": demo, "the starter": jobs.Starter, "everything": string(everything)} {
		parsed, err := tomltext.Read(text)
		require.NoError(t, err)
		require.NoError(t, parsed.Regroup(), name)
		of := func(text string) answer.Result {
			j, err := job.Read("x.toml", []byte(text), open)
			require.NoError(t, err, name)
			r, err := study.Run(t.Context(), j, nil)
			require.NoError(t, err, name)
			out := answer.Of(r, true)
			for i := range out.Existing.Groups {
				out.Existing.Groups[i].Kind, out.Proposed.Groups[i].Kind = "", ""
				if out.Replacement != nil {
					out.Replacement.Groups[i].Kind = ""
				}
			}
			out.Defaults, out.Warnings, out.Origin = nil, nil, answer.Origin{} // which name the keys
			return out
		}
		before, after := of(text), of(parsed.String())
		assert.Equal(t, encoded(t, before), encoded(t, after), name)
	}
}

// encoded is an answer as text, in which numbers that are none are alike.
func encoded(t *testing.T, r answer.Result) string {
	t.Helper()
	var b strings.Builder
	require.NoError(t, answer.Encode(&b, r))
	return b.String()
}

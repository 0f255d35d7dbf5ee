package main

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/jobs"
)

func TestDateFlagStandsInForTheJobs(t *testing.T) {
	j, err := jobs.Read([]string{"testdata/proposal-everything.toml"})
	require.NoError(t, err)
	require.NoError(t, proposalOptions{date: "2027-01-15"}.dated(j))
	assert.Equal(t, "2027-01-15", j.Facts.Date.Format(time.DateOnly))
	assert.Error(t, proposalOptions{date: "15 Jan"}.dated(j))
}

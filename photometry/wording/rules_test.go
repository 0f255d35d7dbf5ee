package wording

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/codes"
)

func day(year, month, day int) time.Time {
	return time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
}

func notice(t *testing.T, id string) codes.Notice {
	t.Helper()
	for _, n := range codes.Notices() {
		if n.ID == id {
			return n
		}
	}
	require.Fail(t, "no notice "+id)
	return codes.Notice{}
}

func TestNoticesInWords(t *testing.T) {
	for _, n := range codes.Notices() {
		words := Notice(n, day(2025, 6, 1))
		assert.Contains(t, words, n.What)
		assert.Contains(t, words, n.Source)
		if n.Kind == codes.SaleBan {
			assert.Contains(t, words, "quoted second-hand", n.ID)
			assert.Contains(t, words, "Check the state's own text; exemptions differ.")
		} else {
			assert.Contains(t, words, "Check the rule's own text.")
		}
	}
}

func TestNoticeInWords(t *testing.T) {
	hawaii := notice(t, "hi-linear")
	const tail = ": Linear fluorescent lamps may no longer be sold. Source: lighting news, December 2024; " +
		"quoted second-hand, the source itself was not read. Check the state's own text; exemptions differ. " +
		"A fluorescent lamp fitted there may soon not be replaceable by its like."
	assert.Equal(t, "HI, coming: from 1 January 2026"+tail, Notice(hawaii, day(2025, 12, 31)))
	assert.Equal(t, "HI, in force since 1 January 2026"+tail, Notice(hawaii, day(2026, 1, 1)))
	assert.Contains(t, Notice(notice(t, "vt-linear"), day(2024, 6, 1)),
		"VT, from a day in 2024 that was not found, so perhaps already in force: 4-ft")
	assert.Contains(t, Notice(notice(t, "me-linear"), day(2026, 1, 1)), "ME, date not known: ")
	assert.Contains(t, Notice(notice(t, "states-linear"), day(2026, 1, 1)), "Some states: About ten states")
	assert.Equal(t, "Federal, in force since 14 July 2012: Most T12 lamps went out: all 75 W F96T12, nearly all 60 W F96T12/ES, "+
		"most F40T12 and F34T12; and the 700-series F32T8. Note: one trade page says 1 July 2012. "+
		"Source: 74 FR 34080, trade and building-owner pages. Check the rule's own text.",
		Notice(notice(t, "us-2012-lamp"), day(2026, 1, 1)))
	assert.Contains(t, Notice(notice(t, "us-2018-lamp"), day(2026, 1, 1)), "from memory, unverified")
}

func TestAltered(t *testing.T) {
	for _, edition := range codes.Editions() {
		for _, a := range codes.WhenAltered(edition) {
			assert.Equal(t, a.FromMemory(), strings.HasSuffix(altered(a), "(from memory, unverified)"), a.ID)
		}
	}
}

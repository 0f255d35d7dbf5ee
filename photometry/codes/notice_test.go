package codes

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func day(year int, month time.Month, day int) time.Time {
	return time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
}

func notice(t *testing.T, id string) Notice {
	t.Helper()
	for _, n := range Notices() {
		if n.ID == id {
			return n
		}
	}
	t.Fatalf("no notice %s", id)
	return Notice{}
}

func ids(notices []Notice) (all []string) {
	for _, n := range notices {
		all = append(all, n.ID)
	}
	return all
}

// Federal dates: 42 USC 6295(g)(5), (g)(8) and (i)(1)(B), 65 FR 56740, 74 FR 34080, in public copies; the day of 80 FR 4041 is
// from memory, unverified. State dates: lighting news, December 2024.
func TestNoticesAsDated(t *testing.T) {
	want := map[string]Date{
		"us-1990-ballast": {1990, 1, 1}, "us-1994-lamp": {1994, 4, 0}, "us-1995-lamp": {1995, 10, 0}, "us-2005-ballast": {2005, 4, 1},
		"us-2010-ballast": {2010, 7, 1}, "us-2012-lamp": {2012, 7, 14}, "us-2014-ballast": {2014, 11, 14}, "us-2018-lamp": {2018, 1, 26},
		"vt-linear": {2024, 0, 0}, "ca-linear": {2025, 1, 1}, "co-linear": {2025, 1, 1}, "or-linear": {2025, 1, 1}, "ri-linear": {2025, 1, 1},
		"hi-linear": {2026, 1, 1}, "mn-linear": {2026, 1, 1}, "me-linear": {}, "states-linear": {},
	}
	require.Len(t, Notices(), len(want))
	for _, n := range Notices() {
		date, ok := want[n.ID]
		assert.True(t, ok, n.ID)
		assert.Equal(t, date, n.From, n.ID)
		assert.Equal(t, n.ID == "us-2018-lamp", n.FromMemory(), n.ID)
	}
	// 18 and 36 months after 24 October 1992.
	for id, months := range map[string]int{"us-1994-lamp": 18, "us-1995-lamp": 36} {
		at := day(1992, 10, 24).AddDate(0, months, 0)
		assert.Equal(t, Date{Year: at.Year(), Month: at.Month()}, notice(t, id).From)
	}
}

func TestNoticesThatTouchAJob(t *testing.T) {
	assert.Equal(t, []string{"us-2018-lamp", "ca-linear"}, ids(NoticesFor("ca", []Touch{LinearFluorescent})))
	assert.Equal(t, []string{"us-2018-lamp", "me-linear"}, ids(NoticesFor(" ME ", []Touch{LinearFluorescent})))
	assert.Equal(t, []string{"us-2018-lamp", "states-linear"}, ids(NoticesFor("IL", []Touch{LinearFluorescent})), "a state without a row")
	assert.Equal(t, []string{"us-2018-lamp", "states-linear"}, ids(NoticesFor("", []Touch{LinearFluorescent})), "no state")
	assert.Equal(t, []string{"us-1990-ballast", "us-1994-lamp", "us-1995-lamp", "us-2005-ballast", "us-2010-ballast", "us-2012-lamp"},
		ids(NoticesFor("", []Touch{MagneticBallast, T12Lamp})))
	assert.Equal(t, []string{"us-2012-lamp"}, ids(NoticesFor("CA", []Touch{T8Series700})))
	assert.Equal(t, []string{"us-2014-ballast"}, ids(NoticesFor("CA", []Touch{FluorescentBallast})))
	assert.Empty(t, NoticesFor("CA", nil), "an LED job is touched by nothing")
}

func TestStatus(t *testing.T) {
	for _, c := range []struct {
		from string
		on   time.Time
		want Status
	}{
		{"2025-01-01", day(2024, 12, 31), Coming},
		{"2025-01-01", day(2025, 1, 1), InForce},
		{"2025-01-01", time.Date(2025, 1, 1, 0, 30, 0, 0, time.FixedZone("east", 9*3600)), InForce}, // 31 December in UTC
		{"2024-02", day(2024, 1, 31), Coming},
		{"2024-02", day(2024, 2, 28), Begins},
		{"2024-02", day(2024, 2, 29), InForce},
		{"2024", day(2023, 12, 31), Coming},
		{"2024", day(2024, 1, 1), Begins},
		{"2024", day(2025, 1, 1), InForce},
		{"", day(2025, 1, 1), Undated},
	} {
		from, ok := ParseDate(c.from)
		assert.Equal(t, c.from != "", ok)
		assert.Equal(t, c.want, Notice{From: from}.Status(c.on), "%s on %s", c.from, c.on)
	}
	var words []string
	for s := InForce; s <= Undated+1; s++ {
		words = append(words, s.String())
	}
	assert.Equal(t, []string{"in force", "may be in force", "coming", "date not known", "unknown status 4"}, words)
}

func TestDates(t *testing.T) {
	for text, words := range map[string]string{"2025-01-01": "1 January 2025", "2025-01": "January 2025", "2025": "2025"} {
		date, ok := ParseDate(text)
		assert.True(t, ok, text)
		assert.Equal(t, words, date.String())
	}
	assert.Equal(t, "date not known", Date{}.String())
	for _, text := range []string{"", "2025-13", "2025-02-30", "1 January 2025", "25", "2025-1-1"} {
		_, ok := ParseDate(text)
		assert.False(t, ok, text)
	}
}

// As days pass a rule is coming, then perhaps in force, then in force, and never goes back.
func TestStatusOnlyMovesOn(t *testing.T) {
	order := map[Status]int{Coming: 0, Begins: 1, InForce: 2}
	rapid.Check(t, func(t *rapid.T) {
		n := Notice{From: Date{Year: rapid.IntRange(1990, 2030).Draw(t, "year"), Month: time.Month(rapid.IntRange(0, 12).Draw(t, "month"))}}
		if n.From.Month != 0 {
			n.From.Day = rapid.IntRange(0, 28).Draw(t, "day")
		}
		a := day(1989, 1, 1).AddDate(0, 0, rapid.IntRange(0, 16000).Draw(t, "first"))
		b := a.AddDate(0, 0, rapid.IntRange(0, 1000).Draw(t, "later"))
		if order[n.Status(a)] > order[n.Status(b)] {
			t.Fatalf("from %s: %s on %s, %s on %s", n.From, n.Status(a), a, n.Status(b), b)
		}
		if n.Status(a) == Begins && n.From.Day != 0 {
			t.Fatalf("from %s: the day is known, so nothing is in doubt on %s", n.From, a)
		}
	})
}

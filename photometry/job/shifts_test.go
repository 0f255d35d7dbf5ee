package job_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const upkeepHours = "[upkeep]\nhours_per_year = 4000.0\n"

// shift is a table of it, with more of its keys after its days and times.
func shift(days, from, to, more string) string {
	return "[[shifts]]\ndays = " + days + "\nfrom = " + from + "\nto = " + to + "\n" + more + "\n"
}

func TestShifts(t *testing.T) {
	early, late := shift(`"mon-fri"`, `"06:00"`, `"14:00"`, ""), shift(`"mon-fri"`, `"14:00"`, `"22:00"`, "")
	for _, c := range []struct {
		name, text string
		hours      float64
	}{
		{"two shifts of 8 h, 5 days, 52 weeks", early + late, 4160},
		{"the same twice", early + late + early, 4160},
		{"an hour in which one hands over to the other", early + shift(`"mon-fri"`, `"13:00"`, `"22:00"`, ""), 4160},
		{"over midnight", shift(`"mon-fri"`, `"22:00"`, `"06:00"`, ""), 2080},
		{"around the clock, sunday's night into monday", early + late + shift(`["mon-sun"]`, `"22:00"`, `"06:00"`, ""), 52 * (120 + 2*8)},
		{"all hours of all days", shift(`"mon-sun"`, `"00:00"`, `"24:00"`, "weeks = 52"), 8736},
		{"a list, any case, over the end of the week", shift(`["Wed", "SAT-mon"]`, `"08:00"`, `"12:30"`, "weeks = 26"), 4 * 4.5 * 26},
		{"some weeks among more", early + shift(`"mon-fri"`, `"06:00"`, `"22:00"`, "weeks = 10"), 2080 + 8*5*10},
		{"times of TOML", shift(`"fri"`, `06:00:00`, `14:30:00`, "weeks = 1"), 8.5},
	} {
		j := read(t, replaced(t, sound, upkeepHours, c.text+"[upkeep]\n"))
		assert.InEpsilon(t, c.hours, j.Upkeep.HoursPerYear, rounding, c.name)
	}
	j := read(t, replaced(t, sound, upkeepHours, early+late+"[upkeep]\n"))
	assert.Equal(t, []string{"mon-fri 06:00 to 14:00, 52 weeks; mon-fri 14:00 to 22:00, 52 weeks: 4,160 h a year"}, j.ScheduleWords())
	assert.Empty(t, read(t, sound).ScheduleWords())
}

func TestShiftsAndThePeak(t *testing.T) {
	day, night := shift(`"mon-fri"`, `"06:00"`, `"14:00"`, ""), shift(`"mon-fri"`, `"22:00"`, `"06:00"`, "")
	const peak = "[energy]\npeak_from = \"12:00\"\npeak_to = \"18:00\"\npeak_price_per_kwh = 0.3\n"
	job := replaced(t, sound, upkeepHours, day+"[upkeep]\n", "[energy]\n", peak)
	j := read(t, job)
	share, ok := j.Existing.PeakShare(j)
	require.True(t, ok)
	assert.InEpsilon(t, 0.25, share, rounding, "2 of 8 hours")
	assert.Equal(t, []string{"mon-fri 06:00 to 14:00, 52 weeks: 2,080 h a year, of which 25 percent fall into the tariff's peak (mon-fri 12:00 to 18:00)"}, j.ScheduleWords())
	assert.Contains(t, j.Defaults[len(j.Defaults)-1].Key+j.Defaults[len(j.Defaults)-2].Key+j.Defaults[len(j.Defaults)-3].Key, "energy.peak_days")

	j = read(t, replaced(t, job, day, night))
	share, _ = j.Existing.PeakShare(j)
	assert.Zero(t, share)
	_, ok = read(t, sound).Existing.PeakShare(j)
	assert.True(t, ok, "of the job that is asked")
	_, ok = j.Existing.PeakShare(read(t, sound))
	assert.False(t, ok)
}

// A group may have shifts of its own.
func TestShiftsOfAGroup(t *testing.T) {
	own := "[[groups.shifts]]\ndays = \"sat\"\nfrom = \"08:00\"\nto = \"12:00\"\n"
	j := read(t, replaced(t, grouped, "hours_per_year = 6000.0\n", "", "[[groups]]\nname = \"shop\"", own+"[[groups]]\nname = \"shop\"", upkeepHours,
		shift(`"mon-fri"`, `"06:00"`, `"14:00"`, "")+"[upkeep]\n", "price_per_kwh = 0.11", "price_per_kwh = 0.11\npeak_from = \"10:00\"\npeak_to = \"13:00\"\npeak_days = [\"mon-fri\", \"sat\"]\npeak_price_per_kwh = 0.2"))
	dock, shop := j.Existing.Find("dock"), j.Existing.Find("shop")
	assert.InEpsilon(t, 4*52, dock.Hours(j), rounding)
	assert.InEpsilon(t, 4*52*0.55, j.Proposed.Find("dock").HoursBurnt(j), rounding)
	assert.InEpsilon(t, 2080, shop.Hours(j), rounding)
	share, _ := dock.PeakShare(j)
	assert.InEpsilon(t, 0.5, share, rounding)
	share, _ = shop.PeakShare(j)
	assert.InEpsilon(t, 3.0/8, share, rounding)
	assert.Len(t, j.ScheduleWords(), 2)
}

// wrongShifts are mistakes in the hours of work.
var wrongShifts = []wrong{
	{upkeepHours, shift(`"mon-fri"`, `"06:00"`, `"14:00"`, "") + upkeepHours, `dock.toml:39:18: upkeep.hours_per_year: stands beside shifts, want either of the two: shifts tell the hours of a year`},
	{upkeepHours, shift(`"mon-fri"`, `"06:00"`, `"31:00"`, "") + upkeepHours, `dock.toml:36:6: shifts[0].to: is the text "31:00", want a time of the day as "06:30", or "24:00" for its end
dock.toml:39:18: upkeep.hours_per_year: stands beside shifts, want either of the two: shifts tell the hours of a year`},
	{upkeepHours, shift(`"mon-fri"`, `"6 am"`, `14`, "") + "[upkeep]\n", `dock.toml:35:8: shifts[0].from: is the text "6 am", want a time of the day as "06:30", or "24:00" for its end
dock.toml:36:6: shifts[0].to: is 14, want a time of the day as "06:30", or "24:00" for its end`},
	{upkeepHours, shift(`"mon-fri"`, `"06:00"`, `"06:00"`, "") + "[upkeep]\n", `dock.toml:36:6: shifts[0].to: is when it begins, want another time; from "00:00" to "24:00" is the whole day`},
	{upkeepHours, shift(`"mon-fri"`, `"24:00"`, `"06:00"`, "") + "[upkeep]\n", `dock.toml:35:8: shifts[0].from: is the end of the day, want "00:00" of the next`},
	{upkeepHours, shift(`"mon-fri"`, `"06:00"`, `"14:00"`, "hours = 25") + "[upkeep]\n", `dock.toml:37:9: shifts[0].hours: is not a known key, want one of days, from, to, weeks`},
	{upkeepHours, shift(`"weekdays"`, `"06:00"`, `"14:00"`, "") + "[upkeep]\n", `dock.toml:34:8: shifts[0].days: "weekdays" is no day of the week, want days as "mon-fri", "sat", or a list of them; mon, tue, wed, thu, fri, sat, sun`},
	{upkeepHours, shift(`["mon-wed", "tue"]`, `"06:00"`, `"14:00"`, "") + "[upkeep]\n", `dock.toml:34:20: shifts[0].days[1]: names tue a second time, want each day once`},
	{upkeepHours, shift(`["mon-", 3]`, `"06:00"`, `"14:00"`, "") + "[upkeep]\n", `dock.toml:34:17: shifts[0].days[1]: is 3, want a text in quotes`},
	{upkeepHours, shift(`5`, `"06:00"`, `"14:00"`, "") + "[upkeep]\n", `dock.toml:34:8: shifts[0].days: is 5, want days as "mon-fri", "sat", or a list of them; mon, tue, wed, thu, fri, sat, sun`},
	{upkeepHours, shift(`"fri"`, `"06:00"`, `"14:00"`, "weeks = 53") + "[upkeep]\n", `dock.toml:37:9: shifts[0].weeks: is 53, want a number of weeks a year, above 0 and up to 52.2`},
	{upkeepHours, shift(`"fri"`, `"06:00"`, `"14:00"`, "weeks = 0") + "[upkeep]\n", `dock.toml:37:9: shifts[0].weeks: is 0, want a number of weeks a year, above 0 and up to 52.2`},
	{upkeepHours, "[[shifts]]\nweeks = 50\n[upkeep]\n", `dock.toml:33:3: shifts[0].days: is missing, want days as "mon-fri", "sat", or a list of them; mon, tue, wed, thu, fri, sat, sun
dock.toml:33:3: shifts[0].from: is missing, want when it begins, as "06:00"
dock.toml:33:3: shifts[0].to: is missing, want when it ends, as "14:00"; what ends on the next day ends before it begins`},
	{upkeepHours, "[shifts]\ndays = \"fri\"\n[upkeep]\n", `dock.toml:33:2: shifts: is a table, want one or more tables, [[shifts]]`},
	{"[energy]\n", "[energy]\npeak_from = \"12:00\"\npeak_to = \"18:00\"\n", `dock.toml:63:13: energy.peak_from: stands in a job without [[shifts]], want shifts beside it: hours_per_year does not tell at what time of the day they are`},
	{"[energy]\n", shift(`"fri"`, `"06:00"`, `"14:00"`, "") + "[energy]\npeak_from = \"12:00\"\npeak_to = 18\npeak_days = \"fir\"\n", `dock.toml:34:18: upkeep.hours_per_year: stands beside shifts, want either of the two: shifts tell the hours of a year
dock.toml:69:11: energy.peak_to: is 18, want a time of the day as "06:30", or "24:00" for its end
dock.toml:70:13: energy.peak_days: "fir" is no day of the week, want days as "mon-fri", "sat", or a list of them; mon, tue, wed, thu, fri, sat, sun`},
	{"[energy]\n", "[energy]\npeak_price_per_kwh = 0.3\n", `dock.toml:62:2: energy.peak_from: is missing, want when the peak is, beside peak_price_per_kwh: peak_from and peak_to`},
	{"[energy]\n", shift(`"fri"`, `"06:00"`, `"14:00"`, "") + "[energy]\npeak_to = \"18:00\"\n", `dock.toml:34:18: upkeep.hours_per_year: stands beside shifts, want either of the two: shifts tell the hours of a year
dock.toml:67:2: energy.peak_from: is missing, want when it begins, as "06:00"`},
}

// wrongShiftsOfGroups are those of groups.
var wrongShiftsOfGroups = []wrong{
	{"[[groups]]\nname = \"shop\"", "[[groups.shifts]]\ndays = \"sat\"\nfrom = \"08:00\"\nto = \"12:00\"\n[[groups]]\nname = \"shop\"", `dock.toml:35:18: groups[0].hours_per_year: stands beside shifts, want either of the two: shifts tell the hours of a year`},
	{tail(grouped, "[upkeep]"), shift(`"fri"`, `"06:00"`, `"14:00"`, "") + "[energy]\nprice_per_kwh = 0.11\npeak_from = \"12:00\"\npeak_to = \"18:00\"\npeak_price_per_kwh = 0.2\n", `dock.toml:62:22: energy.peak_price_per_kwh: counts for all groups, and when group "dock" burns is not known, want [[shifts]], of the job or of the group, in place of hours_per_year`},
	{"[energy]\nprice_per_kwh = 0.11", "[energy]\nprice_per_kwh = 0.11\npeak_from = \"12:00\"\npeak_to = \"18:00\"\npeak_price_per_kwh = 0.2", `dock.toml:64:13: energy.peak_from: stands in a job without [[shifts]], want shifts beside it: hours_per_year does not tell at what time of the day they are`},
}

// tail is a text from a word on.
func tail(text, word string) string {
	_, after, _ := strings.Cut(text, word)
	return word + after
}

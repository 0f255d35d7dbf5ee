package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"lampswap/photometry/internal/tomlfile"
	"lampswap/photometry/number"
)

const (
	minutesADay  = 24 * 60
	minutesAWeek = 7 * minutesADay
	mostShifts   = 100
	usualWeeks   = 52
	mostWeeks    = 52.2 // of a year
)

// weekdays are the names of days in a job.
var weekdays = []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}

// A Span is a stretch of time on some days of the week.
type Span struct {
	Days     [7]bool // from Monday; the day on which it begins
	From, To int     // minutes from midnight; To up to two days, where it ends on the day after
	Words    string  // as a reader has it: "mon-fri 06:00 to 14:00"
}

// A Shift is a span in some weeks of the year.
type Shift struct {
	Span
	Weeks float64 // a year
}

// A Schedule is when luminaires burn: in any of its shifts.
type Schedule struct {
	Shifts       []Shift
	HoursPerYear float64
	PeakShare    *float64 // of these hours, in the tariff's peak; nil where the job knows no peak
}

// within marks the minutes of a week that a span covers.
func (s Span) within(week *[minutesAWeek]bool) {
	for day, works := range s.Days {
		for m := s.From; works && m < s.To; m++ {
			week[(day*minutesADay+m)%minutesAWeek] = true
		}
	}
}

// hours are those of a year that the shifts cover together, and how many of them fall into a span. Time that several cover counts once; the weeks of
// a shift that has fewer of them are taken to be weeks in which the others work too.
func (s *Schedule) hours(peak *Span) (all, within float64) {
	var weeks [minutesAWeek]float64
	for _, shift := range s.Shifts {
		var covered [minutesAWeek]bool
		shift.within(&covered)
		for m, is := range covered {
			if is {
				weeks[m] = max(weeks[m], shift.Weeks)
			}
		}
	}
	var peakTime [minutesAWeek]bool
	if peak != nil {
		peak.within(&peakTime)
	}
	for m, n := range weeks {
		all += n
		if peakTime[m] {
			within += n
		}
	}
	return all / 60, within / 60
}

// Words say when luminaires burn, for how long, and how much of it is in the tariff's peak.
func (s *Schedule) Words(t Tariff) string {
	var all []string
	for _, shift := range s.Shifts {
		all = append(all, fmt.Sprintf("%s, %.4g weeks", shift.Words, shift.Weeks))
	}
	text := fmt.Sprintf("%s: %s h a year", strings.Join(all, "; "), number.Thousands(s.HoursPerYear))
	if s.PeakShare != nil {
		text += fmt.Sprintf(", of which %.0f percent fall into the tariff's peak (%s)", 100**s.PeakShare, t.Peak.Words)
	}
	return text
}

// schedule reads shifts below a table; nil where it has none. hours is the key that they stand in place of, in a table.
func (r *reader) schedule(t *tomlfile.Table, beside *tomlfile.Table, hours string) *Schedule {
	tables := t.Tables("shifts", mostShifts)
	if len(tables) == 0 {
		return nil
	}
	if beside.Has(hours) {
		beside.Fault(hours, "stands beside shifts", "either of the two: shifts tell the hours of a year")
	}
	s, good := &Schedule{}, true
	for _, shift := range tables {
		span, ok := r.span(shift, "days", "from", "to", "")
		weeks, okWeeks := shift.Number("weeks", tomlfile.Rule{Want: fmt.Sprintf("a number of weeks a year, above 0 and up to %g", mostWeeks),
			Holds: func(x float64) bool { return x > 0 && x <= mostWeeks }})
		if !shift.Has("weeks") {
			weeks, okWeeks = usualWeeks, true
			r.default_(shift, "weeks", strconv.Itoa(usualWeeks), "of the year, without holidays, assumed")
		}
		good = good && ok && okWeeks
		s.Shifts = append(s.Shifts, Shift{span, weeks})
		shift.Done()
	}
	if !good {
		return nil // faults tell why
	}
	s.HoursPerYear, _ = s.hours(nil)
	if r.unevenly(s) {
		r.default_(t, "shifts", fmt.Sprintf("%s h a year", number.Thousands(s.HoursPerYear)), "where shifts overlap that work in different weeks, those of fewer are taken to be among those of more, assumed")
	}
	r.schedules = append(r.schedules, s)
	return s
}

// unevenly tells that shifts overlap that have different weeks.
func (r *reader) unevenly(s *Schedule) bool {
	for i, a := range s.Shifts {
		for _, b := range s.Shifts[:i] {
			both := func(s ...Shift) float64 {
				for i := range s {
					s[i].Weeks = 1
				}
				all, _ := (&Schedule{Shifts: s}).hours(nil)
				return all
			}
			if a.Weeks != b.Weeks && both(a, b) < both(a)+both(b) {
				return true
			}
		}
	}
	return false
}

// span reads a stretch of time by its keys. usual are its days where the file does not say; "" where it must.
func (r *reader) span(t *tomlfile.Table, days, from, to, usual string) (Span, bool) {
	s := Span{}
	okDays := r.days(t, days, usual, &s)
	const want = `a time of the day as "06:30", or "24:00" for its end`
	start, okFrom := t.Clock(from, want)
	end, okTo := t.Clock(to, want)
	r.need(t, from, `when it begins, as "06:00"`)
	r.need(t, to, `when it ends, as "14:00"; what ends on the next day ends before it begins`)
	switch {
	case okFrom && start == minutesADay:
		t.Fault(from, "is the end of the day", `"00:00" of the next`)
		okFrom = false
	case okFrom && okTo && start == end:
		t.Fault(to, "is when it begins", `another time; from "00:00" to "24:00" is the whole day`)
		okTo = false
	case end < start:
		end += minutesADay
	}
	s.From, s.To = start, end
	clock := func(m int) string { return fmt.Sprintf("%02d:%02d", m/60, m%60) }
	s.Words += " " + clock(start) + " to " + clock(end)
	if end > minutesADay {
		s.Words = strings.TrimSuffix(s.Words, clock(end)) + clock(end-minutesADay) + " of the next day"
	}
	return s, okDays && okFrom && okTo
}

// days reads days of the week: names, and stretches of them.
func (r *reader) days(t *tomlfile.Table, key, usual string, s *Span) bool {
	const want = `days as "mon-fri", "sat", or a list of them; mon, tue, wed, thu, fri, sat, sun`
	words, ok := t.TextOrTexts(key, 7, want)
	switch {
	case !t.Has(key) && usual != "":
		words, ok = []string{usual}, true
		r.default_(t, key, strconv.Quote(usual), "the usual days of a peak, assumed")
	case !t.Has(key):
		t.Missing(key, want)
	}
	if !ok {
		return false
	}
	for i, word := range words {
		at := key
		if len(words) > 1 {
			at = fmt.Sprintf("%s[%d]", key, i)
		}
		first, last, isStretch := strings.Cut(strings.ToLower(word), "-")
		begin, end := slices.Index(weekdays, first), slices.Index(weekdays, last)
		if !isStretch {
			end = begin
		}
		if begin < 0 || end < 0 {
			t.Fault(at, strconv.Quote(word)+" is no day of the week", want)
			ok = false
			continue
		}
		for d := begin; ; d = (d + 1) % 7 {
			if s.Days[d] {
				t.Fault(at, "names "+weekdays[d]+" a second time", "each day once")
				ok = false
			}
			if s.Days[d] = true; d == end {
				break
			}
		}
	}
	s.Words = strings.ToLower(strings.Join(words, ", "))
	return ok
}

// peak reads when the tariff's peak is, and finds how much of each schedule falls into it.
func (r *reader) peak(t *tomlfile.Table) {
	price := sum(t, "peak_price_per_kwh")
	if !t.Has("peak_from") && !t.Has("peak_to") && !t.Has("peak_days") {
		if t.Has("peak_price_per_kwh") {
			t.Missing("peak_from", "when the peak is, beside peak_price_per_kwh: peak_from and peak_to")
		}
		return
	}
	f := &r.job.Tariff
	if len(r.schedules) == 0 && !r.file.Root().Has("shifts") {
		t.Fault(first(t, "peak_from", first(t, "peak_to", "peak_days")), "stands in a job without [[shifts]]", "shifts beside it: hours_per_year does not tell at what time of the day they are")
		price = nil
	}
	peak, ok := r.span(t, "peak_days", "peak_from", "peak_to", "mon-fri")
	if !ok {
		return
	}
	f.Peak, f.PeakPricePerKWh = &peak, price
	for _, s := range r.schedules {
		all, within := s.hours(&peak)
		share := within / all
		s.PeakShare = &share
	}
	switch {
	case price == nil:
		return
	case f.Average:
		t.Fault("peak_price_per_kwh", "stands beside an average price", "price_per_kwh, that of the hours outside the peak")
	case f.PricePerKWh == nil && !t.Has("price_per_kwh"):
		t.Missing("price_per_kwh", "the price outside the peak, beside peak_price_per_kwh")
	}
	for _, kind := range r.job.Kinds() {
		if _, known := kind.PeakShare(r.job); !known {
			t.Fault("peak_price_per_kwh", fmt.Sprintf("counts for all groups, and when group %q burns is not known", kind.Group), "[[shifts]], of the job or of the group, in place of hours_per_year")
			return
		}
	}
}

// PeakShare returns how much of the hours of luminaires of one kind falls into the tariff's peak; ok is false where that is not known.
func (s *System) PeakShare(j *Job) (share float64, ok bool) {
	schedule := s.Use.Schedule
	if schedule == nil && s.Use.HoursPerYear == nil {
		schedule = j.Upkeep.Schedule
	}
	if schedule == nil || schedule.PeakShare == nil {
		return 0, false
	}
	return *schedule.PeakShare, true
}

// ScheduleWords say when the luminaires of the job burn, and those of groups with shifts of their own; none where it has no shifts.
func (j *Job) ScheduleWords() []string {
	var all []string
	if s := j.Upkeep.Schedule; s != nil {
		all = append(all, s.Words(j.Tariff))
	}
	told := map[string]bool{}
	for _, kind := range j.Kinds() {
		if s := kind.Use.Schedule; s != nil && !told[kind.Group] {
			told[kind.Group] = true
			all = append(all, kind.Group+": "+s.Words(j.Tariff))
		}
	}
	return all
}

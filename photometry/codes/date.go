package codes

import (
	"strconv"
	"time"
)

// A Date is a day, a month or a year, as precisely as a source gives it: Month and Day are 0 where it does not. The zero Date is
// not known.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// ParseDate reads "2025-01-01", "2025-01" or "2025"; ok is false for anything else.
func ParseDate(text string) (date Date, ok bool) {
	for _, layout := range []string{"2006-01-02", "2006-01", "2006"} {
		at, err := time.Parse(layout, text)
		if err != nil {
			continue
		}
		d := Date{Year: at.Year()}
		if len(layout) >= len("2006-01") {
			d.Month = at.Month()
		}
		if len(layout) == len("2006-01-02") {
			d.Day = at.Day()
		}
		return d, true
	}
	return Date{}, false
}

// Known tells that there is a date at all.
func (d Date) Known() bool { return d.Year != 0 }

// String is the date in words, as far as it is known: "1 January 2025", "January 2025", "2025", "date not known".
func (d Date) String() string {
	switch {
	case !d.Known():
		return "date not known"
	case d.Month == 0:
		return strconv.Itoa(d.Year)
	case d.Day == 0:
		return d.Month.String() + " " + strconv.Itoa(d.Year)
	}
	return strconv.Itoa(d.Day) + " " + d.Month.String() + " " + strconv.Itoa(d.Year)
}

// first and last are the earliest and the latest day that the date can mean.
func (d Date) first() time.Time {
	return time.Date(d.Year, max(d.Month, 1), max(d.Day, 1), 0, 0, 0, 0, time.UTC)
}

func (d Date) last() time.Time {
	switch {
	case d.Month == 0:
		return time.Date(d.Year, time.December, 31, 0, 0, 0, 0, time.UTC)
	case d.Day == 0:
		return d.first().AddDate(0, 1, -1)
	}
	return d.first()
}

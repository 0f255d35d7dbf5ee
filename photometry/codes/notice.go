package codes

import (
	_ "embed"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"lampswap/photometry/internal/table"
)

//go:embed notices.csv
var noticesCSV string

// A Touch is a thing in a job that a rule can touch.
type Touch string

// What the rules of the table touch.
const (
	LinearFluorescent  Touch = "linear-fluorescent" // any straight fluorescent lamp
	T12Lamp            Touch = "t12-lamp"
	T8Series700        Touch = "t8-700-lamp" // the 700 series of the 32 W T8 lamp
	MagneticBallast    Touch = "magnetic-ballast"
	FluorescentBallast Touch = "fluorescent-ballast" // any ballast that is bought new
)

var touches = []Touch{LinearFluorescent, T12Lamp, T8Series700, MagneticBallast, FluorescentBallast}

// A Status tells where a day stands to the date of a rule.
type Status int

// The places of a day.
const (
	// InForce says that the rule holds on the day.
	InForce Status = iota
	// Begins says that it begins in the course of the month or year in which the day lies, and may hold already.
	Begins
	// Coming says that it holds only later.
	Coming
	// Undated says that the date of the rule is not known.
	Undated
)

// String is the status in words.
func (s Status) String() string {
	switch s {
	case InForce:
		return "in force"
	case Begins:
		return "may be in force"
	case Coming:
		return "coming"
	case Undated:
		return "date not known"
	}
	return "unknown status " + strconv.Itoa(int(s))
}

// Kinds of notices.
const (
	LampRule    = "lamp rule"
	BallastRule = "ballast rule"
	SaleBan     = "sale ban"
)

// A Notice is a dated rule about what may be made or sold.
type Notice struct {
	ID         string
	State      string // two letters; empty where it is federal or stands for several states
	From       Date
	Kind       string // LampRule, BallastRule, SaleBan
	What       string // one sentence
	Touches    []Touch
	Source     string
	Confidence string
	Notes      string
	Elsewhere  bool // stands for the states that have no notice of their own
}

var notices = sync.OnceValue(func() []Notice {
	rows := table.Load("notices", noticesCSV, "id", "state", "from", "kind", "what", "touches", "source", "confidence", "notes")
	all := make([]Notice, len(rows))
	for i, r := range rows {
		n := Notice{
			ID: r.Required("id"), State: r.Text("state"), Kind: r.Required("kind"), What: r.Required("what"),
			Source: r.Text("source"), Confidence: r.Confidence("confidence"), Notes: r.Text("notes"),
		}
		if n.State == "other" {
			n.State, n.Elsewhere = "", true
		}
		if !slices.Contains([]string{LampRule, BallastRule, SaleBan}, n.Kind) {
			r.Fail("kind", "is not known")
		}
		if text := r.Text("from"); text != "" {
			var ok bool
			if n.From, ok = ParseDate(text); !ok {
				r.Fail("from", "is no date")
			}
		}
		for touch := range strings.SplitSeq(r.Required("touches"), ",") {
			if !slices.Contains(touches, Touch(touch)) {
				r.Fail("touches", "names "+touch+", which is not known")
			}
			n.Touches = append(n.Touches, Touch(touch))
		}
		all[i] = n
	}
	return all
})

// Notices returns all the notices, federal ones first, in the order of the table.
func Notices() []Notice { return slices.Clone(notices()) }

// NoticesFor returns the notices of the country and of a state that touch any of the things: those in force, those coming and
// those without a date, in the order of the table; Status tells them apart. The state is given by its two letters, in any case,
// and may be empty. Where the table has no ban on sale of that state, and where no state is given, the notice that some states
// have one stands in for it: the table does not know them all.
func NoticesFor(state string, touched []Touch) []Notice {
	state = strings.ToUpper(strings.TrimSpace(state))
	own := state != "" && slices.ContainsFunc(notices(), func(n Notice) bool { return n.Kind == SaleBan && n.State == state })
	return slices.DeleteFunc(slices.Clone(notices()), func(n Notice) bool {
		if n.State != "" && n.State != state || n.Elsewhere && own {
			return true
		}
		return !slices.ContainsFunc(n.Touches, func(touch Touch) bool { return slices.Contains(touched, touch) })
	})
}

// Status tells where a day stands to the notice's date. Of the time only the calendar day counts, in its own time zone.
func (n Notice) Status(on time.Time) Status {
	day := time.Date(on.Year(), on.Month(), on.Day(), 0, 0, 0, 0, time.UTC)
	switch {
	case !n.From.Known():
		return Undated
	case day.Before(n.From.first()):
		return Coming
	case day.Before(n.From.last()):
		return Begins
	}
	return InForce
}

// FromMemory tells that the notice is from memory, unverified, and must not be shown as published.
func (n Notice) FromMemory() bool { return table.FromMemory(n.Confidence) }

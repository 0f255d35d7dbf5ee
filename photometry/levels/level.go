package levels

import (
	_ "embed"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"lampswap/photometry/internal/table"
)

//go:embed levels.csv
var levelsCSV string

// A Level is one published row. A value that was not published in a unit is NaN there; texts may be empty.
type Level struct {
	ID        string
	Group     string // rows of one rule that belong together share it; elsewhere the id
	Space     string
	Plane     string // horizontal, vertical, cylindrical, task, "as the task", "sign face", unspecified
	Height    string // of the plane, as published
	ValueFC   float64
	ValueLux  float64
	Statistic Statistic
	Reading   string // how an unclear wording of the statistic is read; mostly empty

	AlsoMinimumFC float64 // fc, a least value at any point that the same rule sets; NaN if none
	Uniformity    string  // as published: "at least 0.40" is minimum over average
	GlareLimit    string
	LeastColor    string // least color rendering index

	LegalStatus    string // law, model code, consensus standard, recommendation, contract requirement, workplace rule
	Place          string // whose it is, by ISO 3166: "US", a state of it as "US-CA", "EU"; empty where it is of no one country
	AppliesTo      string // where it binds; empty where it is general advice
	Currency       string // current, superseded
	Source         string
	Section        string
	Year           string
	SeenIn         string
	Confidence     string // of the value
	RestConfidence string // of uniformity, glare and color
	Notes          string

	joined []Level // the rows of a group, if this stands for one
}

var levels = sync.OnceValue(func() []Level {
	rows := table.Load("levels", levelsCSV, "id", "group", "space", "plane", "height", "value_fc", "value_lux", "statistic", "reading", "also_minimum_fc",
		"uniformity", "glare_limit", "color_rendering_min", "legal_status", "place", "applies_to", "currency", "source", "section", "year", "seen_in",
		"confidence", "rest_confidence", "notes")
	all := make([]Level, len(rows))
	for i, r := range rows {
		statistic, ok := ParseStatistic(r.Text("statistic"))
		if !ok {
			r.Fail("statistic", "is not known")
		}
		all[i] = Level{
			ID: r.Required("id"), Group: r.Required("group"), Space: r.Required("space"), Plane: r.Required("plane"), Height: r.Text("height"),
			ValueFC: r.NumberOr("value_fc", math.NaN()), ValueLux: r.NumberOr("value_lux", math.NaN()), Statistic: statistic, Reading: r.Text("reading"),
			AlsoMinimumFC: r.NumberOr("also_minimum_fc", math.NaN()),
			Uniformity:    r.Text("uniformity"), GlareLimit: r.Text("glare_limit"), LeastColor: r.Text("color_rendering_min"),
			LegalStatus: r.Required("legal_status"), Place: r.Text("place"), AppliesTo: r.Text("applies_to"), Currency: r.Required("currency"),
			Source: r.Text("source"), Section: r.Text("section"), Year: r.Text("year"), SeenIn: r.Text("seen_in"),
			Confidence: r.Required("confidence"), RestConfidence: r.Required("rest_confidence"), Notes: r.Text("notes"),
		}
		checkUniformity(r, all[i])
	}
	return all
})

func checkUniformity(r table.Row, l Level) {
	if _, _, ok := l.limit(); !ok && (l.Statistic.Ratio() || l.Uniformity != "" && !strings.HasPrefix(l.Uniformity, "task ")) {
		r.Fail("uniformity", `is none of "at least 0.x", "at most n", "task ..."`)
	}
}

// limit reads a published uniformity that holds for the whole area.
func (l Level) limit() (value float64, atLeast, ok bool) {
	for _, words := range []string{"at least ", "at most "} {
		if text, found := strings.CutPrefix(l.Uniformity, words); found {
			value, err := strconv.ParseFloat(text, 64)
			return value, words == "at least ", err == nil && value > 0
		}
	}
	return 0, false, false
}

// Levels returns all the levels, in the order of the table.
func Levels() []Level { return slices.Clone(levels()) }

// Names returns every name that Find knows, in the order of the table: ids, and before its first row each group's.
func Names() []string {
	var names []string
	for _, l := range levels() {
		if l.Group != l.ID && !slices.Contains(names, l.Group) {
			names = append(names, l.Group)
		}
		names = append(names, l.ID)
	}
	return names
}

// Find returns the level of that id. The name of a group finds its rows joined, with the texts of the first and the criteria of all: "wa-indoor-task"
// asks for an average and for a minimum.
func Find(id string) (Level, bool) {
	var joined []Level
	for _, l := range levels() {
		if l.ID == id {
			return l, true
		}
		if l.Group == id {
			joined = append(joined, l)
		}
	}
	if len(joined) == 0 {
		return Level{}, false
	}
	l := joined[0]
	l.ID, l.joined = id, joined
	return l, true
}

// Search returns the levels in which every word turns up, in any text of the row and any letter case; no words return all.
func Search(words string) []Level {
	wanted := strings.Fields(strings.ToLower(words))
	var all []Level
	for _, l := range levels() {
		text := strings.ToLower(strings.Join([]string{l.ID, l.Group, l.Space, l.Plane, l.Height, l.Statistic.String(), l.LegalStatus,
			l.AppliesTo, l.Currency, l.Source, l.Section, l.Year, l.Confidence, l.Notes}, "\n"))
		if !slices.ContainsFunc(wanted, func(word string) bool { return !strings.Contains(text, word) }) {
			all = append(all, l)
		}
	}
	return all
}

// Criteria returns what the level asks for, one criterion a statistic, with an empty Grid. A level published in both units is tested in fc if the job
// is imperial, else in lx; one published in a single unit in that one.
func (l Level) Criteria(imperial bool) []Criterion {
	var all []Criterion
	if l.joined != nil {
		for _, row := range l.joined {
			all = append(all, row.Criteria(imperial)...)
		}
		return all
	}
	if !l.Statistic.Ratio() {
		c := l.criterion(l.Statistic, l.Confidence)
		c.Name, c.AtLeast = l.Space, l.Statistic != Maximum
		c.Required, c.Unit = l.ValueLux, Lux
		if imperial && !math.IsNaN(l.ValueFC) || math.IsNaN(l.ValueLux) {
			c.Required, c.Unit = l.ValueFC, Footcandles
		}
		all = append(all, c)
	}
	if !math.IsNaN(l.AlsoMinimumFC) {
		c := l.criterion(Minimum, l.Confidence)
		c.Name, c.AtLeast = l.Space+", any point", true
		c.Required, c.Unit = l.AlsoMinimumFC, Footcandles
		all = append(all, c)
	}
	if value, atLeast, ok := l.limit(); ok {
		all = append(all, l.uniformity(value, atLeast))
	}
	return all
}

// uniformity turns minimum over average at least u into average over minimum at most 1/u; "at most" belongs to the row's own ratio.
func (l Level) uniformity(value float64, atLeast bool) Criterion {
	c := l.criterion(AverageToMinimum, l.RestConfidence)
	c.Name, c.Required = fmt.Sprintf("%s, minimum over average %s", l.Space, l.Uniformity), 1/value
	if !atLeast {
		c.Name, c.Statistic, c.Required = l.Space, l.Statistic, value
	}
	c.Unit = Ratio
	return c
}

// Cylindrical tells that the level is about cylindrical illuminance, and no other is.
func (l Level) Cylindrical() bool { return l.Plane == "cylindrical" }

// Comfort returns what the level asks for of glare or of color, which Criteria leaves out: a limit of the unified glare rating for observers, a least
// color rendering index for the room. ok is false where the row has none.
func (l Level) Comfort(s Statistic) (c Criterion, ok bool) {
	c = l.criterion(s, l.RestConfidence)
	c.Unit = Ratio
	text, found := strings.CutPrefix(strings.TrimPrefix(l.GlareLimit, "R"), "UG")
	text = strings.TrimLeft(text, "RL ") // editions write UGR 22 and RUGL 22 for one limit
	c.Name, c.Grid = l.Space+", UGR", Observers
	if s == ColorRendering {
		text, found = l.LeastColor, l.LeastColor != ""
		c.Name, c.Grid, c.AtLeast = l.Space+", color rendering", WholeRoom, true
	}
	value, err := strconv.ParseFloat(text, 64)
	c.Required = value
	return c, found && err == nil && value > 0 && s.Comfort()
}

func (l Level) criterion(s Statistic, confidence string) Criterion {
	return Criterion{Level: l.ID, Statistic: s, Source: l.Citation(), Confidence: confidence, Caveat: l.caveat(confidence)}
}

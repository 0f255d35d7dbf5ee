package catalog

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

//go:embed ballasts.csv
var ballastsCSV string

// KindNone is the kind of "ballast" of a type B LED tube, whose driver is inside.
const KindNone = "none"

// A Ballast is what feeds a number of lamps of one family: one ballast, or a set of several. Ballast factor and watts hold for that
// lamp and that number of lamps only.
type Ballast struct {
	Name        string // row of the table, "f32t8-4-is-normal"; computed ones are named alike, a mixed set by all its rows
	Lamp        string // family of lamp
	Lamps       int    // fed by the whole set
	Count       int    // ballasts in the set; 0 without any
	Parts       []Part // the ballasts of a set, those for most lamps first
	Kind        string // the user's word: "magnetic", "is-normal", "ps-low", "none", ...
	Description string

	BallastFactor     float64 // lamp lumens on this ballast over those on the reference ballast
	BallastFactorLow  float64 // the range that public figures and memory span; equal to BallastFactor where none is known
	BallastFactorHigh float64
	InputWatts        float64 // W, lamps and ballasts
	InputWattsLow     float64
	InputWattsHigh    float64

	Source, Confidence, Notes string

	efficacyFactor float64 // as printed in the table; 0 where computed
}

// A Part is a number of equal ballasts in a set.
type Part struct {
	Name         string // row of the table
	Lamps, Count int    // lamps that each of them feeds
}

// Set says what a set of several ballasts consists of, "2-lamp + 1-lamp" or "2 x 4-lamp"; "" for one ballast and for none.
func (b Ballast) Set() string {
	if b.Count < 2 {
		return ""
	}
	var words []string
	for _, p := range b.Parts {
		words = append(words, times(p.Count, strconv.Itoa(p.Lamps)+"-lamp"))
	}
	return strings.Join(words, " + ")
}

// times writes a number of equal things: "2 x 4-lamp"; one stands alone.
func times(n int, what string) string {
	if n == 1 {
		return what
	}
	return strconv.Itoa(n) + " x " + what
}

// FromMemory tells that watts or ballast factor rest on memory, or on our own estimate, and must not be shown as published.
func (b Ballast) FromMemory() bool {
	return strings.Contains(b.Confidence, "memory") || strings.Contains(b.Confidence, assumed)
}

// EfficacyFactor returns relative light output in percent over input watts, 1/W, of one ballast of a set of equal ones: 100 BF / W. It compares
// ballasts for the same lamp and number of lamps only. Source: 42 USC 6291.
func (b Ballast) EfficacyFactor() float64 {
	return 100 * b.BallastFactor * float64(b.Count) / b.InputWatts
}

var ballasts = sync.OnceValue(func() []Ballast {
	rows := table.Load("ballasts", ballastsCSV, "name", "lamp", "lamps", "kind", "description", "ballast_factor_low", "ballast_factor",
		"ballast_factor_high", "input_watts_low", "input_watts", "input_watts_high", "ballast_efficacy_factor", "source", "confidence", "notes")
	all := make([]Ballast, len(rows))
	for i, r := range rows {
		factor, watts := r.Number("ballast_factor"), r.Number("input_watts")
		all[i] = Ballast{
			Name: r.Required("name"), Lamp: r.Required("lamp"), Lamps: r.Count("lamps"), Count: 1, Kind: r.Required("kind"),
			Description:   r.Required("description"),
			BallastFactor: factor, BallastFactorLow: r.NumberOr("ballast_factor_low", factor), BallastFactorHigh: r.NumberOr("ballast_factor_high", factor),
			InputWatts: watts, InputWattsLow: r.NumberOr("input_watts_low", watts), InputWattsHigh: r.NumberOr("input_watts_high", watts),
			Source: r.Text("source"), Confidence: r.Required("confidence"), Notes: r.Text("notes"),
			efficacyFactor: r.Number("ballast_efficacy_factor"),
		}
		all[i].Parts = []Part{{all[i].Name, all[i].Lamps, 1}}
	}
	return all
})

// Ballasts returns all the ballasts of the table, in its order; computed ones come with BallastsFor.
func Ballasts() []Ballast { return slices.Clone(ballasts()) }

// BallastsFor returns what can feed that number of those lamps, one entry a kind: a single ballast where the table has one, else the set of the
// table's ballasts of that kind that draws the least watts, of two such sets the one of fewer ballasts. A type B LED tube gets the one
// entry "none". It is empty where nothing is known.
func BallastsFor(lamp Lamp, lamps int) []Ballast {
	if lamps < 1 {
		return nil
	}
	var kinds []string
	rows := map[string][]Ballast{} // of one kind, for any number of lamps
	for _, b := range singles(lamp) {
		if _, known := rows[b.Kind]; !known {
			kinds = append(kinds, b.Kind)
		}
		rows[b.Kind] = append(rows[b.Kind], b)
	}
	var all []Ballast
	for _, kind := range kinds {
		if b, ok := leastWatts(rows[kind], lamps); ok {
			all = append(all, b)
		}
	}
	return all
}

// FindBallast returns what feeds that number of those lamps: by kind ("magnetic", "is-normal"; see BallastsFor for how it is chosen) or by the name of a
// row, or of a set as BallastsFor names it. A row for fewer lamps stands for as many equal ballasts as it takes: f32t8-2-is-normal for four lamps is
// two of them. Letter case does not count. ok is false where the table has nothing of the kind for that lamp and number.
func FindBallast(lamp Lamp, lamps int, kind string) (ballast Ballast, ok bool) {
	if lamps < 1 {
		return Ballast{}, false
	}
	asked := plainKind(kind)
	for _, b := range singles(lamp) {
		if b.Name == asked && lamps%b.Lamps == 0 {
			return together([]Ballast{b}, []int{lamps / b.Lamps}), true
		}
	}
	for _, b := range BallastsFor(lamp, lamps) {
		if b.Kind == asked || plainKind(b.Name) == asked {
			return b, true
		}
	}
	return Ballast{}, false
}

func plainKind(kind string) string {
	return strings.ToLower(strings.ReplaceAll(strings.TrimSpace(kind), " ", "-"))
}

// leastWatts makes the set for a number of lamps out of rows of one kind, by the best set for every smaller number (dynamic programming).
func leastWatts(rows []Ballast, lamps int) (Ballast, bool) {
	const rounding = 1e-9 // W
	type best struct {
		watts float64
		count int
		last  int // row that was added
	}
	sets := make([]best, lamps+1)
	for n := 1; n <= lamps; n++ {
		sets[n] = best{watts: math.Inf(1), last: -1}
		for i, b := range rows {
			if n == lamps && b.Lamps == lamps {
				return b, true
			}
			if b.Lamps > n || sets[n-b.Lamps].last < 0 && n > b.Lamps {
				continue
			}
			s := best{sets[n-b.Lamps].watts + b.InputWatts, sets[n-b.Lamps].count + 1, i}
			if s.watts < sets[n].watts-rounding || s.watts < sets[n].watts+rounding && s.count < sets[n].count {
				sets[n] = s
			}
		}
	}
	if sets[lamps].last < 0 {
		return Ballast{}, false
	}
	counts := make([]int, len(rows))
	for n := lamps; n > 0; n -= rows[sets[n].last].Lamps {
		counts[sets[n].last]++
	}
	return together(rows, counts), true
}

// singles lists the single ballasts for a lamp, for any number of lamps: rows of the table, or computed ones.
func singles(lamp Lamp) []Ballast {
	switch {
	case lamp.LED && (lamp.RatedWatts <= 0 || lamp.LEDType == OnDriver):
		return nil
	case lamp.LED && lamp.LEDType == OnLine:
		return []Ballast{withoutBallast(lamp)}
	}
	var all []Ballast
	for _, b := range ballasts() {
		switch {
		case lamp.LED && b.Lamp == lamp.hosts:
			all = append(all, b.stays(lamp))
		case lamp.LED:
		case b.Lamp == lamp.Family:
			all = append(all, b)
		case b.Lamp == lamp.hosts && strings.Contains(b.Description, "instant start"):
			all = append(all, b.reduced(lamp))
		}
	}
	return all
}

// withoutBallast is one type B tube at line voltage.
func withoutBallast(lamp Lamp) Ballast {
	return Ballast{
		Name: strings.ToLower(lamp.Family) + "-1-" + KindNone, Lamp: lamp.Family, Lamps: 1, Kind: KindNone,
		Description:   "no ballast: line voltage at the sockets, driver in the tube (type B)",
		BallastFactor: 1, BallastFactorLow: 1, BallastFactorHigh: 1,
		InputWatts: lamp.RatedWatts, InputWattsLow: lamp.RatedWatts, InputWattsHigh: lamp.RatedWatts,
		Source: "computed: lamps x rated watts; " + lamp.Source, Confidence: "derived",
	}
}

// reduced is a ballast with a reduced-wattage lamp in place of the family's own, watts in proportion to the lamps' rated watts. The table has no rows of
// their own for these lamps; that a ballast's own loss shrinks alike is assumed.
func (b Ballast) reduced(lamp Lamp) Ballast {
	share := lamp.RatedWatts / hostWatts(lamp.hosts)
	r := b
	r.Name = strings.Replace(b.Name, strings.ToLower(lamp.hosts), strings.ToLower(lamp.Family), 1)
	r.Lamp, r.Parts = lamp.Family, []Part{{r.Name, r.Lamps, 1}}
	r.InputWatts, r.InputWattsLow, r.InputWattsHigh = b.InputWatts*share, b.InputWattsLow*share, b.InputWattsHigh*share
	r.Source = fmt.Sprintf("assumed: watts of row %s in proportion to rated lamp watts; that row: %s", b.Name, b.Source)
	r.Confidence, r.Notes, r.efficacyFactor = assumed, "the ballast must be listed for the reduced-wattage lamp", 0
	return r
}

// stays is a ballast that an LED tube of type A takes over from the family's lamps: light by its factor, watts in proportion to the rated watts of tube
// and lamp. What a pair draws in truth is in the tube maker's list.
func (b Ballast) stays(lamp Lamp) Ballast {
	share := lamp.RatedWatts / hostWatts(b.Lamp)
	s := b
	s.Lamp = lamp.Family
	s.InputWatts, s.InputWattsLow, s.InputWattsHigh = b.InputWatts*share, b.InputWattsLow*share, b.InputWattsHigh*share
	s.Source = fmt.Sprintf("assumed: watts of row %s in proportion to the rated watts of tube and lamp; that row: %s", b.Name, b.Source)
	s.Confidence, s.Notes, s.efficacyFactor = assumed, "the ballast must be on the tube maker's list", 0
	return s
}

func hostWatts(family string) float64 {
	for _, l := range lamps() {
		if l.Family == family {
			return l.RatedWatts
		}
	}
	panic("catalog: no lamp of the family " + family)
}

// together is a set of a number of ballasts of each row. Its ballast factor is the mean of the lamps', its confidence the least of its rows.
func together(rows []Ballast, counts []int) Ballast {
	var order []int
	lamps := 0
	for i, n := range counts {
		if n > 0 {
			order, lamps = append(order, i), lamps+n*rows[i].Lamps
		}
	}
	slices.SortStableFunc(order, func(i, j int) int { return rows[j].Lamps - rows[i].Lamps })
	first := rows[order[0]]
	if first.Lamps == lamps {
		return first
	}
	set := first
	set.Lamps, set.Count, set.Parts, set.InputWatts, set.InputWattsLow, set.InputWattsHigh = lamps, 0, nil, 0, 0, 0
	var names, sources, notes []string
	for _, i := range order {
		b, n := rows[i], counts[i]
		share := float64(n*b.Lamps) / float64(lamps)
		set.BallastFactor += share * (b.BallastFactor - first.BallastFactor) // exact where all are equal
		set.BallastFactorLow += share * (b.BallastFactorLow - first.BallastFactorLow)
		set.BallastFactorHigh += share * (b.BallastFactorHigh - first.BallastFactorHigh)
		set.InputWatts += float64(n) * b.InputWatts
		set.InputWattsLow += float64(n) * b.InputWattsLow
		set.InputWattsHigh += float64(n) * b.InputWattsHigh
		for _, part := range b.Parts { // one, or none without ballast
			set.Count += n
			set.Parts = append(set.Parts, Part{part.Name, part.Lamps, n})
		}
		names, sources, notes = append(names, times(n, b.Name)), with(sources, b.Source), with(notes, b.Notes)
		if b.Confidence == table.MemoryLow {
			set.Confidence = b.Confidence
		}
	}
	switch {
	case set.Kind == KindNone:
		set.Name = strings.Replace(first.Name, "-1-"+KindNone, "-"+strconv.Itoa(lamps)+"-"+KindNone, 1)
	case len(order) > 1:
		set.Name = strings.Join(names, " + ")
	}
	if words := set.Set(); words != "" {
		set.Description = words + ": " + first.Description
	}
	set.Source, set.Notes = strings.Join(sources, "; "), strings.Join(notes, "; ")
	return set
}

// with appends a text that is neither empty nor there already.
func with(all []string, text string) []string {
	if text == "" || slices.Contains(all, text) {
		return all
	}
	return append(all, text)
}

package catalog

import (
	_ "embed"
	"fmt"
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

// A Ballast is what feeds a number of lamps of one family: one ballast, or several equal ones together. Ballast factor and watts hold for that
// lamp and that number of lamps only.
type Ballast struct {
	Name        string // row of the table, "f32t8-4-is-normal"; computed ones are named alike
	Lamp        string // family of lamp
	Lamps       int    // fed by all of Count
	Count       int    // ballasts: 1 but for sets such as two two-lamp ballasts
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

// FromMemory tells that watts or ballast factor rest on memory, or on our own estimate, and must not be shown as published.
func (b Ballast) FromMemory() bool {
	return strings.Contains(b.Confidence, "memory") || strings.Contains(b.Confidence, assumed)
}

// EfficacyFactor returns relative light output in percent over input watts, 1/W, of one ballast of the set: 100 BF / W. It compares ballasts for
// the same lamp and number of lamps only. Source: 42 USC 6291.
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
	}
	return all
})

// Ballasts returns all the ballasts of the table, in its order; computed ones come with BallastsFor.
func Ballasts() []Ballast { return slices.Clone(ballasts()) }

// BallastsFor returns what can feed that number of those lamps, one entry a kind: a single ballast where the table has one, else the
// fewest equal ones. A type B LED tube gets the one entry "none". It is empty where nothing is known.
func BallastsFor(lamp Lamp, lamps int) []Ballast {
	if lamps < 1 {
		return nil
	}
	best := map[string]int{} // kind to its place in the result
	var all []Ballast
	for _, b := range singles(lamp) {
		set, ok := b.set(lamps)
		if !ok {
			continue
		}
		at, seen := best[b.Kind]
		switch {
		case !seen:
			best[b.Kind] = len(all)
			all = append(all, set)
		case set.Count < all[at].Count:
			all[at] = set
		}
	}
	return all
}

// FindBallast returns what feeds that number of those lamps: by kind ("magnetic", "is-normal"; see BallastsFor for how it is chosen) or by the name of a
// row. A row for fewer lamps stands for as many equal ballasts as it takes: f32t8-2-is-normal for four lamps is two of them.
// Letter case does not count. ok is false where the table has nothing of the kind for that lamp and number.
func FindBallast(lamp Lamp, lamps int, kind string) (ballast Ballast, ok bool) {
	if lamps < 1 {
		return Ballast{}, false
	}
	asked := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(kind), " ", "-"))
	for _, b := range singles(lamp) {
		if b.Name == asked {
			return b.set(lamps)
		}
	}
	for _, b := range BallastsFor(lamp, lamps) {
		if b.Kind == asked || b.Name == asked {
			return b, true
		}
	}
	return Ballast{}, false
}

// singles lists the single ballasts for a lamp, for any number of lamps: rows of the table, or computed ones.
func singles(lamp Lamp) []Ballast {
	if lamp.LED {
		if lamp.RatedWatts <= 0 {
			return nil
		}
		return []Ballast{withoutBallast(lamp)}
	}
	var all []Ballast
	for _, b := range ballasts() {
		switch {
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
		Name: strings.ToLower(lamp.Family) + "-1-" + KindNone, Lamp: lamp.Family, Lamps: 1, Count: 1, Kind: KindNone,
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
	r.Lamp = lamp.Family
	r.InputWatts, r.InputWattsLow, r.InputWattsHigh = b.InputWatts*share, b.InputWattsLow*share, b.InputWattsHigh*share
	r.Source = fmt.Sprintf("assumed: watts of row %s in proportion to rated lamp watts; that row: %s", b.Name, b.Source)
	r.Confidence, r.Notes, r.efficacyFactor = assumed, "the ballast must be listed for the reduced-wattage lamp", 0
	return r
}

func hostWatts(family string) float64 {
	for _, l := range lamps() {
		if l.Family == family {
			return l.RatedWatts
		}
	}
	panic("catalog: no lamp of the family " + family)
}

// set is as many of the ballast as feed the given number of lamps exactly.
func (b Ballast) set(lamps int) (Ballast, bool) {
	if lamps%b.Lamps != 0 {
		return Ballast{}, false
	}
	count := lamps / b.Lamps
	if count == 1 {
		return b, true
	}
	n := float64(count)
	if b.Kind == KindNone {
		b.Name = strings.Replace(b.Name, "-1-"+KindNone, "-"+strconv.Itoa(lamps)+"-"+KindNone, 1)
	} else {
		b.Description = fmt.Sprintf("%d x %d-lamp: %s", count, b.Lamps, b.Description)
	}
	b.Lamps, b.Count = lamps, count
	b.InputWatts, b.InputWattsLow, b.InputWattsHigh = n*b.InputWatts, n*b.InputWattsLow, n*b.InputWattsHigh
	return b, true
}

package proposal

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/figures"
	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/phrases"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/job"
	"lampswap/photometry/number"
	"lampswap/plots"
)

// offer is what an owner reads and signs: the answer, what it saves and costs, what is done, and the firm's
// own words.
func (c *content) offer() error {
	own := c.result.Job.Facts.Offer
	if err := c.letterhead(own.Firm); err != nil {
		return err
	}
	c.add(document.Heading{Level: 1, Text: c.result.Job.Title}, document.Facts{List: c.facts(own)})
	c.chapter(c.In.Say("verdict"))
	c.verdict()
	c.glanceFigure() // before what is said of the swap, so that it has room on the first page
	c.say(c.swapWords())
	c.say(c.qualified(c.savingWords(), c.result.Met(), "money.missed"))
	c.list(c.savingMinds())
	c.explain(c.In.Say("explain.plane", "plane", c.long(c.result.Job.Room.WorkPlane), "unit",
		c.In.Say("unit."+c.Length)))
	c.criteria()
	c.pointer()
	c.say(c.In.Say("record.what"))
	c.saving()
	c.work(own)
	return c.ownWords(own)
}

// ownWords are what the firm says itself.
func (c *content) ownWords(own job.Offer) error {
	if own.Notes != "" {
		c.chapter(c.In.Say("notes"))
		c.add(notesOf(own.Notes)...)
	}
	if err := c.photos(own.Photos); err != nil {
		return err
	}
	c.terms(own)
	return nil
}

func (c *content) letterhead(f job.Firm) error {
	if f.Name == "" {
		return nil
	}
	l := document.Letterhead{Name: f.Name, Lines: f.Address}
	license := f.License
	if license != "" {
		license = c.In.Say("letterhead.license", "number", license)
	}
	for _, line := range []string{f.Phone, f.Email, license} {
		if line != "" {
			l.Lines = append(l.Lines, line)
		}
	}
	if f.LogoContent != nil {
		var err error
		if l.Logo, err = document.PictureOf(f.LogoContent, f.Name); err != nil {
			return fmt.Errorf("%s %w", f.Logo, err)
		}
	}
	c.add(l)
	return nil
}

// facts are whose job it is and what it is about.
func (c *content) facts(own job.Offer) []document.Fact {
	r, f := c.result, c.result.Job.Facts
	var list []document.Fact
	say := func(key, value string) {
		if value != "" {
			list = append(list, document.Fact{Name: c.In.Say(key), Value: value})
		}
	}
	say("fact.date", c.day(f.Date))
	say("fact.until", c.day(own.ValidUntil))
	say("fact.for", f.PreparedFor)
	say("fact.by", f.PreparedBy)
	say("fact.room", c.roomWords())
	if kind := r.Job.Space; kind != nil && c.In == phrases.English { // their list is in English
		say("fact.kind", kind.Label())
	}
	hours := "fact.use.hours"
	if ledger.OwnHours(r.Job) {
		hours = "fact.use.own"
	}
	say("fact.use", c.In.Say(hours, "hours", number.Thousands(r.Job.Upkeep.HoursPerYear)))
	return list
}

// day is a date in full; "" where there is none.
func (c *content) day(d time.Time) string {
	if d.IsZero() {
		return ""
	}
	return c.In.Day(d)
}

// pointer says where the caveats of the answer are told, the gravest first.
func (c *content) pointer() {
	all := c.caveats(func(string) bool { return true })
	switch {
	case all == "":
	case len(c.caveat) == 1:
		c.say(c.In.Say("pointer", "caveats", all))
	default:
		c.say(c.In.Say("pointer.many", "caveats", all))
	}
}

// A caveat of the record with its number.
type caveat struct {
	number int
	said   string
}

// numbered gives texts numbers after so many others.
func numbered(after int, texts []string) []caveat {
	var all []caveat
	for i, text := range texts {
		all = append(all, caveat{after + i + 1, text})
	}
	return all
}

// caveats says where the record tells those caveats of what is being told that are such; "" where none is.
func (c *content) caveats(such func(said string) bool) string {
	var numbers []int
	for _, one := range c.caveat {
		if such(one.said) {
			numbers = append(numbers, one.number)
		}
	}
	return c.caveatsAt(numbers)
}

// caveatsAt names caveats of the record by their numbers, in ascending order.
func (c *content) caveatsAt(numbers []int) string {
	n := len(numbers)
	switch {
	case n == 0:
		return ""
	case n == 1:
		return c.In.Say("caveat.one", "first", numbers[0])
	case n == 2:
		return c.In.Say("caveat.two", "first", numbers[0], "last", numbers[1])
	case numbers[n-1]-numbers[0] == n-1:
		return c.In.Say("caveat.many", "first", numbers[0], "last", numbers[n-1])
	}
	var all []string
	for _, k := range numbers {
		all = append(all, strconv.Itoa(k))
	}
	return c.In.Say("caveat.list", "list", strings.Join(all[:n-1], ", ")+c.In.Say("and")+all[n-1])
}

// explain says what a luminaire, the light's unit, the work plane and maintained light are.
func (c *content) explain(plane string) {
	unit := map[bool]string{true: "explain.fc", false: "explain.lx"}[c.result.Job.Imperial]
	c.say(strings.Join([]string{c.In.Say("explain.luminaire"), c.In.Say(unit), plane,
		c.In.Say("explain.maintained", "age", c.age())}, " "))
}

// glanceFigure is the light as bars and as two small maps.
func (c *content) glanceFigure() {
	caption := "glance.caption.plain"
	if len(figures.AverageRequired(c.result.Job)) > 0 {
		caption = "glance.caption"
	}
	c.show(document.Figure{Parts: c.glance(), Caption: c.In.Say(caption)})
}

// glance are the bars and the two maps.
func (c *content) glance() []plots.Figure {
	r := c.result
	sides := r.Sides
	bars := figures.Bars(r)
	bars.Quantity, bars.Words = c.In.Say("glance.average"), c.In.Figures()
	for i, side := range sides {
		bars.Bars[i].Name = c.In.Say("side." + side.Name)
	}
	for i := range bars.Required {
		for _, v := range r.Job.Criteria {
			if v.Name == bars.Required[i].Name {
				bars.Required[i].Name = c.name(v)
				break
			}
		}
	}
	sheet := c.sheet(0)
	for i := range 2 {
		m := &sheet.Maps[i]
		m.Required, m.Of = 0, "" // the bars and the captions tell; the maps of the record are large enough for hatching
		m.Title, m.Caption, m.Quantity, m.Words = c.In.Say("side."+sides[i].Name), c.mapVerdict(i), "", c.In.Figures()
		if sides[i].Outside != nil {
			m.Title = c.In.Say("side.unknown", "side", m.Title)
		}
	}
	return []plots.Figure{bars, sheet.Panel(0), sheet.Panel(1)}
}

// mapVerdict says of each criterion of the work plane whether the existing (0) or the proposed (1) light
// meets it.
func (c *content) mapVerdict(side int) string {
	r := c.result
	var all []string
	for _, v := range r.Verdicts {
		if v.Grid != r.Existing().Grids[0].Name || !v.Statistic.OfGrid() {
			continue
		}
		key := map[bool]string{true: "map.met", false: "map.missed"}[v.By[side].Met]
		if r.Sides[side].Outside != nil {
			key = "map.unknown"
		}
		all = append(all, c.In.Say(key, "statistic", c.statistic(v.Statistic), "limit", c.limit(v.Criterion),
			"required", c.quantity(v.Criterion, v.RequiredIn(false), v.Finer(r.Job.Imperial))))
	}
	if len(all) == 0 {
		return ""
	}
	return typeset.Capital(strings.Join(all, "; ")) + "."
}

func (c *content) photos(all []job.Photo) error {
	if len(all) == 0 {
		return nil
	}
	c.chapter(c.In.Say("photographs"))
	for _, p := range all {
		picture, err := document.PictureOf(p.Content, p.Caption)
		if err != nil {
			return fmt.Errorf("%s %w", p.File, err)
		}
		c.add(picture)
	}
	return nil
}

// terms are the firm's warranty, for how long it offers, and lines to accept on.
func (c *content) terms(own job.Offer) {
	if len(own.Warranty) > 0 {
		c.chapter(c.In.Say("warranty"))
		c.add(document.Bullets{Items: own.Warranty})
	}
	if !own.Acceptance {
		return
	}
	c.chapter(c.In.Say("acceptance"))
	words := c.In.Say("acceptance.words")
	if !own.ValidUntil.IsZero() {
		words = c.In.Say("acceptance.until", "date", c.In.Day(own.ValidUntil))
	}
	c.say(words)
	signature, date := c.In.Say("acceptance.signature"), c.In.Say("acceptance.date")
	c.add(document.Blanks{Names: []string{c.In.Say("acceptance.owner"), c.In.Say("acceptance.firm"),
		signature, signature, date, date}})
}

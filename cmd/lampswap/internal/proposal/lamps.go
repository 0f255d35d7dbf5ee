package proposal

import (
	"fmt"
	"math"
	"strings"

	"lampswap/photometry/catalog"
	"lampswap/photometry/number"
)

// swapWords tells what hangs there now and what takes its place.
func (c *content) swapWords() string {
	r := c.result
	replaced := func(key string, with ...any) string {
		text := ""
		for _, side := range r.Sides[2:] {
			text = " " + c.In.Say(key, append(with, "n", c.In.Count(side.Luminaires, "luminaire"))...)
		}
		return text
	}
	if r.Existing().Parts != nil || r.Proposed().Parts != nil {
		return c.In.Say("swap.groups", "before", r.Existing().Luminaires, "after",
			r.Proposed().Luminaires) + replaced("swap.replacement.groups")
	}
	text := c.In.Say("swap.now.one", "lamps", c.systemWords(&r.Job.Existing))
	if r.Existing().Luminaires != 1 {
		text = c.In.Say("swap.now", "n", r.Existing().Luminaires, "lamps", c.systemWords(&r.Job.Existing))
	}
	proposed := c.systemWords(&r.Job.Proposed)
	if r.Proposed().Luminaires == r.Existing().Luminaires {
		text += " " + c.In.Say("swap.same", "lamps", proposed)
	} else {
		text += " " + c.In.Say("swap.other", "n", c.In.Count(r.Proposed().Luminaires, "luminaire"), "lamps", proposed)
	}
	for _, side := range r.Sides[2:] {
		if side.Parts != nil {
			return text + replaced("swap.replacement.groups")
		}
		text += replaced("swap.replacement", "lamps", c.systemWords(side.From))
	}
	return text
}

// systemWords is what one luminaire of a system has: 2 fluorescent lamps 8 ft long (F96T12), a magnetic
// ballast, 158 W.
func (c *content) systemWords(from systemSource) string {
	watts := fmt.Sprintf("%.0f", from.InputWatts)
	feed := c.feedWords(from)
	if feed == "" {
		return c.In.Say("system.alone", "lamps", c.lampWords(from), "watts", watts)
	}
	return c.In.Say("system", "lamps", c.lampWords(from), "feed", feed, "watts", watts)
}

// lampWords are the lamps of a luminaire, with the name by which they are bought.
func (c *content) lampWords(from systemSource) string {
	lamp := from.Lamp
	if from.Luminaire.Absolute {
		return c.In.Say("lamps.own")
	}
	if lamp == nil {
		return c.In.Count(from.Lamps, "lamps.lumens", "lumens", number.Thousands(from.LampLumens))
	}
	kind := map[bool]string{true: "lamps.led", false: "lamps.fluorescent"}[lamp.LED]
	length := max(lamp.NominalLength, 0)
	if length == 0 {
		length = lamp.Length
	}
	if !(length > 0) {
		return c.In.Count(from.Lamps, kind+".plain", "name", lamp.Name)
	}
	return c.In.Count(from.Lamps, kind, "length", c.In.Say("length", "n", c.long(length), "unit",
		c.In.Say("unit."+c.Length)), "name", lamp.Name)
}

// feedWords are what lamps burn on, as an owner knows it; "" where there is nothing to say.
func (c *content) feedWords(from systemSource) string {
	b := from.Ballast
	switch {
	case from.Luminaire.Absolute:
		return ""
	case b != nil && b.Kind == catalog.KindNone:
		return c.In.Say("feed.line")
	case b != nil && b.Count > 1:
		return c.In.Say("feed.set", "n", b.Count)
	case b != nil && strings.Contains(b.Description, "magnetic"):
		return c.In.Say("feed.magnetic")
	case b != nil && strings.Contains(b.Description, "electronic"):
		return c.In.Say("feed.electronic")
	case from.Lamp != nil && from.Lamp.LEDType == catalog.OnDriver:
		return c.In.Say("feed.driver")
	case from.Lamp != nil && from.Lamp.LEDType == catalog.OnLine:
		return c.In.Say("feed.line")
	}
	return c.In.Say("feed.other")
}

// savingWords tells what the swap does to the energy and what that is worth.
func (c *content) savingWords() string {
	e := c.result.Energy
	saved := math.Round(e.SavedKWhPerYear)
	if saved == 0 {
		return c.In.Say("saving.none")
	}
	if saved < 0 {
		return c.In.Say("saving.more", "kwh", number.Thousands(-saved), "percent",
			number.Fixed(-100*e.SavedShare, 0))
	}
	text := c.In.Say("saving", "kwh", number.Thousands(saved), "percent", number.Fixed(100*e.SavedShare, 0))
	if e.HeatingCooling != 0 {
		text = c.In.Say("saving.cooling", "kwh", number.Thousands(saved), "lights",
			number.Thousands(e.LightsSavedKWhPerYear),
			"percent", number.Fixed(100*e.SavedShare, 0))
	}
	if e.SavingPerYear != nil {
		key := map[bool]string{true: "saving.money.more", false: "saving.money"}[*e.SavingPerYear < 0]
		text += c.In.Say(key, "amount", c.Money(math.Abs(*e.SavingPerYear)))
	}
	costs := c.result.Job.Proposed.Costs
	switch {
	case e.NetCost == nil:
	case *e.NetCost < 0:
		text += c.In.Say("saving.rebate.over", "amount", c.Money(-*e.NetCost))
	default:
		key := "saving.cost.plain"
		if costs.Rebate != nil || len(e.Rebates) > 0 {
			key = "saving.cost"
		}
		text += c.In.Say(key, "amount", c.Money(*e.NetCost))
		if e.SimplePaybackYears != nil {
			text += c.In.Say("saving.payback", "years", number.Fixed(*e.SimplePaybackYears, 1))
		}
	}
	return text + "."
}

// qualified adds to a saving, by a phrase, that it is of light which is not enough.
func (c *content) qualified(saving string, met bool, key string) string {
	if met {
		return saving
	}
	return saving + " " + c.In.Say(key)
}

// savingMinds say what luminaires and lamps that are out make of the saving.
func (c *content) savingMinds() []string {
	r, e := c.result, c.result.Energy
	kw := func(x float64) string { return number.Fixed(x, 2) }
	var all []string
	if failed := r.Failed(); failed > 0 {
		all = append(all, c.In.Say("saving.failed", "failed", c.In.Count(failed, "failed"), "kw", kw(e.SavedKW),
			"kwh", number.Thousands(e.LightsSavedKWhPerYear),
			"litkw", kw(e.AllLitKW-e.ProposedKW), "litkwh", number.Thousands(e.AllLitKWhPerYear-e.ProposedKWhPerYear)))
	}
	outages := r.Outages()
	if len(outages) == 0 {
		return all
	}
	least := map[string]float64{"existing": e.ExistingKW, "proposed": e.ProposedKW}
	for _, o := range outages {
		least[o.Name] = o.LeastKW
	}
	saved := least["existing"] - least["proposed"]
	share := saved / math.Max(least["existing"], math.SmallestNonzeroFloat64)
	return append(all, c.In.Say("saving.outage", "kw", kw(e.SavedKW), "percent",
		number.Fixed(100*e.SavedShare, 0), "leastkw", kw(saved),
		"leastpercent", number.Fixed(100*share, 0)))
}

package proposal

import (
	"math"
	"slices"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/typeset"
	"lampswap/photometry/catalog"
	"lampswap/photometry/job"
	"lampswap/photometry/number"
	"lampswap/photometry/whole"
	"lampswap/photometry/wording"
)

// amount is money with the sign or the letters of its currency.
func (c *content) amount(x float64) string {
	text := c.Money(math.Abs(x))
	if x < 0 {
		return c.In.Say("money.less", "amount", text)
	}
	return text
}

// saving is what the swap saves and costs, line by line, and how far that is qualified.
func (c *content) saving() {
	c.chapter(c.In.Say("money"))
	switch r := c.result; {
	case r.Met():
	case !r.BrightEnough(), r.Proposed().Outside != nil:
		c.say(c.In.Say("money.qualified"))
	default:
		c.say(c.In.Say("money.qualified.power"))
	}
	c.add(c.savingTable())
}

func (c *content) savingTable() document.Table {
	r := c.result
	t := document.Table{Caption: c.In.Say("money.caption"), Label: c.In.Say("money.item"),
		Columns: []document.Column{{Name: c.In.Say("money.amount")}}}
	sides := r.Sides[1:]
	if r.ThreeWays() {
		t.Columns = c.sideColumns(sides)
	}
	saved, cost := document.Group{Name: c.In.Say("money.saving")}, document.Group{Name: c.In.Say("money.cost")}
	// each adds a row of what every new system has, if one has it.
	each := func(g *document.Group, label string, of func(side int) string) {
		row, told := document.Row{Label: typeset.Text(label)}, false
		for i := range sides {
			text := of(i + 1)
			row.Cells, told = append(row.Cells, document.Cell{Text: text}), told || text != ""
		}
		if told {
			g.Rows = append(g.Rows, row)
		}
	}
	each(&saved, c.In.Say("money.before"), func(int) string { return number.Thousands(r.Energy.Accounts[0].KWhPerYear) + " kWh" })
	each(&saved, c.In.Say("money.after"), func(i int) string { return number.Thousands(r.Energy.Accounts[i].KWhPerYear) + " kWh" })
	for k, key := range []string{"money.saved", "money.more"} {
		each(&saved, c.In.Say(key), func(i int) string {
			if s := r.Energy.SavingOf(i).SavingPerYear; s != nil && (*s < 0) == (k == 1) {
				return c.Money(math.Abs(*s))
			}
			return ""
		})
	}
	c.costRows(each, &cost)
	t.Groups = []document.Group{saved}
	if len(cost.Rows) > 0 {
		t.Groups = append(t.Groups, cost)
	}
	return t
}

// costRows are what the new systems cost line by line, what is paid back, and in how many years.
func (c *content) costRows(each func(g *document.Group, label string, of func(side int) string), g *document.Group) {
	r := c.result
	amount := func(x *float64, sign float64) string {
		if x == nil {
			return ""
		}
		return c.amount(sign * *x)
	}
	costs := func(i int) job.Costs { return r.Sides[i].From.Costs }
	only := func(side int, text string) func(int) string {
		return func(i int) string { return map[bool]string{true: text}[i == side] }
	}
	rebated := func(i int) bool { return costs(i).Rebate != nil || i == 1 && len(r.Energy.Rebates) > 0 }
	anyRebate := false
	for i, side := range r.Sides[1:] {
		anyRebate = anyRebate || rebated(i+1)
		for _, line := range side.From.Costs.Lines {
			each(g, typeset.Capital(line.Text), only(i+1, c.amount(line.Amount)))
		}
	}
	each(g, c.In.Say("money.work"), func(i int) string { return amount(costs(i).InstalledCost, 1) })
	each(g, c.In.Say("money.rebate"), func(i int) string { return amount(costs(i).Rebate, -1) })
	for _, paid := range r.Energy.Rebates {
		each(g, c.In.Say("money.rebate."+paid.Per, "n", number.Thousands(paid.Units)), only(1, c.amount(-paid.Paid)))
	}
	if anyRebate {
		each(g, c.In.Say("money.net"), func(i int) string { return amount(r.Energy.SavingOf(i).NetCost, 1) })
	}
	each(g, c.In.Say("money.payback"), func(i int) string {
		years := r.Energy.SavingOf(i).SimplePaybackYears
		if years == nil {
			return ""
		}
		return c.In.Say("money.years", "n", number.Fixed(*years, 1))
	})
}

// work is what is bought, taken out and done, and with what care.
func (c *content) work(own job.Offer) {
	counted := whole.Alone(c.result)
	table := c.takeOffTable(counted)
	if len(table.Groups)+len(own.Work) == 0 {
		return
	}
	c.chapter(c.In.Say("work"))
	c.takeOff(counted, table)
	c.steps(own.Work)
	c.safety(c.caveat)
}

// takeOff is the table of what comes in and goes out, and what is to be done with it.
func (c *content) takeOff(counted *whole.Result, t document.Table) {
	if len(t.Groups) > 0 {
		c.add(t)
		c.list(c.takeOffWords(counted))
	}
}

// safety is how the work is done safely; the cautions of the record follow its caveats.
func (c *content) safety(told []caveat) {
	c.say(c.In.Say("work.care"))
	var types []catalog.LEDType
	for _, kind := range c.result.Job.Proposed.Kinds() {
		if l := kind.Lamp; l != nil && l.LEDType != "" && !slices.Contains(types, l.LEDType) {
			types = append(types, l.LEDType)
			c.say(c.In.Say("work.tube." + string(l.LEDType)))
		}
	}
	var numbers []int
	for i := range wording.Cautions(c.result) {
		numbers = append(numbers, len(told)+i+1)
	}
	c.say(c.In.Say("work.cautions", "caveats", c.caveatsAt(numbers)))
}

// takeOffTable counts what comes in and goes out, kind by kind; columns without a number are left out.
func (c *content) takeOffTable(counted *whole.Result) document.Table {
	names := []string{"takeoff.lamps", "takeoff.ballasts", "takeoff.sockets", "takeoff.luminaires"}
	in := takeOffGroup{Group: document.Group{Name: c.In.Say("takeoff.in")}}
	out := takeOffGroup{Group: document.Group{Name: c.In.Say("takeoff.out")}}
	for _, k := range counted.Schedule {
		if k.Lamps+k.Ballasts+k.Mounted > 0 {
			in.row(c.kindWords(k), k.Lamps, k.Ballasts, k.Sockets, k.Mounted)
		}
		if k.LampsOut+k.BallastsOut+k.Dismounted > 0 {
			out.row(c.kindWords(k), k.LampsOut, k.BallastsOut, 0, k.Dismounted)
		}
	}
	t := document.Table{Caption: c.In.Say("takeoff.caption"), Label: c.In.Say("takeoff.kind")}
	var kept []int
	for i, key := range names {
		if in.sums[i]+out.sums[i] > 0 {
			kept = append(kept, i)
			t.Columns = append(t.Columns, document.Column{Name: c.In.Say(key)})
		}
	}
	for _, g := range []*takeOffGroup{&in, &out} {
		if len(g.counts) > 1 {
			g.row(c.In.Say("takeoff.all"), g.sums[0], g.sums[1], g.sums[2], g.sums[3])
		}
		for i := range g.Rows {
			for _, k := range kept {
				text := "–"
				if n := g.counts[i][k]; n > 0 {
					text = number.Thousands(float64(n))
				}
				g.Rows[i].Cells = append(g.Rows[i].Cells, document.Cell{Text: text})
			}
		}
		if len(g.Rows) > 0 {
			t.Groups = append(t.Groups, g.Group)
		}
	}
	return t
}

// A takeOffGroup is the rows that come in, or that go out, with what they count and its sums.
type takeOffGroup struct {
	document.Group
	counts [][4]int
	sums   [4]int
}

func (g *takeOffGroup) row(label string, counts ...int) {
	g.Rows = append(g.Rows, document.Row{Label: label})
	g.counts = append(g.counts, [4]int(counts))
	for i, n := range counts {
		g.sums[i] += n
	}
}

// kindWords is what a kind of luminaire has, with the job's name for it.
func (c *content) kindWords(k whole.Kind) string {
	lamps := c.lampWords(k.System)
	if k.System.Kind == "" {
		return lamps
	}
	return c.In.Say("takeoff.named", "name", k.Name, "lamps", lamps)
}

// takeOffWords say what is counted, and what is to be done with what goes out.
func (c *content) takeOffWords(counted *whole.Result) []string {
	in, out := 0, counted.Outgoing()
	var assumed []string
	for _, k := range counted.Schedule {
		in += k.Lamps
		if k.Ballasts+k.BallastsOut > 0 && k.System.Ballast == nil {
			assumed = append(assumed, c.In.Say("takeoff.assumed", "kind", c.kindWords(k)))
		}
	}
	law := func(key string) []any {
		if !c.result.Job.InUnitedStates() {
			return []any{"law", ""}
		}
		return []any{"law", c.In.Say(key)}
	}
	var all []string
	say := func(n int, key string, with ...any) {
		if n > 0 {
			all = append(all, c.In.Say(key, append(with, "n", number.Thousands(float64(n)))...))
		}
	}
	if in > 0 {
		all = append(all, c.In.Say("takeoff.sockets.words"))
	}
	say(out.Mercury, "takeoff.mercury", law("takeoff.mercury.law")...)
	say(out.PCB, "takeoff.pcb", law("takeoff.pcb.law")...)
	say(out.Electronic, "takeoff.electronic")
	say(out.Dismounted, "takeoff.whole.words")
	return append(all, assumed...)
}

// steps is the schedule of the work.
func (c *content) steps(work []job.Step) {
	if len(work) == 0 {
		return
	}
	t := document.Table{Caption: c.In.Say("steps.caption"), Label: c.In.Say("steps.step"),
		Columns: []document.Column{{Name: c.In.Say("steps.when"), Share: 0.3}}}
	var g document.Group
	for _, step := range work {
		g.Rows = append(g.Rows, document.Row{Label: step.What, Cells: []document.Cell{{Text: step.When}}})
	}
	t.Groups = []document.Group{g}
	c.add(t)
}

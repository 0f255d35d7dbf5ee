package wording

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"lampswap/photometry/options"
)

// Options say what to choose, the least energy first; what is darker than before, or no longer made, is followed by the first that is
// not. They stand here, and not with the command, as the JSON carries them.
func Options(o *options.Options) []string {
	if scope := scope(o); scope != "" {
		return append([]string{scope}, choice(o)...)
	}
	return choice(o)
}

func choice(o *options.Options) []string {
	if len(o.List) == 0 || o.List[0].Part() > options.PartMeetsRest {
		return append([]string{nothing(o)}, beyondAnySwap(o)...)
	}
	first := &o.List[0]
	var all []string
	if !o.Met() {
		all = append([]string{"Nothing meets every criterion."}, beyondAnySwap(o)...)
	}
	all = append(all, fmt.Sprintf("Least energy that %s: %s.%s", Rule(o), describe(o, first), caveats(first)))
	next := func(what, none string, good func(*options.Option) bool) {
		if good(first) {
			return
		}
		at := slices.IndexFunc(o.List, func(p options.Option) bool { return p.Part() == first.Part() && good(&p) })
		if at < 0 {
			all = append(all, none+".")
			return
		}
		all = append(all, fmt.Sprintf("Least energy of those that %s: %s.%s", what, describe(o, &o.List[at]), caveats(&o.List[at])))
	}
	next("are not darker than the existing lighting", "Each of those is darker than the existing lighting", func(p *options.Option) bool { return !p.Darker })
	next("can still be bought", "None of those can still be bought", func(p *options.Option) bool { return !p.Ended() })
	return all
}

// caveats points at the notes of an option.
func caveats(p *options.Option) string {
	var signs []string
	for _, n := range p.Notes {
		if sign := string(n.Sign); !slices.Contains(signs, sign) {
			signs = append(signs, sign)
		}
	}
	switch len(signs) {
	case 0:
		return ""
	case 1:
		return " Mind note " + signs[0] + "."
	}
	return " Mind the notes " + strings.Join(signs[:len(signs)-1], ", ") + " and " + signs[len(signs)-1] + "."
}

func describe(o *options.Options, p *options.Option) string {
	light := fmt.Sprintf("%s maintained", o.Job.Light(p.Average()))
	if !p.Existing {
		light += fmt.Sprintf(", %s the existing %s", Compared(o.Existing().Average(), p.Average()), o.Job.Light(o.Existing().Average()))
	}
	name := Option(p)
	switch {
	case p.Whole || p.Each != nil:
		return fmt.Sprintf("%s (%.2f kW in all), %s", name, p.KW, light)
	case p.Existing:
		name = "the existing lighting as it is, " + name
	case p.Proposed:
		name = "the proposed " + name
	case p.Replacement:
		name = "the replacement " + name
	}
	if !o.Job.OneKind() && p.Existing {
		return fmt.Sprintf("the existing lighting as found (%.2f kW in all), %s", p.KW, light)
	}
	return fmt.Sprintf("%s (%.0f W a luminaire, %.2f kW in all), %s", name, p.From.InputWatts, p.KW, light)
}

// beyondAnySwap says which criteria the existing lighting and all rows of the list miss, and how near they come.
func beyondAnySwap(o *options.Options) []string {
	var all []string
	for i, c := range o.Job.Criteria {
		if !o.Unmeetable[i] {
			continue
		}
		best := math.NaN()
		for k := range o.List {
			p := &o.List[k]
			if x := p.Verdicts[i].Value; (p.May() || p.Own()) && (math.IsNaN(best) || c.Margin(x) > c.Margin(best)) {
				best = x
			}
		}
		whom, why := "lamp and ballast of the list", ""
		if o.Narrowed {
			whom = "lamp and ballast that was asked for"
		}
		if o.Aside(i) {
			why = " More light or less does not change that ratio: where the luminaires hang decides it, and what stands in the room."
		}
		all = append(all, fmt.Sprintf("No %s meets %s, nor does the existing lighting.%s", whom, MissedAtBest(o.Job, c, best), why))
	}
	return all
}

// nothing says that no option will do, and which comes nearest.
func nothing(o *options.Options) string {
	p := o.Nearest()
	if p == nil {
		return "Nothing in the list of lamps and ballasts fits what was asked for."
	}
	if len(o.Job.Criteria) == 0 {
		return fmt.Sprintf("Nothing %s; the nearest: %s.", Rule(o), describe(o, p))
	}
	return fmt.Sprintf("Nothing meets every criterion. The nearest: %s; it misses %s.", describe(o, p), missedBy(o, p))
}

// missedBy says which criteria an option misses, and by how much.
func missedBy(o *options.Options, p *options.Option) string {
	var missed []string
	for i, c := range o.Job.Criteria {
		if v := p.Verdicts[i]; !v.Met {
			missed = append(missed, Missed(o.Job, c, v.Value))
		}
	}
	return strings.Join(missed, " and ")
}

// Rule says in words what the options are held against.
func Rule(o *options.Options) string {
	if !o.Met() && len(o.List) > 0 && o.List[0].Part() == options.PartMeetsRest {
		return "meets every criterion that a swap can meet"
	}
	if len(o.Job.Criteria) == 0 {
		return "is not darker than the existing lighting (the job has no criteria)"
	}
	return "meets every criterion"
}

// scope says in a job with groups what is varied and what is not; "" in others.
func scope(o *options.Options) string {
	if len(o.Job.Groups) == 1 {
		return ""
	}
	return fmt.Sprintf("Lamps and ballasts of group %q; all other groups stay as proposed. Watts are of a luminaire of that group; light, load and power density are of the whole room.", o.Group)
}

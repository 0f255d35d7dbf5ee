package wording

import (
	"fmt"
	"slices"
	"strings"

	"lampswap/photometry/catalog"
	"lampswap/photometry/job"
	"lampswap/photometry/number"
	"lampswap/photometry/options"
)

// Option says what an option is: 2 x F32T8/HL on is-low.
func Option(p *options.Option) string {
	switch {
	case p.Whole && p.Existing:
		return "the existing lighting"
	case p.Whole:
		return "the lighting as proposed"
	case p.Each != nil:
		return strings.Join(slices.Compact(OptionNames(p.Each)), " and ")
	case !p.Any() || p.From.Luminaire.Absolute:
		return Lamps(p)
	}
	name := Lamps(p)
	if p.Empty() {
		name += " in " + Filled(p) + " of the fixture's length"
	}
	switch b := p.From.Ballast; {
	case b == nil:
		return fmt.Sprintf("%s at ballast factor %.3g", name, p.From.BallastFactor)
	case b.Kind == catalog.KindNone:
		return name + " without ballast"
	case len(b.Parts) > 1:
		return fmt.Sprintf("%s on %s, %s", name, b.Kind, b.Set())
	case b.Count > 1:
		return fmt.Sprintf("%s on %d x %s", name, b.Count, b.Kind)
	default:
		return fmt.Sprintf("%s on %s", name, b.Kind)
	}
}

// OptionNames say what each option is.
func OptionNames(of []options.Option) []string {
	var all []string
	for i := range of {
		all = append(all, Option(&of[i]))
	}
	return all
}

// Lamps says what lamps a luminaire of an option has: 2 x F32T8/HL.
func Lamps(p *options.Option) string {
	switch {
	case !p.Any():
		return "none"
	case p.From.Luminaire.Absolute:
		return "the luminaire as a whole"
	}
	return p.From.LampWords()
}

// Filled says how much of the fixture's length has lamps: half, or 2/3.
func Filled(p *options.Option) string {
	if 2*p.From.Tubes.EndToEnd == p.Places {
		return "half"
	}
	return fmt.Sprintf("%d/%d", p.From.Tubes.EndToEnd, p.Places)
}

// Note says what to know about an option of a job.
func Note(j *job.Job, n options.Note) string {
	switch n.Sign {
	case options.Ended:
		return Notice(n.Rule, n.On)
	case options.FromMemory:
		return "the lumens of the lamp, or what they lose, are from memory in part, unverified"
	case options.WattsFromMemory:
		return "watts, ballast factor or both are from memory or assumed, unverified: take them from the ballast's label"
	case options.DiameterTaken:
		return fmt.Sprintf("the tube's diameter is not known: %s taken", j.LampDiameter(n.Diameter))
	case options.BeamUnknown:
		return "the angle into which the tube sends its light is not known: computed as if it were all round"
	case options.OfFile:
		return "the light distribution is that of the photometric file, with other lamps; a cross-section would tell the lamp's own"
	case options.FarFromRating:
		return fmt.Sprintf("%s is far from the ambient at which the lamp is rated, %s: %.2f of the light is counted, an estimate, doubt %.2f to %.2f",
			j.Degrees(n.Ambient), j.Degrees(n.Rated), n.Factor, n.Low, n.High)
	case options.HalfEmpty:
		return "the rest of the fixture's length stays empty; computed as if the lamps burnt in its middle"
	case options.TotalForAnother:
	}
	return "the total of all losses that the job gives is for another lamp; the factors are computed instead"
}

// LeftOut says what could not be an option, and why, each once.
func LeftOut(o *options.Options) []string {
	var all []string
	for _, out := range o.LeftOut {
		names := strings.Join(out.Names, ", ")
		if out.Option != nil {
			names = Option(out.Option)
		}
		if text := names + ": " + reason(o.Job, out.Reason); !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	return all
}

func reason(j *job.Job, r options.Reason) string {
	switch r.Why {
	case options.AbsoluteFile:
		return "absolute photometry, of the luminaire as a whole, cannot serve other lamps: they need a cross-section"
	case options.LampsUntold:
		return "nothing tells what lamps it was photometered with: name a lamp of the list, or give a cross-section"
	case options.FileServes:
		told := ""
		if r.Lumens > 0 {
			told = fmt.Sprintf(" (lamps of %s, told by the lit length and %s lm a lamp)", j.LampLength(r.Length), number.Thousands(r.Lumens))
		}
		return fmt.Sprintf("a photometric file serves %d lamps of %s only: other numbers and lengths need a cross-section", r.Lamps, j.LampLength(r.Length)) + told
	case options.WrongLength:
		return fmt.Sprintf("of %s, does not fill a fixture of %s", j.LampLength(r.Length), j.LampLength(r.Fills))
	case options.TooThick:
		return "too thick for the lampholders of " + r.Text
	case options.TooCold:
		return fmt.Sprintf("not below %s, and the room has %s", j.Degrees(r.Least), j.Degrees(j.Upkeep.AmbientCelsius))
	case options.BallastTooCold:
		return fmt.Sprintf("on an %s ballast: none is told to start below %s, and the room has %s", r.Text, j.Degrees(r.Least), j.Degrees(j.Upkeep.AmbientCelsius))
	case options.Dark:
		return "no light leaves the fixture"
	case options.Misfit:
	}
	return r.Text
}

// KindsLeftOut says what could not be a kind, with the spaces where it could not, if it is not all of those that are varied.
func KindsLeftOut(k *options.Kinds) []string {
	spaces, varied := map[string][]string{}, 0
	var all []string
	for i := range k.Rooms {
		s := &k.Rooms[i]
		if len(s.Varied) > 0 {
			varied++
		}
		for _, text := range LeftOut(s.All) {
			if spaces[text] == nil {
				all = append(all, text)
			}
			spaces[text] = append(spaces[text], s.Name)
		}
	}
	for i, text := range all {
		if len(spaces[text]) < varied {
			all[i] = Of(text, spaces[text])
		}
	}
	return all
}

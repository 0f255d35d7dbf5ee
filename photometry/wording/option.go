package wording

import (
	"fmt"
	"slices"
	"strconv"
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

var optionNotes = map[options.Sign]string{
	options.Ended:           "{rule}",
	options.FromMemory:      "the lumens of the lamp, or what they lose, are from memory in part, unverified",
	options.WattsFromMemory: "watts, ballast factor or both are from memory or assumed, unverified: take them from the ballast's label",
	options.DiameterTaken:   "the tube's diameter is not known: {diameter} taken",
	options.BeamUnknown:     "the angle into which the tube sends its light is not known: computed as if it were all round",
	options.OfFile:          "the light distribution is that of the photometric file, with other lamps; a cross-section would tell the lamp's own",
	options.FarFromRating:   "{ambient} is far from the ambient at which the lamp is rated, {rated}: {factor} of the light is counted, an estimate, doubt {low} to {high}",
	options.HalfEmpty:       "the rest of the fixture's length stays empty; computed as if the lamps burnt in its middle",
	options.TotalForAnother: "the total of all losses that the job gives is for another lamp; the factors are computed instead",
}

// Note says what to know about an option of a job.
func Note(j *job.Job, n options.Note) string {
	return strings.NewReplacer("{rule}", Notice(n.Rule, n.On), "{diameter}", j.LampDiameter(n.Diameter), "{ambient}", j.Degrees(n.Ambient), "{rated}", j.Degrees(n.Rated),
		"{factor}", number.Fixed(n.Factor, 2), "{low}", number.Fixed(n.Low, 2), "{high}", number.Fixed(n.High, 2)).Replace(optionNotes[n.Sign])
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

var reasons = map[options.Why]string{
	options.AbsoluteFile:   "absolute photometry, of the luminaire as a whole, cannot serve other lamps: they need a cross-section",
	options.LampsUntold:    "nothing tells what lamps it was photometered with: name a lamp of the list, or give a cross-section",
	options.FileServes:     "a photometric file serves {lamps} lamps of {length} only: other numbers and lengths need a cross-section{told}",
	options.WrongLength:    "of {length}, does not fill a fixture of {fills}",
	options.TooThick:       "too thick for the lampholders of {text}",
	options.TooCold:        "not below {least}, and the room has {ambient}",
	options.BallastTooCold: "on an {text} ballast: none is told to start below {least}, and the room has {ambient}",
	options.Misfit:         "{text}",
	options.Dark:           "no light leaves the fixture",
}

func reason(j *job.Job, r options.Reason) string {
	told := ""
	if r.Lumens > 0 {
		told = fmt.Sprintf(" (lamps of %s, told by the lit length and %s lm a lamp)", j.LampLength(r.Length), number.Thousands(r.Lumens))
	}
	return strings.NewReplacer("{lamps}", strconv.Itoa(r.Lamps), "{length}", j.LampLength(r.Length), "{told}", told, "{fills}", j.LampLength(r.Fills), "{text}", r.Text,
		"{least}", j.Degrees(r.Least), "{ambient}", j.Degrees(j.Upkeep.AmbientCelsius)).Replace(reasons[r.Why])
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

package wording

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"lampswap/photometry"
	"lampswap/photometry/metrology"
	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
)

var surveyNotes = map[survey.NoteCode]string{
	survey.OurPlaces: "the formula and its weights are published (from memory, unverified); the place of each station within its bay is our choice, " +
		"by the trapezoidal rule over a bay",
	survey.OffAtEnds: "the outer luminaires hang {share} of a spacing from the walls at the ends of the rows, where the formula supposes half of one: " +
		"its weights are off by what that strip takes of the room",
	survey.OffBeside: "the outer luminaires hang {share} of a spacing from the walls beside the rows, where the formula supposes half of one: " +
		"its weights are off by what that strip takes of the room",
	survey.EmptyRoom:     "the formula supposes an empty room: with racks, a grid of each aisle and face answers better",
	survey.MovedOut:      "moved out of racks: {names}",
	survey.TooFarIn:      "inside racks, too far in to be moved, and dropped: {names}",
	survey.PointsLeftOut: "{of}: {count} of {all} points lie inside racks or within a foot of one and are left out",
	survey.CenterLines: "stations lie on the center lines of the aisles, systematically, as far apart as luminaires hang above the work plane or less (our choice); " +
		"the average of the grid is its prediction times measured over predicted here, and a minimum takes a grid read point by point",
	survey.SomeAisles: "{count} of {all} aisles are read; if {dead} of them were dark, the chance to see one of those is {percent} percent, as if drawn at random",
	survey.SomeBays: "{count} of {all} bays, drawn at random (always the same for a layout), are read beside the formula's: if {dead} of them were dead, " +
		"the chance to see one is {percent} percent",
	survey.LikePlaces:    "so few stations may fall at like places among the luminaires: with more they would not",
	survey.StoodFor:      "no reading at {names}: what was read at {others}, {of} as well, counts there too",
	survey.MeanOfOthers:  "{missing}: the mean is that of the other {count} points",
	survey.ReadElsewhere: "{of} was read {away} from its station; it is compared at the place where it was read",
}

// SurveyNote says what a reader must know about a plan, or of how readings were taken in.
func SurveyNote(n survey.Note, imperial bool) string {
	away := fmt.Sprintf("%.2g m", n.Meters)
	if imperial {
		away = fmt.Sprintf("%.2g ft", n.Meters/photometry.Foot)
	}
	return strings.NewReplacer("{of}", n.Of, "{names}", strings.Join(n.Names, ", "), "{others}", strings.Join(n.Others, ", "), "{count}", strconv.Itoa(n.Count),
		"{all}", strconv.Itoa(n.All), "{dead}", strconv.Itoa(n.Dead), "{share}", fmt.Sprintf("%.2g", n.Share), "{percent}", fmt.Sprintf("%.0f", 100*n.Share),
		"{away}", away, "{missing}", (&survey.MissingError{Stations: n.Names}).Words()).Replace(surveyNotes[n.Code])
}

// PlanNotes say what a reader must know about a plan.
func PlanNotes(p survey.Plan) []string {
	var all []string
	for _, n := range p.Notes {
		all = append(all, SurveyNote(n, false)) // none has a unit
	}
	return all
}

// Preparation says what has to be so before the first reading, a sentence each, with its source.
func Preparation() []string {
	season, warm, sunset := survey.Preparation()
	return []string{
		fmt.Sprintf("Fluorescent lamps have burnt %.0f h (%s).", season.Value, season.Source),
		fmt.Sprintf("The lamps are on for %.0f min, longer in a cold room (%s).", warm.Value, warm.Source),
		fmt.Sprintf("It is dark: %.0f min after sunset (%s).", sunset.Value, sunset.Source),
		"Clean and level the sensor, keep your body and bright clothing out of its light; write down line voltage, temperature and lamps that are out (" + survey.Practice + ").",
	}
}

var conditionWarnings = map[survey.WarningCode]string{
	survey.Unseasoned:  "the lamps have burnt {is} h: the initial lumens of fluorescent lamps are those at {want} h; readings before prove no initial level",
	survey.ShortWarmUp: "the lamps were on for {is} min before the first reading: wait for {want} min, and longer in a cold room",
	survey.Spectrum: "the lamps are LED: a meter is calibrated on incandescent light, and how far its eye differs from the standard observer's shows most under " +
		"other spectra; apply the maker's factor for LED if there is one, and count on the spectral mismatch of its class at least",
	survey.CleanedLongAgo:    "the luminaires were cleaned {is} months ago: readings prove the level of that day, not the initial one",
	survey.LampsOut:          "{percent} percent of the lamps were out: compare with what is predicted for the burning ones, at their places",
	survey.SupplyOff:         "the supply was {is} V where {want} V is rated, {off} percent: the light changes with it, by how much depends on the ballast",
	survey.AmbientOff:        "the air at the luminaires was at {degrees}, and the lamps' lumens are rated at {rated}: the light is not that of the rating",
	survey.DaylightIn:        "daylight is in the readings: read after dark, or read daylight alone and subtract it",
	survey.DaylightTakenOff:  "daylight was subtracted: it changes between two readings, and that is not in the uncertainty",
	survey.EarlyInTheNight:   "readings began {is} min after sunset: wait for {want} min",
	survey.CalibratedLongAgo: "the meter was calibrated {is} months ago",
	survey.NotWrittenDown:    "not written down, and what was taken instead: {missing}",
}

// A ConditionWarning says what of the conditions makes readings prove less than they seem to.
type ConditionWarning struct{ Key, Text, Source string }

// ConditionWarnings are those of the conditions on site.
func ConditionWarnings(v *verification.Verification) []ConditionWarning {
	var all []ConditionWarning
	for _, w := range v.Warnings {
		whole := func(x float64) string { return fmt.Sprintf("%.0f", x) }
		text := strings.NewReplacer("{is}", whole(w.Is), "{want}", whole(w.Want), "{percent}", whole(100*w.Is), "{off}", fmt.Sprintf("%+.1f", 100*(w.Is/w.Want-1)),
			"{degrees}", photometry.Degrees(w.Is), "{rated}", photometry.Degrees(w.Want), "{missing}", taken(v, w.Missing)).Replace(conditionWarnings[w.Code])
		all = append(all, ConditionWarning{w.Key, text, w.Source})
	}
	return all
}

var conditionDoubts = map[survey.DoubtCode]string{
	survey.DaylightNotNoted: "whether daylight was in them is not noted",
	survey.DaylightWasIn:    "daylight was in them",
	survey.OnTooShort:       "the lamps were on for {is} min only",
	survey.BurntTooShort:    "the lamps had burnt {is} h only",
}

// conditionNames are of conditions by their keys, each with what the prediction for the day takes where it was not written down.
var conditionNames = map[string][2]string{
	"hours_burnt":  {"hours the lamps have burnt", "lamps at {lamps} of their initial lumens, as by the job's loss factors"},
	"warm_up":      {"warm-up", "lamps at full light"},
	"cleaning":     {"months since cleaning", "{months}luminaires at {dirt} and room surfaces at {surfaces}"},
	"voltage":      {"supply voltage", "the job's factor for voltage, {voltage}"},
	"temperature":  {"temperature", "the job's {ambient}"},
	"daylight":     {"daylight", "no daylight"},
	"failed_lamps": {"lamps that were out", "the job's factor for lamps out, {out}"},
	"meter_unit":   {"what the meter shows, fc or lx", "{unit}, as the header of the readings"},
	"calibration":  {"the meter's calibration", "the meter as good as it is stated to be"},
}

// taken names conditions with what was taken instead, group by group where groups differ.
func taken(v *verification.Verification, keys []string) string {
	var all []string
	for _, key := range keys {
		name, same := conditionNames[key], true
		var words, groups []string
		for _, d := range v.Days {
			words = append(words, instead(v, d, name[1]))
			groups = append(groups, d.Group+": "+words[len(words)-1])
			same = same && words[0] == words[len(words)-1]
		}
		if same {
			groups = words[:1]
		}
		all = append(all, name[0]+" ("+strings.Join(groups, "; ")+")")
	}
	return strings.Join(all, "; ")
}

func instead(v *verification.Verification, d verification.KindDay, text string) string {
	months, share := "", func(x float64) string { return fmt.Sprintf("%.3f", x) }
	if from := d.From(); from.Losses.LuminaireDirtDepreciation == nil || from.Losses.RoomSurfaceDirtDepreciation == nil {
		months = fmt.Sprintf("%.0f months of dirt, ", 12*from.Care.CleanYears)
	}
	return strings.NewReplacer("{lamps}", share(d.LampLumenDepreciation.Value), "{months}", months, "{dirt}", share(d.LuminaireDirtDepreciation.Value),
		"{surfaces}", share(d.RoomSurfaceDirtDepreciation.Value), "{voltage}", share(d.Voltage.Value), "{out}", share(d.LampBurnout.Value),
		"{ambient}", photometry.Degrees(v.Result.Job.Upkeep.AmbientCelsius), "{unit}", v.Unit.String()).Replace(text)
}

// RatioNotes say of which stations there is no ratio, and whether there are enough to tell an outlier.
func RatioNotes(c metrology.Comparison) []string {
	var all []string
	ratios := len(c.Stations)
	for _, d := range c.Stations {
		if math.IsNaN(d.Ratio) {
			all = append(all, d.Station+": no light is predicted there, so there is no ratio")
			ratios--
		}
	}
	if ratios < metrology.FewestScored {
		all = append(all, fmt.Sprintf("stations with a ratio: %d, too few to tell an outlier from the others", ratios))
	}
	return all
}

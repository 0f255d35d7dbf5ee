package wording

import (
	"fmt"
	"strconv"
	"strings"

	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
)

var readingNotes = map[verification.NoteCode]string{
	verification.InReadings:           "{of}: {survey}",
	verification.AsFound:              "readings are held against the room as found: {count} of its {all} luminaires give no light, by the job",
	verification.Multiplied:           "readings are multiplied by the meter's calibration factor of {value}",
	verification.CertificateUncounted: "the uncertainty on the meter's certificate is not counted besides its class, which includes calibration",
	verification.LampsOutDisagree: "of the lamps {noted} percent were noted as out, and those of the luminaires that the job has as failed are {failed} percent: " +
		"the job and the room do not agree",
	verification.LampsOutDark:     "of the lamps that were out, {noted} percent of all, {failed} percent are in luminaires that the job has as failed and that are dark already",
	verification.InsideRack:       "{of}: lies inside a rack, so nothing is predicted there; it is left out",
	verification.Uncorrected:      "the prediction for the proposed lighting is not corrected: {open}",
	verification.NothingToCorrect: "the prediction for the proposed lighting is not corrected: there is no average of the work plane, or no light",
	verification.ProvesNoGlare:    "{quoted}: readings of illuminance prove no glare rating, which goes by luminances of luminaires toward the eye and of what is about them",
	verification.ProvesNoColor:    "{quoted}: readings of illuminance prove no color rendering: see what is printed on the lamps",
	verification.ProvesNoCylinder: "{of}: cylindrical illuminance is the mean over all ways that a meter may face, and readings here prove none of its criteria",
	verification.NotPlanned:       "{of}: is not in the plan of measurement, so no criterion there is tested",
	verification.SampleOfGrid:     "{of}: the stations are a sample: its average is its prediction times measured over predicted at them",
	verification.NoAverage:        "{of}: no average: {missing}",
}

// ReadingNotes say how readings were taken in, and what none of them prove.
func ReadingNotes(v *verification.Verification) []string {
	percent := func(share float64) string { return fmt.Sprintf("%.0f", 100*share) }
	var all []string
	for _, n := range v.Notes {
		text := strings.NewReplacer("{of}", n.Of, "{quoted}", strconv.Quote(n.Of), "{survey}", SurveyNote(n.Survey, v.Result.Job.Imperial), "{count}", strconv.Itoa(n.Count), "{all}", strconv.Itoa(n.All),
			"{value}", fmt.Sprintf("%g", n.Value), "{noted}", percent(n.Value), "{failed}", percent(n.Failed), "{open}", short(n.Open),
			"{missing}", (&survey.MissingError{Stations: n.Missing}).Words()).Replace(readingNotes[n.Code])
		all = append(all, strings.TrimPrefix(text, ": ")) // of what is about all
	}
	return all
}

var doubts = map[verification.Why]string{
	verification.ByDaylight:   "daylight in the readings",
	verification.ByUnread:     "{stations} not read",
	verification.BySample:     "stations are a sample",
	verification.ByUnresolved: "{open}",
	verification.ByRacks:      "no average without the stations that lie inside racks",
	verification.ByZero:       "a reading is 0, and so there is no ratio",
	verification.ByLosses:     "the losses of the day leave no light to carry on",
}

// Doubt says what keeps readings from deciding a criterion; "" where nothing does but their uncertainty.
func Doubt(of ...verification.Doubt) string {
	var all []string
	for _, d := range of {
		all = append(all, strings.NewReplacer("{stations}", stations(d.Stations), "{open}", short(d.Open)).Replace(doubts[d.Why]))
	}
	return strings.Join(all, ", ")
}

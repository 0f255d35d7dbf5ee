package wording

import (
	"fmt"
	"strings"

	"lampswap/photometry/survey"
	"lampswap/photometry/verification"
)

// ReadingNotes say how readings were taken in, and what none of them prove.
func ReadingNotes(v *verification.Verification) []string {
	var all []string
	for _, n := range v.Notes {
		all = append(all, readingNote(n))
	}
	return all
}

func readingNote(n verification.Note) string {
	switch n.Code {
	case verification.InReadings:
		if n.Of == "" {
			return n.Text
		}
		return n.Of + ": " + n.Text
	case verification.AsFound:
		return fmt.Sprintf("readings are held against the room as found: %d of its %d luminaires give no light, by the job", n.Count, n.All)
	case verification.Multiplied:
		return fmt.Sprintf("readings are multiplied by the meter's calibration factor of %g", n.Value)
	case verification.CertificateUncounted:
		return "the uncertainty on the meter's certificate is not counted besides its class, which includes calibration"
	case verification.LampsOutDisagree:
		return fmt.Sprintf("of the lamps %.0f percent were noted as out, and those of the luminaires that the job has as failed are %.0f percent: the job and the room do not agree",
			100*n.Value, 100*n.Failed)
	case verification.LampsOutDark:
		return fmt.Sprintf("of the lamps that were out, %.0f percent of all, %.0f percent are in luminaires that the job has as failed and that are dark already", 100*n.Value, 100*n.Failed)
	case verification.InsideRack:
		return n.Of + ": lies inside a rack, so nothing is predicted there; it is left out"
	case verification.Uncorrected:
		return "the prediction for the proposed lighting is not corrected: " + short(n.Open)
	case verification.NothingToCorrect:
		return "the prediction for the proposed lighting is not corrected: there is no average of the work plane, or no light"
	case verification.ProvesNoGlare:
		return fmt.Sprintf("%q: readings of illuminance prove no glare rating, which goes by luminances of luminaires toward the eye and of what is about them", n.Of)
	case verification.ProvesNoColor:
		return fmt.Sprintf("%q: readings of illuminance prove no color rendering: see what is printed on the lamps", n.Of)
	case verification.ProvesNoCylinder:
		return n.Of + ": cylindrical illuminance is the mean over all ways that a meter may face, and readings here prove none of its criteria"
	case verification.NotPlanned:
		return n.Of + ": is not in the plan of measurement, so no criterion there is tested"
	case verification.SampleOfGrid:
		return n.Of + ": the stations are a sample: its average is its prediction times measured over predicted at them"
	case verification.NoAverage:
	}
	return n.Of + ": no average: " + (&survey.MissingError{Stations: n.Missing}).Words()
}

// Doubt says what keeps readings from deciding a criterion; "" where nothing does but their uncertainty.
func Doubt(of ...verification.Doubt) string {
	var all []string
	for _, d := range of {
		all = append(all, doubt(d))
	}
	return strings.Join(all, ", ")
}

func doubt(d verification.Doubt) string {
	switch d.Why {
	case verification.ByDaylight:
		return "daylight in the readings"
	case verification.ByUnread:
		return stations(d.Stations) + " not read"
	case verification.BySample:
		return "stations are a sample"
	case verification.ByUnresolved:
		return short(d.Open)
	case verification.ByRacks:
		return "no average without the stations that lie inside racks"
	case verification.ByZero:
		return "a reading is 0, and so there is no ratio"
	case verification.ByLosses:
	}
	return "the losses of the day leave no light to carry on"
}

package page

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strings"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/page/display"
	"lampswap/cmd/lampswap/internal/stations"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/verification"
)

func (s *site) showStations(w http.ResponseWriter, r *http.Request, snap *snapshot) error {
	a, err := s.answerOf(r.Context(), snap)
	if err != nil {
		return err
	}
	v := &display.Stations{Title: snap.name, System: snap.readings.System(), Note: snap.note, Origin: originOf(a).Line()}
	if a.Result == nil {
		v.Sorry = "The job has faults that must be mended before its stations can be planned."
		if a.Whole != nil {
			v.Title, v.Sorry = a.Whole.Building.Title, "Light is read in one space at a time: open a space of the building first."
		}
		return show(w, "stations.html", v)
	}
	v.Title = a.Job.Title
	m, err := stations.Of(a.Job, v.System, stations.Wanted{Kind: stations.Auto, Grids: snap.readings.Places()})
	if err != nil {
		v.Sorry = "The stations of this job cannot be planned: " + err.Error() + "."
		return show(w, "stations.html", v)
	}
	if n := len(m.Stations()); n > display.MostStations {
		v.Sorry = fmt.Sprintf("This job has %d stations, more than the %d that the page has boxes for. Write the form with the command: lampswap stations.", n, display.MostStations)
		return show(w, "stations.html", v)
	}
	v.Fill(snap.readings, a.Job, m)
	if r.URL.Query().Get("prove") != "" && v.Read > 0 {
		proof, from, err := s.prove(r.Context(), snap, a.Job, m)
		if err != nil {
			return err
		}
		v.Proof, v.Origin = proof, from.Line()
	}
	return show(w, "stations.html", v)
}

// prove holds the readings against the prediction; it tells too where the proof comes from.
func (s *site) prove(ctx context.Context, snap *snapshot, j *job.Job, m stations.Measurement) (*display.Proof, origin.Origin, error) {
	from := origin.Of(j.InputsDigest)
	taken, ok := snap.readings.Survey(j, m)
	if !ok {
		return &display.Proof{Sorry: "Say which class the meter is of, or that it is not known; without that, readings prove nothing."}, from, nil
	}
	readings, err := readingsFile(snap, j, m)
	if err != nil {
		return nil, from, err
	}
	from = stations.OriginOf(j, m, readings, taken)
	leave, err := s.work.Enter(ctx)
	if err != nil {
		return nil, from, err
	}
	defer leave()
	limited, cancel := context.WithTimeout(ctx, s.work.Limit)
	defer cancel()
	found, _, err := verification.Run(limited, j, taken, nil)
	switch {
	case ctx.Err() != nil:
		return nil, from, ctx.Err()
	case limited.Err() != nil:
		return &display.Proof{Sorry: "This takes longer than the page allows. Download the readings and use the command: lampswap verify."}, from, nil
	case err != nil:
		return nil, from, err
	}
	return display.ProofOf(found, units.Of(j)), from, nil
}

// postStations keeps what was typed in at the stations.
func (s *site) postStations(r *http.Request, v *session) error {
	if r.PostForm.Get("do") == "clear" {
		clear(v.readings)
		v.note = "All readings are wiped out."
		return nil
	}
	for name, values := range r.PostForm {
		if !display.IsReading(name) || len(values) == 0 || len(name) > 40 {
			continue
		}
		typed := strings.TrimSpace(values[0])
		if len(typed) > mostTyped {
			typed = strings.ToValidUTF8(typed[:mostTyped], "")
		}
		switch {
		case typed == "":
			delete(v.readings, name)
		case len(v.readings) < 2*display.MostStations:
			v.readings[name] = typed
		}
	}
	return nil
}

// mostTyped is how much is kept of what was typed for a station: readings, and a reason.
const mostTyped = 120

// readingsCSV is the file of readings for `lampswap verify`.
func readingsCSV(ctx context.Context, s *site, snap *snapshot) ([]byte, error) {
	a, err := s.answerOf(ctx, snap)
	if err != nil {
		return nil, err
	}
	if a.Result == nil {
		return nil, errNothing
	}
	system := snap.readings.System()
	m, err := stations.Of(a.Job, system, stations.Wanted{Kind: stations.Auto, Grids: snap.readings.Places()})
	if err != nil {
		return nil, badRequestError{err}
	}
	return readingsFile(snap, a.Job, m)
}

// readingsFile is the readings as a file, with what made it.
func readingsFile(snap *snapshot, j *job.Job, m stations.Measurement) ([]byte, error) {
	var b bytes.Buffer
	err := snap.readings.Taken(j, m).Write(&b, append(stations.Heading(j, m.System), origin.Of(j.InputsDigest).Full())...)
	return b.Bytes(), err
}

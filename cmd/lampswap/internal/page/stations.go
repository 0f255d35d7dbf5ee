package page

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strings"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/page/display"
	"lampswap/cmd/lampswap/internal/page/plan"
	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/cmd/lampswap/internal/page/workshop"
	"lampswap/cmd/lampswap/internal/record"
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
	v := &display.Stations{Title: snap.name, System: snap.readings.System(), Note: snap.note, Origin: originOf(a).Line(), Keeps: s.keepsReadings(snap.savable)}
	if a.Result == nil {
		v.Sorry = "The job has faults that must be mended before its stations can be planned."
		if a.Whole != nil {
			v.Title, v.Sorry = a.Whole.Building.Title, "Light is read in one space at a time: open a space of the building first."
		}
		return show(w, "stations.html", v)
	}
	v.Title = a.Job.Title
	v.FillDay(snap.readings, a.Job) // which grids are read can be chosen whatever becomes of those that are
	m, err := measurementOf(a.Job, snap)
	if err != nil {
		v.Sorry = "The stations of this choice cannot be planned: " + err.Error() + "."
		return show(w, "stations.html", v)
	}
	if n := len(m.Stations()); n > display.MostStations {
		v.Sorry = fmt.Sprintf("These grids have %d stations, more than the %d that the page has boxes for. Choose fewer grids, or write the form with the command: lampswap stations.", n, display.MostStations)
		return show(w, "stations.html", v)
	}
	v.Fill(snap.readings, a.Job, m, drawnOf(snap.text))
	if r.URL.Query().Get("prove") != "" && v.Read > 0 {
		proof, from, err := s.prove(r.Context(), snap, a.Job, m)
		if err != nil {
			return err
		}
		v.Proof, v.Origin = proof, from.Line()
	}
	return show(w, "stations.html", v)
}

// measurementOf is the plan of stations of a snapshot's readings.
func measurementOf(j *job.Job, snap *snapshot) (stations.Measurement, error) {
	return stations.Of(j, snap.readings.System(), stations.Wanted{Kind: stations.Auto, Grids: snap.readings.Places()})
}

func drawnOf(text string) *plan.Plan {
	t, err := tomltext.Read(text)
	if err != nil {
		t = new(tomltext.Text) // a job that was worked out can be read
	}
	return plan.Of(t)
}

// prove holds the readings against the prediction; it tells too where the proof comes from.
func (s *site) prove(ctx context.Context, snap *snapshot, j *job.Job, m stations.Measurement) (*display.Proof, origin.Origin, error) {
	from := origin.Of(j.InputsDigest)
	taken, why := snap.readings.Survey(j, m)
	if why != "" {
		return &display.Proof{Sorry: why}, from, nil
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
	case workshop.Unsolvable(err):
		return &display.Proof{Sorry: "The light of the day of the readings cannot be worked out: " + err.Error() + "."}, from, nil
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
		return s.saveReadings(v)
	}
	if name, is := strings.CutPrefix(r.PostForm.Get("do"), "drop:"); is {
		delete(v.readings, "r:"+name)
		delete(v.readings, "at:"+name)
	}
	for name, values := range r.PostForm {
		if !display.IsReading(name) || len(values) == 0 || len(name) > 40 {
			continue
		}
		of := strings.TrimPrefix(name, "r:")
		if typed := shortened(values[0]); typed == "" || len(v.readings) < 3*display.MostStations {
			v.readings.Keep(name, typed, shortened(r.PostForm.Get("at:"+of)), r.PostForm.Get("here:"+of) != "")
		}
	}
	return s.saveReadings(v)
}

// shortened is what is kept of what was typed.
func shortened(typed string) string {
	if typed = strings.TrimSpace(typed); len(typed) > mostTyped {
		typed = strings.ToValidUTF8(typed[:mostTyped], "")
	}
	return typed
}

// mostTyped is how much is kept of what was typed for a station: readings, and a reason.
const mostTyped = 120

// readingsCSV is the file of readings for `lampswap verify`.
func readingsCSV(ctx context.Context, s *site, snap *snapshot) ([]byte, error) {
	a, m, err := s.measured(ctx, snap)
	if err != nil {
		return nil, err
	}
	return readingsFile(snap, a.Job, m)
}

// stationsSheet is the form on paper: the plan, and blanks for readings, meter, date and signature.
func stationsSheet(ctx context.Context, s *site, snap *snapshot) ([]byte, error) {
	a, m, err := s.measured(ctx, snap)
	if err != nil {
		return nil, err
	}
	return s.paper(ctx, func(context.Context) ([]byte, error) {
		file, err := record.FormFile(a.Job, m)
		return file.Content, err
	})
}

// measured is the job of a snapshot, with its plan of stations.
func (s *site) measured(ctx context.Context, snap *snapshot) (*workshop.Answer, stations.Measurement, error) {
	a, err := s.answerOf(ctx, snap)
	switch {
	case err != nil:
		return nil, stations.Measurement{}, err
	case a.Result == nil:
		return nil, stations.Measurement{}, errNothing
	}
	m, err := measurementOf(a.Job, snap)
	if err != nil {
		return nil, m, badRequestError{err}
	}
	return a, m, nil
}

// readingsFile is the readings as a file, with what made it.
func readingsFile(snap *snapshot, j *job.Job, m stations.Measurement) ([]byte, error) {
	var b bytes.Buffer
	err := snap.readings.Taken(j, m).Write(&b, append(stations.Heading(j, m.System), origin.Of(j.InputsDigest).Full())...)
	return b.Bytes(), err
}

package answer

import (
	"io"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/photometry/realised"
)

type jsonRealised struct {
	Title    string         `json:"title"`
	Promised Number         `json:"promised_kwh_per_year"` // the saving
	Realised Number         `json:"realised_kwh_per_year"`
	Proven   bool           `json:"proven"`
	Verdict  string         `json:"verdict"`
	NotRead  []string       `json:"groups_not_read"`
	Groups   []jsonReadOf   `json:"groups"`
	Samples  []jsonToSample `json:"samples"`
	Origin
}

type jsonReadOf struct {
	Space    string   `json:"space"`
	Group    string   `json:"group"`
	Existing *jsonUse `json:"existing"` // null where it has no luminaires
	Proposed *jsonUse `json:"proposed"`
}

type jsonUse struct {
	Number        int     `json:"number"`
	ReadNumber    *int    `json:"read_number"`
	Watts         Number  `json:"watts"`
	ReadWatts     *Number `json:"read_watts"`
	Hours         Number  `json:"hours_per_year"`
	ReadHours     *Number `json:"read_hours_per_year"`
	KWh           Number  `json:"kwh_per_year"`
	ReadKWh       Number  `json:"read_kwh_per_year"`
	ReadingsTaken int     `json:"readings"`
}

type jsonToSample struct {
	Kind       string `json:"kind"`
	Luminaires int    `json:"luminaires"`
	Needed     int    `json:"needed"`
	Read       int    `json:"read"`
}

// WriteRealised writes what readings of power and hours tell of the saving of a building.
func WriteRealised(w io.Writer, r *realised.Result, from origin.Origin) error {
	out := jsonRealised{Title: r.Building.Title, Promised: Number(r.Promised), Realised: Number(r.Realised), Proven: r.Proven(), Verdict: r.Sentence(),
		NotRead: append([]string{}, r.NotRead...), Groups: []jsonReadOf{}, Samples: []jsonToSample{}, Origin: OriginOf(from)}
	for _, g := range r.Groups {
		out.Groups = append(out.Groups, jsonReadOf{g.Space, g.Name, jsonUseOf(g.Existing), jsonUseOf(g.Proposed)})
	}
	for _, s := range r.Samples {
		out.Samples = append(out.Samples, jsonToSample{s.Kind, s.Number, s.Needed, s.Logged})
	}
	return Encode(w, out)
}

func jsonUseOf(u realised.Use) *jsonUse {
	if !u.There {
		return nil
	}
	out := jsonUse{Number: u.Number, Watts: Number(u.Watts), Hours: Number(u.Hours), KWh: Number(u.KWh), ReadKWh: Number(u.ReadKWh), ReadingsTaken: u.Readings}
	if u.Count {
		out.ReadNumber = &u.ReadNumber
	}
	if u.WattsRead {
		out.ReadWatts = money(&u.ReadWatts)
	}
	if u.HoursRead {
		out.ReadHours = money(&u.ReadHours)
	}
	return &out
}

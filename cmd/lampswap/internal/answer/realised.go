package answer

import (
	"io"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/photometry/realised"
	"lampswap/photometry/wording"
)

type jsonRealised struct {
	Title string `json:"title"`
	jsonSaving
	Light []jsonLightOf `json:"light,omitempty"` // of spaces whose light was read
	Origin
}

// A jsonLightOf is what readings of light prove in a space.
type jsonLightOf struct {
	Space  string     `json:"space"`
	Beside string     `json:"light_beside_power,omitempty"`
	Proof  jsonVerify `json:"verify"`
}

type jsonSaving struct {
	Promised Number         `json:"promised_kwh_per_year"` // the saving
	Realised Number         `json:"realised_kwh_per_year"`
	Proven   bool           `json:"proven"`
	Verdict  string         `json:"verdict"`
	NotRead  []string       `json:"groups_not_read"`
	Groups   []jsonReadOf   `json:"groups"`
	Samples  []jsonToSample `json:"samples"`
	Unlike   []string       `json:"unlike_the_job"`              // readings that prove nothing until they are read again
	Half     Number         `json:"scatter_kwh_per_year"`        // half the interval at 90 percent
	ByNumber Number         `json:"by_number_kwh_per_year"`      // realised less promised, by what
	ByWatts  Number         `json:"by_watts_kwh_per_year"`       //
	ByHours  Number         `json:"by_hours_kwh_per_year"`       //
	NoSwap   Number         `json:"by_hours_alone_kwh_per_year"` // hours that changed where no control was promised
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

// WriteRealised writes what readings of power and hours tell of the saving of a building, and those of light in some of its spaces.
func WriteRealised(w io.Writer, r *realised.Result, light []ledger.SpaceLight, from origin.Origin) error {
	out := jsonRealised{Title: r.Building.Title, jsonSaving: savingOf(r), Origin: OriginOf(from)}
	for _, l := range light {
		out.Light = append(out.Light, jsonLightOf{l.Space, ledger.Beside(r, l), verifyOf(l.Job, l.Found, from)})
	}
	return Encode(w, out)
}

func savingOf(r *realised.Result) jsonSaving {
	out := jsonSaving{Promised: Number(r.Promised), Realised: Number(r.Realised), Proven: r.Proven(), Verdict: wording.Saving(r),
		NotRead: append([]string{}, r.NotRead...), Groups: []jsonReadOf{}, Samples: []jsonToSample{}, Unlike: append([]string{}, wording.Unlike(r)...), Half: Number(r.Half),
		ByNumber: Number(r.Because.Number), ByWatts: Number(r.Because.Watts), ByHours: Number(r.Because.Hours), NoSwap: Number(r.ByHours)}
	for _, g := range r.Groups {
		out.Groups = append(out.Groups, jsonReadOf{g.Space, g.Name, jsonUseOf(g.Existing), jsonUseOf(g.Proposed)})
	}
	for _, s := range r.Samples {
		out.Samples = append(out.Samples, jsonToSample{s.Kind, s.Number, s.Needed, s.Logged})
	}
	return out
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

package stations

import (
	"io"

	"lampswap/cmd/lampswap/internal/answer"
	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/job"
	"lampswap/photometry/wording"
)

type jsonStations struct {
	Job    answer.Job        `json:"job"`
	System string            `json:"system"`
	Kind   string            `json:"kind"`
	Plans  []jsonStationPlan `json:"plans"`
	Notes  []string          `json:"notes"`
	// Acceptance is of many like rooms how many to measure
	Acceptance *jsonAcceptance `json:"acceptance,omitempty"`
	answer.Origin
}

type jsonStationPlan struct {
	Grid        string        `json:"grid"`
	Arrangement string        `json:"arrangement"`
	Sampled     bool          `json:"sampled"` // they prove no minimum, and the average beside its prediction
	Stations    []jsonStation `json:"stations"`
	Notes       []string      `json:"notes"`
}

type jsonAcceptance struct {
	Rooms           int           `json:"rooms"`
	Read            int           `json:"read"`
	MayMiss         int           `json:"may_miss"`
	OwnersRisk      answer.Number `json:"owners_risk"`
	Bad             int           `json:"owners_risk_of"` // so many that miss
	ContractorsRisk answer.Number `json:"contractors_risk"`
	Good            int           `json:"contractors_risk_of"`
}

type jsonStation struct {
	Name   string        `json:"name"`
	Role   string        `json:"role"`
	Place  string        `json:"place"`
	X      answer.Number `json:"x"`
	Y      answer.Number `json:"y"`
	Height answer.Number `json:"height"`
	Key    string        `json:"key"` // the exact place, as in the form
}

// WriteJSON writes the plans, places in the job's units at full precision.
func WriteJSON(w io.Writer, j *job.Job, m Measurement) error {
	v := units.Of(j)
	out := jsonStations{Job: answer.JobOf(j), System: m.System, Kind: m.Kind, Plans: []jsonStationPlan{}, Notes: append([]string{}, m.Notes...),
		Origin: answer.OriginOf(origin.Of(j.InputsDigest))}
	if a := m.Acceptance; a != nil {
		out.Acceptance = &jsonAcceptance{a.Population, a.Read, a.May, answer.Number(a.Accepted), a.Bad, answer.Number(a.Refused), a.Good}
	}
	for _, p := range m.Plans {
		plan := jsonStationPlan{Grid: p.Grid, Arrangement: p.Words(), Sampled: p.Sampled, Stations: []jsonStation{}, Notes: append([]string{}, wording.PlanNotes(p.Plan)...)}
		for _, s := range p.Stations {
			plan.Stations = append(plan.Stations, jsonStation{s.Name, s.Role.String(), s.Place,
				answer.Number(s.Position.X / v.Meter), answer.Number(s.Position.Y / v.Meter), answer.Number(s.Position.Z / v.Meter), s.Key()})
		}
		out.Plans = append(out.Plans, plan)
	}
	return answer.Encode(w, out)
}

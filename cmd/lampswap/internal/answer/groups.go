package answer

import (
	"slices"

	"lampswap/cmd/lampswap/internal/ledger"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
)

// jsonGroup is the luminaires of one group in one system; of a group that is not in it all but the names are 0.
type jsonGroup struct {
	Name           string     `json:"name"`
	Kind           string     `json:"kind"` // "none" where it does not hang in the system
	Luminaires     int        `json:"luminaires"`
	Failed         int        `json:"failed"`
	InputWattsEach Number     `json:"input_watts_each"`
	KW             Number     `json:"kw"` // as found, as set
	Hours          Number     `json:"hours_per_year"`
	KWhPerYear     Number     `json:"kwh_per_year"`
	PeakShare      *Number    `json:"peak_share,omitempty"` // of its hours, in the tariff's peak
	Control        string     `json:"control"`
	ControlSaving  Number     `json:"control_saving"`
	DimmedTo       *Number    `json:"dimmed_to,omitempty"`
	Emergency      []jsonPack `json:"emergency,omitempty"` // those of its luminaires that stay lit on emergency power
	*jsonLamp
	MountingHeight *Number           `json:"mounting_height,omitempty"` // the mean
	LightLoss      map[string]Number `json:"light_loss,omitempty"`
	Utilization    *Number           `json:"coefficient_of_utilization,omitempty"`
	Initial        *Number           `json:"initial_average,omitempty"` // by the lumen method
	Maintained     *Number           `json:"maintained_average,omitempty"`
}

// jsonPack is a luminaire on emergency power.
type jsonPack struct {
	Luminaire  int    `json:"luminaire"` // its number in the group
	Share      Number `json:"share"`     // of its light at full output; 0 of one that failed
	PackLumens Number `json:"pack_lumens,omitempty"`
}

// jsonAllLit is the existing lighting if no luminaire had failed.
type jsonAllLit struct {
	Average Number `json:"average"`
	KW      Number `json:"kw"`
}

// jsonGroups are the groups of a system, in the job's order.
func (v view) jsonGroups(j *job.Job, from *job.System, s *lighting.System) []jsonGroup {
	all := []jsonGroup{}
	kinds := lighting.Side{From: from, System: s}.Kinds()
	for _, name := range j.Groups {
		out := jsonGroup{Name: name, Kind: "none", Control: "none"}
		for _, kind := range kinds {
			if kind.From.Group == name {
				out = v.jsonGroup(j, kind)
			}
		}
		all = append(all, out)
	}
	return all
}

func (v view) jsonGroup(j *job.Job, kind lighting.Side) jsonGroup {
	from := kind.From
	number := func(x float64) *Number { n := Number(x); return &n }
	lamp, kw := jsonLampOf(from), from.Watts()/1000
	out := jsonGroup{Name: from.Group, Kind: ledger.KindName(from), Luminaires: len(from.Layout.Placements), Failed: len(from.Use.Failed), InputWattsEach: Number(from.InputWatts),
		KW: Number(kw), Hours: Number(from.Hours(j)), KWhPerYear: Number(kw * from.HoursBurnt(j)), Control: from.Use.Control, ControlSaving: Number(from.Use.ControlSaving),
		jsonLamp: &lamp, MountingHeight: number(from.Layout.MountingHeight / v.Meter), LightLoss: map[string]Number{"total": Number(kind.Losses.Total())},
		Utilization: number(kind.LumenMethod.CoefficientOfUtilization)}
	initial, maintained := v.light(kind.LumenMethod.InitialAverage), v.light(kind.LumenMethod.MaintainedAverage)
	out.Initial, out.Maintained = &initial, &maintained
	if out.Control == "" {
		out.Control = "none"
	}
	if from.Use.DimmedTo > 0 {
		out.DimmedTo, out.InputWattsEach = number(from.Use.DimmedTo), Number(from.Use.DimmedWatts)
	}
	if share, ok := from.PeakShare(j); ok {
		out.PeakShare = number(share)
	}
	lit := from.FedLit()
	for _, p := range from.Emergency {
		pack := jsonPack{p.Place + 1, 0, Number(p.Lumens)}
		if slices.Contains(lit, p) {
			pack.Share = Number(from.EmergencyShare(p))
		}
		out.Emergency = append(out.Emergency, pack)
	}
	for _, f := range kind.Losses.List() {
		out.LightLoss[f.Key] = Number(f.Value)
	}
	return out
}

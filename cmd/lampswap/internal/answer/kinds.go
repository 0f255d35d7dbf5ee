package answer

import (
	"io"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/cmd/lampswap/internal/units"
	"lampswap/photometry/building"
	"lampswap/photometry/job"
	"lampswap/photometry/options"
	"lampswap/photometry/wording"
)

type jsonKinds struct {
	Building jsonBuilding   `json:"building"`
	Choice   []string       `json:"choice"`
	Met      bool           `json:"met"` // every space meets every criterion
	Fewest   int            `json:"fewest_kinds"`
	Kinds    []jsonKindOf   `json:"kinds"` // the chosen first
	Spaces   []jsonServed   `json:"spaces"`
	Totals   jsonKindTotals `json:"totals"`
	LeftOut  []string       `json:"left_out"`
	Origin
}

type jsonKindTotals struct {
	Existing jsonSum    `json:"existing"`
	Chosen   jsonSum    `json:"chosen"`
	Alone    jsonSum    `json:"each_space_by_itself"` // at its own least energy, whatever the number of kinds
	More     []jsonMore `json:"with_more_kinds"`
}

type jsonSum struct {
	Kinds      int     `json:"kinds"`
	KW         Number  `json:"kw"`
	KWhPerYear Number  `json:"energy_kwh_per_year"`
	PowerCost  *Number `json:"power_cost_per_year"`
}

type jsonMore struct {
	Kinds      []string `json:"kinds"` // by name
	KW         Number   `json:"kw"`
	KWhPerYear Number   `json:"energy_kwh_per_year"`
}

type jsonKindOf struct {
	Chosen         bool       `json:"chosen"`
	Name           string     `json:"name"`
	Lamp           string     `json:"lamp,omitempty"`
	Lamps          int        `json:"lamps"`
	Ballast        string     `json:"ballast,omitempty"`
	Ballasts       int        `json:"ballasts,omitempty"`
	InputWattsEach Number     `json:"input_watts_each"`
	Luminaires     int        `json:"luminaires"` // that take it, with copies
	Serves         int        `json:"spaces_served_by_itself"`
	ServedKWh      Number     `json:"energy_kwh_per_year_of_those"`
	NotServed      []string   `json:"spaces_not_served_by_itself"`
	Notes          []jsonNote `json:"notes"`
}

type jsonServed struct {
	Name       string                `json:"name"`
	Copies     int                   `json:"copies"`
	Lighting   string                `json:"lighting"` // "chosen", "as proposed" or "as it is"
	Groups     []jsonServedGroups    `json:"groups"`
	Held       []string              `json:"groups_as_proposed"`
	Met        bool                  `json:"met"`
	Why        []string              `json:"missed"` // sentences
	KW         Number                `json:"kw"`     // of one copy, as all that follows
	KWhPerYear Number                `json:"energy_kwh_per_year"`
	Existing   Number                `json:"existing_average"`
	Average    Number                `json:"average"`
	Minimum    Number                `json:"minimum"`
	Criteria   []jsonOptionCriterion `json:"criteria"`
}

type jsonServedGroups struct {
	Groups     []string `json:"groups"`
	Kind       int      `json:"kind"` // its place in kinds, from 0
	Luminaires int      `json:"luminaires"`
	Keys       []string `json:"keys"` // what a building writes to have it, in a kind of its own
}

// WriteKinds writes which kinds serve a building, every kind that serves a space with them, in its units at full precision.
func WriteKinds(w io.Writer, b *building.Building, k *options.Kinds) error {
	u := units.Of(b.Whole)
	v := view{Units: u}
	sum := func(s options.Sum) jsonSum {
		return jsonSum{s.Kinds, Number(s.KW), Number(s.KWhPerYear), money(s.Cost)}
	}
	out := jsonKinds{Building: jsonBuilding{b.Title, u.System, u.Length, u.Illuminance, b.Whole.Facts.State}, Choice: wording.Kinds(k), Met: k.Met(), Fewest: k.Chosen,
		Kinds: []jsonKindOf{}, Totals: jsonKindTotals{sum(k.AsFound), sum(k.Choice), sum(k.Alone), []jsonMore{}}, LeftOut: append([]string{}, wording.KindsLeftOut(k)...),
		Origin: OriginOf(origin.Of(b.InputsDigest))}
	for _, m := range k.More {
		out.Totals.More = append(out.Totals.More, jsonMore{wording.OptionNames(m.Of), Number(m.KW), Number(m.KWhPerYear)})
	}
	for i := range k.List {
		out.Kinds = append(out.Kinds, jsonKindAlone(b.Whole, &k.List[i], i < k.Chosen))
	}
	for i := range k.Rooms {
		out.Spaces = append(out.Spaces, v.served(&k.Rooms[i]))
	}
	return Encode(w, out)
}

func jsonKindAlone(j *job.Job, k *options.Kind, chosen bool) jsonKindOf {
	from := &k.From
	out := jsonKindOf{Chosen: chosen, Name: wording.Option(&k.Option), Lamps: from.Lamps, InputWattsEach: Number(from.InputWatts), Luminaires: k.Luminaires, Serves: k.Serves,
		ServedKWh: Number(k.Alone.KWhPerYear), NotServed: append([]string{}, k.Misses...), Notes: []jsonNote{}}
	if from.Lamp != nil {
		out.Lamp = from.Lamp.Name
	}
	if from.Ballast != nil {
		out.Ballast, out.Ballasts = from.Ballast.Kind, from.Ballast.Count
	}
	for _, n := range k.Notes {
		out.Notes = append(out.Notes, jsonNote{n.Sign, wording.Note(j, n)})
	}
	return out
}

func (v view) served(s *options.Served) jsonServed {
	p := s.Gets()
	out := jsonServed{Name: s.Name, Copies: s.Copies, Lighting: "chosen", Groups: []jsonServedGroups{}, Held: append([]string{}, s.Held...), Met: s.Met, Why: append([]string{}, wording.Lacks(s)...),
		KW: Number(p.KW), KWhPerYear: Number(p.KWhPerYear), Existing: v.light(s.Existing().Average()), Average: v.light(p.Average()), Minimum: v.light(p.Minimum()), Criteria: []jsonOptionCriterion{}}
	switch {
	case len(s.Varied) == 0:
		out.Lighting = "as proposed"
	case s.Way == nil:
		out.Lighting = "as it is"
	}
	for i := range s.Parts {
		part := &s.Parts[i]
		out.Groups = append(out.Groups, jsonServedGroups{part.Groups, part.Kind, part.Luminaires, part.Keys()})
	}
	out.Criteria = append(out.Criteria, v.optionCriteria(s.Job, p)...)
	return out
}

package answer

import "lampswap/photometry/study"

// jsonAlteration is how many luminaires a system touches of those that hang in the room.
type jsonAlteration struct {
	System     string `json:"system"`
	Existing   int    `json:"existing_luminaires"`
	Touched    int    `json:"touched"` // changed, taken down or repaired
	Share      Number `json:"touched_share"`
	Changed    int    `json:"changed"`
	TakenDown  int    `json:"taken_down"`
	Repaired   int    `json:"repaired"`
	Controlled int    `json:"controlled"` // left as they are, but controlled or dimmed
	Stay       int    `json:"stay"`
	Added      int    `json:"added"`
	LoadBefore Number `json:"connected_kw_before"`
	LoadAfter  Number `json:"connected_kw_after"`
}

func jsonAlterations(r *study.Result) []jsonAlteration {
	var all []jsonAlteration
	for _, a := range r.Alterations() {
		all = append(all, jsonAlteration{a.System, a.Existing, a.Touched(), Number(a.Share()), a.Changed, a.TakenDown, a.Repaired, a.Controlled, a.Stays, a.Added,
			Number(a.LoadBefore), Number(a.LoadKW)})
	}
	return all
}

package answer

import (
	"lampswap/photometry/spaces"
	"lampswap/photometry/study"
	"lampswap/photometry/wording"
)

// jsonSpace is what is known of the kind of space that the room is.
type jsonSpace struct {
	ID           string   `json:"id"`
	Name         string   `json:"name"`
	Target       Number   `json:"model_target"` // at which a model aims; no level that binds
	SensorSaving *Number  `json:"model_sensor_saving"`
	Levels       []string `json:"levels"`
	Source       string   `json:"source"`
	Says         []string `json:"says"`
}

func idOf(s *spaces.Space) string {
	if s == nil {
		return ""
	}
	return s.ID
}

func (v view) jsonSpaceOf(r *study.Result) *jsonSpace {
	s := r.Job.Space
	if s == nil {
		return nil
	}
	out := &jsonSpace{ID: s.ID, Name: s.Label(), Target: v.light(s.TargetLux()), Levels: []string{}, Source: s.Source(), Says: wording.Space(r)}
	for _, l := range r.SpaceLevels() {
		out.Levels = append(out.Levels, l.ID)
	}
	if share, _, ok := s.SensorSaving(); ok {
		saving := Number(share)
		out.SensorSaving = &saving
	}
	return out
}

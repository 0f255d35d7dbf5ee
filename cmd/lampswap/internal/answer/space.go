package answer

import (
	"lampswap/photometry/spaces"
	"lampswap/photometry/study"
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
	out := &jsonSpace{ID: s.ID, Name: s.Label(), Target: v.light(s.TargetLux()), Levels: r.SpaceLevels(), Source: s.Source(), Says: r.SpaceWords()}
	if share, _, ok := s.SensorSaving(); ok {
		saving := Number(share)
		out.SensorSaving = &saving
	}
	return out
}

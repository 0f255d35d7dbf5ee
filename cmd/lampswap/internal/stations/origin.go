package stations

import (
	"fmt"
	"strings"

	"lampswap/cmd/lampswap/internal/origin"
	"lampswap/photometry/job"
	"lampswap/photometry/verification"
)

// OriginOf is where a proof comes from: the job, the file of readings, and what was noted of where and how they were taken.
func OriginOf(j *job.Job, m Measurement, readings []byte, s verification.Survey) origin.Origin {
	conditions := strings.TrimSuffix(fmt.Sprintf("%+v", s.Conditions), "}") + " TakenInstead:map[]}" // as they were printed once: a digest stays what it was
	noted := fmt.Appendf(nil, "%s %s %+v %v %s %v", m.System, m.Kind, s.Meter, s.Factor, conditions, s.Confidence)
	for _, l := range s.Readings.Lines { // by the file, or by the command line
		noted = append(noted, l.MeterUnit...)
	}
	for _, p := range m.Plans {
		noted = fmt.Appendf(noted, " %q", p.Grid)
	}
	return origin.Of(j.InputsDigest).With("readings", readings).With("noted", noted)
}

package options

import (
	"fmt"
	"strconv"
	"strings"

	"lampswap/photometry/job"
)

// A GroupError says that it is not known which group's luminaires are to be varied.
type GroupError struct{ Wrong, Want string }

func (e *GroupError) Error() string { return e.Wrong + ", want " + e.Want }

// vary settles whose proposed luminaires are varied. It errs with a *GroupError.
func (o *Options) vary(name string) error {
	j := o.Job
	var proposed []string
	for _, kind := range j.Proposed.Kinds() {
		proposed = append(proposed, kind.Group)
	}
	switch {
	case name == "" && len(proposed) > 1:
		return &GroupError{fmt.Sprintf("luminaires are proposed in %d groups", len(proposed)), "the group whose lamps and ballasts are to vary, one of " + quoted(proposed)}
	case name == "":
		o.Group = proposed[0]
	default:
		for _, group := range j.Groups {
			if strings.EqualFold(group, name) {
				o.Group = group
			}
		}
	}
	after := j.Proposed.Find(o.Group)
	switch {
	case o.Group == "":
		return &GroupError{strconv.Quote(name) + " is no group of the job", "one of " + quoted(proposed)}
	case after == nil:
		return &GroupError{"nothing is proposed in " + strconv.Quote(o.Group), "one of " + quoted(proposed)}
	}
	o.after = *after
	if before := j.Existing.Find(o.Group); before != nil {
		o.before = *before
	}
	if j.Replacement != nil {
		if third := j.Replacement.Find(o.Group); third != nil {
			o.third = *third
		}
	}
	if o.grouped() {
		for _, kind := range j.Proposed.Kinds() {
			o.held = append(o.held, *kind)
		}
	}
	return nil
}

// grouped tells that what hangs beside the luminaires that are varied counts, or that some have failed or are dimmed.
func (o *Options) grouped() bool { return !o.Job.OneKind() }

// hung tells that a system has luminaires in the group that is varied.
func (o *Options) hung(s *job.System) bool { return s.Luminaire.Distribution != nil }

// use is how the luminaires that are varied are used: dimmed ones draw in proportion to their light.
func (o *Options) use(watts float64) job.Use {
	use := o.after.Use
	if use.DimmedTo > 0 {
		use.DimmedWatts = use.DimmedTo * watts
	}
	return use
}

func quoted(names []string) string {
	var all []string
	for _, name := range names {
		all = append(all, strconv.Quote(name))
	}
	return strings.Join(all, ", ")
}

package page

import (
	"context"
	"net/url"

	"lampswap/cmd/lampswap/internal/page/display"
	"lampswap/cmd/lampswap/internal/page/workshop"
)

// What is tried leaves the job as it is until it is kept: another ballast factor, another lamp of the same length, another cleaning interval.

// tryOf shows the sliders and what they come to.
func (s *site) tryOf(ctx context.Context, snap *snapshot, a *workshop.Answer, posted url.Values) (*display.Try, error) {
	if a.Job.Proposed.Parts != nil || a.Job.Proposed.Kind != "" {
		return nil, nil // kinds of luminaire have no sliders
	}
	t := display.TriedOf(posted, a.Job)
	if !t.Changes(a.Job) {
		return t.Shown(a.Result, nil), nil
	}
	found, err := s.tryOut(ctx, snap, a, t)
	if err != nil {
		return nil, err
	}
	return t.Shown(a.Result, found), nil
}

// tryOut works out what is tried, in its turn.
func (s *site) tryOut(ctx context.Context, snap *snapshot, a *workshop.Answer, t display.Tried) (*display.Trial, error) {
	text, err := t.Text(snap.text, a.Job)
	if err != nil {
		return nil, err
	}
	leave, err := s.work.Enter(ctx)
	if err != nil {
		return nil, err
	}
	defer leave()
	return display.TryText(ctx, display.Work{Read: s.work.Read, Run: s.work.Run, Limit: s.work.Limit}, snap.name, text, s.opener(snap.files), a.Result)
}

package page

import (
	"context"
	"crypto/sha256"
	"errors"
	"net/http"
	"sync"

	"lampswap/cmd/lampswap/internal/page/display"
	"lampswap/cmd/lampswap/internal/page/workshop"
	"lampswap/photometry/options"
)

// mostOptions is how many lists of options are remembered.
const mostOptions = 4

// A shelf keeps the last lists of options, so that whoever filters one waits once.
type shelf struct {
	mutex sync.Mutex
	last  []shelved
}

type shelved struct {
	key   [sha256.Size]byte
	group string
	found *options.Options
}

func (s *shelf) recall(key [sha256.Size]byte, group string) *options.Options {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	for _, one := range s.last {
		if one.key == key && one.group == group {
			return one.found
		}
	}
	return nil
}

func (s *shelf) keep(one shelved) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	s.last = append([]shelved{one}, s.last[:min(len(s.last), mostOptions-1)]...)
}

// showOptions shows every lamp and ballast for the job's fixtures.
func (s *site) showOptions(w http.ResponseWriter, r *http.Request, snap *snapshot) error {
	a, err := s.answerOf(r.Context(), snap)
	if err != nil {
		return err
	}
	v := &display.Options{Title: snap.name, Note: snap.note, Origin: originOf(a).Line(), Asked: display.OptionsAskedOf(r.URL.Query())}
	if a.Result == nil {
		v.Sorry = "The job has faults that must be mended before its options can be worked out."
		if a.Whole != nil {
			v.Title, v.Sorry = a.Whole.Building.Title, "Lamps are chosen in one space at a time: open a space of the building first."
		}
		if a.Whole != nil {
			v.Title, v.Sorry = a.Whole.Building.Title, "Options are of one space here: open a space of the building first. The command lampswap options takes the building."
		}
		return show(w, "options.html", v)
	}
	v.Title = a.Job.Title
	v.Groups = v.Asked.GroupsOf(a.Job)
	found, err := s.optionsOf(r.Context(), a, v.Asked.Group)
	_, noGroup := errors.AsType[*options.GroupError](err)
	switch {
	case noGroup:
		v.Sorry = "There are no options: " + err.Error() + "."
	case errors.Is(err, errLong):
		v.Sorry = "The options of this job take longer than the page allows. Use the command: lampswap options."
	case err != nil:
		return err
	default:
		v.Fill(found)
	}
	return show(w, "options.html", v)
}

var errLong = errors.New("takes longer than the page allows")

// optionsOf works the options of a job out in their turn, unless they are remembered.
func (s *site) optionsOf(ctx context.Context, a *workshop.Answer, group string) (*options.Options, error) {
	if found := s.options.recall(a.Key, group); found != nil {
		return found, nil
	}
	leave, err := s.work.Enter(ctx)
	if err != nil {
		return nil, err
	}
	defer leave()
	limited, cancel := context.WithTimeout(ctx, s.work.Limit)
	defer cancel()
	found, err := options.Find(limited, a.Job, options.Narrow{Group: group}, nil)
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case limited.Err() != nil:
		return nil, errLong
	case err != nil:
		return nil, err
	}
	s.options.keep(shelved{a.Key, group, found})
	return found, nil
}

// postOption puts a row of the options into the job.
func (s *site) postOption(r *http.Request, v *session) error {
	text, err := display.PutOption(v.text, r.PostForm)
	switch {
	case errors.As(err, new(display.BadOptionError)):
		return badRequestError{err}
	case err != nil:
		v.note = "Nothing was changed: the text of the job has a fault that must be mended first."
		return nil //nolint:nilerr // said on the page, with the place of the fault
	}
	if err := v.setText(text); err != nil {
		return err
	}
	v.note = "The option is in the job now, as proposed. Undo takes it back."
	return nil
}

package page

import (
	"net/http"
	"sync"
	"time"
)

// A page that was opened by the program itself ends it when the last page is closed, since there may be no terminal to end it in.

// Of pages that tell that they are there.
const (
	closedTime = 2 * time.Minute // without a page, before the program ends
	silentTime = idleLimit       // of a page that says nothing, asleep in a browser or lost with it
	mostPages  = 200
)

// A watch knows which pages are open.
type watch struct {
	mutex sync.Mutex
	on    bool
	now   func() time.Time
	pages map[string]time.Time // when each was heard of last
	empty time.Time            // since when there is none; zero until there was one
}

// ends is what a page says of it.
const ends = "lampswap ends by itself two minutes after its last page is closed."

// postAlive hears that a page is open, or that it is closed.
func (s *site) postAlive(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, 1<<10)
	if err := r.ParseForm(); err != nil {
		s.fail(w, r, unreadable(err))
		return
	}
	if !s.watch.on {
		w.WriteHeader(http.StatusNoContent)
		return
	}
	page := r.PostForm.Get("page")
	s.watch.hear(page[:min(len(page), mostToken)], r.PostForm.Get("closed") != "")
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	_, _ = w.Write([]byte(ends)) // the visitor may be gone
}

func (w *watch) hear(page string, closed bool) {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	now := w.now()
	switch {
	case closed:
		delete(w.pages, page)
	case len(w.pages) < mostPages:
		w.pages[page] = now
	}
	w.empty = now
}

// over tells that no page is open any more, and has not been for a while. Before the first page has told of itself it is not over: one without script
// never does.
func (w *watch) over() bool {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	now := w.now()
	for page, heard := range w.pages {
		if now.Sub(heard) >= silentTime {
			delete(w.pages, page)
			w.empty = now
		}
	}
	return w.on && len(w.pages) == 0 && !w.empty.IsZero() && now.Sub(w.empty) >= closedTime
}

package main

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"
	"time"

	"lampswap/photometry/diag"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
)

// What the page takes on. It is less than the command takes, which works for one person only.
const (
	mostAtWork       = 2   // jobs worked out at once
	mostWaiting      = 100 // jobs that wait for their turn
	solveTime        = 30 * time.Second
	mostPagePlaces   = 5000   // luminaires of a system
	mostPageRacks    = 500    // with their repeats
	mostPagePoints   = 150000 // on all grids together
	mostPageSurfaces = 40000  // m², floor, ceiling, walls and the faces of racks
	mostRemembered   = 12     // answers
	mostRememberedMB = 128
)

func limitsInWords() string {
	return fmt.Sprintf("%d luminaires a system, %d racks, %d grid points, %.0f square meters (%.0f thousand square feet)\n  of floor, ceiling, walls and rack faces, "+
		"%d seconds of work, a job file of %d KB, %d photometric files of %d KB,\n  %d visitors", mostPagePlaces, mostPageRacks, mostPagePoints, float64(mostPageSurfaces),
		mostPageSurfaces/0.09290304/1000, int(solveTime.Seconds()), mostText>>10, mostFiles, mostFile>>10, mostSessions)
}

// An answer is what came of a text: a result, or faults, or a sentence why there is neither.
type answer struct {
	key    [sha256.Size]byte
	job    *job.Job // nil where the file has faults
	result *study.Result
	faults diag.List
	sorry  string
	took   time.Duration
}

// A workshop works jobs out, few at once, and remembers the last answers.
type workshop struct {
	benches chan struct{}
	queue   chan struct{}
	limit   time.Duration // of the work on one job
	mutex   sync.Mutex
	last    []*answer // most recently used first
}

func newWorkshop() *workshop {
	return &workshop{benches: make(chan struct{}, mostAtWork), queue: make(chan struct{}, mostAtWork+mostWaiting), limit: solveTime}
}

var errBusy = errors.New("too many jobs are waiting")

// do works out a text, unless the answer is remembered. It errs if the context ends or too many wait.
func (w *workshop) do(ctx context.Context, key [sha256.Size]byte, name, text string, files job.Files) (*answer, error) {
	if a := w.recall(key); a != nil {
		return a, nil
	}
	leave, err := w.enter(ctx)
	if err != nil {
		return nil, err
	}
	defer leave()
	if a := w.recall(key); a != nil { // somebody else asked the same meanwhile
		return a, nil
	}
	started := time.Now()
	a := &answer{key: key}
	if line := tooDeep(text); line > 0 {
		a.sorry = fmt.Sprintf("The text of the job cannot be read here: at line %d, tables, lists or dotted keys go more than %d deep.", line, mostDeep)
		return a, nil
	}
	j, err := job.Read(name, []byte(text), files)
	if faults, is := errors.AsType[diag.List](err); is {
		a.faults = faults
		w.remember(a)
		return a, nil
	}
	a.job = j
	if a.sorry = tooMuch(j); a.sorry != "" {
		return a, nil
	}
	limited, cancel := context.WithTimeout(ctx, w.limit)
	defer cancel()
	a.result, err = study.Run(limited, j, nil)
	_, memory := errors.AsType[*interreflect.MemoryError](err)
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case limited.Err() != nil:
		a.sorry = fmt.Sprintf("This job takes longer than the %d seconds that the page gives it. Choose a wider spacing of points or fewer racks, or work it out with the command: lampswap check.", int(solveTime.Seconds()))
	case memory || errors.Is(err, interreflect.ErrEndless):
		a.sorry = "This job cannot be worked out: " + err.Error() + "."
	case err != nil:
		return nil, err
	}
	a.took = time.Since(started)
	if a.sorry == "" {
		w.remember(a)
	}
	return a, nil
}

// enter waits for a place at a bench.
func (w *workshop) enter(ctx context.Context) (leave func(), err error) {
	select {
	case w.queue <- struct{}{}:
	default:
		return nil, errBusy
	}
	select {
	case w.benches <- struct{}{}:
		return func() { <-w.benches; <-w.queue }, nil
	case <-ctx.Done():
		<-w.queue
		return nil, ctx.Err()
	}
}

func (w *workshop) recall(key [sha256.Size]byte) *answer {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	i := slices.IndexFunc(w.last, func(a *answer) bool { return a.key == key })
	if i < 0 {
		return nil
	}
	a := w.last[i]
	w.last = slices.Insert(slices.Delete(w.last, i, i+1), 0, a)
	return a
}

func (w *workshop) remember(a *answer) {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	w.last = slices.Insert(w.last, 0, a)
	size := 0
	for i, other := range w.last {
		if size += other.size(); i > 0 && (i >= mostRemembered || size > mostRememberedMB<<20) {
			clear(w.last[i:])
			w.last = w.last[:i]
			return
		}
	}
}

// size is about how many bytes an answer holds, for its points and its luminaires.
func (a *answer) size() int {
	if a.result == nil {
		return 4 << 10
	}
	size := 64 << 10
	for _, side := range a.result.Sides() {
		for _, g := range side.Grids {
			size += 24 * len(g.Maintained)
		}
		size += 32*len(side.From.Layout.Placements) + 64<<10 // a distribution
	}
	return size
}

// tooMuch says why the page does not take a job on; "" if it does.
func tooMuch(j *job.Job) string {
	refuse := func(what string, asked, most float64) string {
		return fmt.Sprintf("This job is too large for the page: %.0f %s, and it takes %.0f at most. Work it out with the command, which takes more: lampswap check.", asked, what, most)
	}
	systems := []*job.System{&j.Existing, &j.Proposed}
	if j.Replacement != nil {
		systems = append(systems, j.Replacement)
	}
	for _, s := range systems {
		if n := len(s.Layout.Placements); n > mostPagePlaces {
			return refuse("luminaires", float64(n), mostPagePlaces)
		}
	}
	if n := len(j.Racks); n > mostPageRacks {
		return refuse("racks", float64(n), mostPageRacks)
	}
	cells := func(length, width, spacing float64) float64 {
		return math.Ceil(length/spacing) * math.Ceil(width/spacing)
	}
	points := cells(j.Room.Length, j.Room.Width, j.Spacing)
	for _, g := range j.Grids {
		points += float64(g.NX) * float64(g.NY)
	}
	if points > mostPagePoints {
		return refuse("points on the grids", points, mostPagePoints)
	}
	if s := surfaces(j.Room, j.Racks); s > mostPageSurfaces {
		return refuse("square meters of floor, ceiling, walls and rack faces", s, mostPageSurfaces)
	}
	return ""
}

func surfaces(r room.Room, racks []room.Rack) float64 {
	total := 2 * (r.Length*r.Width + r.Height*(r.Length+r.Width))
	for _, rack := range racks {
		total += rack.Size.X*rack.Size.Y + 2*rack.Size.Z*(rack.Size.X+rack.Size.Y)
	}
	return total
}

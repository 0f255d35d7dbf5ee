// Package workshop works out the jobs of many visitors, few at a time and none too large, and remembers the last answers.
package workshop

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"
	"time"

	"lampswap/cmd/lampswap/internal/page/tomltext"
	"lampswap/photometry/building"
	"lampswap/photometry/diag"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/room"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
)

// What the page takes on. It is less than the command takes, which works for one person only.
const (
	mostAtWork       = 2                // jobs worked out at once
	mostWaiting      = 100              // jobs that wait for their turn
	SolveTime        = 30 * time.Second // of work on one job
	MostPlaces       = 5000             // luminaires of a system
	MostRacks        = 500              // with their repeats
	MostPoints       = 150000           // on all grids together
	mostSpaces       = 200              // of a building
	MostSurfaces     = 40000            // m², floor, ceiling, walls and the faces of racks
	MostKinds        = 200              // of luminaire, each computed before anything can be stopped
	mostRemembered   = 12               // answers
	mostRememberedMB = 128
	mostLightMB      = 256 // of light and of rooms that jobs have in common
	mostShelfMB      = 16  // of luminaires
)

// An Answer is what came of a text, a job's or a building's: a result, or faults, or a sentence why there is neither.
type Answer struct {
	Key    [sha256.Size]byte
	Job    *job.Job // nil where the file has faults
	Result *study.Result
	Whole  *whole.Result // of a building, which has no job
	Faults diag.List
	Sorry  string
	Took   time.Duration
}

// A Workshop works jobs out, few at once, and remembers the last answers.
type Workshop struct {
	benches chan struct{}
	queue   chan struct{}
	Limit   time.Duration   // of the work on one job
	shelf   *job.Shelf      // luminaires that were read or computed
	light   *lighting.Cache // whoever changes a lamp, a price or a criterion waits for no light that is there already
	mutex   sync.Mutex
	last    []*Answer // most recently used first
}

// New is a workshop where nothing is at work.
func New() *Workshop {
	return &Workshop{benches: make(chan struct{}, mostAtWork), queue: make(chan struct{}, mostAtWork+mostWaiting), Limit: SolveTime,
		shelf: job.NewShelf(mostShelfMB << 20), light: lighting.NewCache(mostLightMB << 20)}
}

// ErrBusy says that the queue is full.
var ErrBusy = errors.New("too many jobs are waiting")

// Do works out a text, unless the answer is remembered. It errs if the context ends or too many wait.
func (w *Workshop) Do(ctx context.Context, key [sha256.Size]byte, name, text string, files job.Files) (*Answer, error) {
	if a := w.recall(key); a != nil {
		return a, nil
	}
	leave, err := w.Enter(ctx)
	if err != nil {
		return nil, err
	}
	defer leave()
	if a := w.recall(key); a != nil { // somebody else asked the same meanwhile
		return a, nil
	}
	started := time.Now()
	a := &Answer{Key: key}
	if err := tomltext.Bounded(text); err != nil {
		a.Sorry = "The text of the job cannot be read here: " + err.Error() + "."
		return a, nil
	}
	if n := kindsIn(text); n > MostKinds {
		a.Sorry = fmt.Sprintf("This job is too large for the page: %d kinds of luminaire, and it takes %d at most. Work it out with the command, which takes more: lampswap check.", n, MostKinds)
		return a, nil
	}
	run, err := w.prepared(a, name, []byte(text), files)
	if faults, is := errors.AsType[diag.List](err); is {
		a.Faults = faults
		w.remember(a)
		return a, nil
	}
	if a.Sorry != "" {
		return a, nil
	}
	limited, cancel := context.WithTimeout(ctx, w.Limit)
	defer cancel()
	err = run(limited)
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case limited.Err() != nil:
		a.Sorry = fmt.Sprintf("This job takes longer than the %d seconds that the page gives it. Choose a wider spacing of points or fewer racks, or work it out with the command: lampswap check.", int(SolveTime.Seconds()))
	case Unsolvable(err):
		a.Sorry = "This job cannot be worked out: " + err.Error() + "."
	case err != nil:
		return nil, err
	}
	a.Took = time.Since(started)
	if a.Sorry == "" {
		w.remember(a)
	}
	return a, nil
}

// Unsolvable tells that an error lies in what a job asks for, and says so: its light cannot be worked out, or is not to be trusted.
func Unsolvable(err error) bool {
	_, memory := errors.AsType[*interreflect.MemoryError](err)
	_, large := errors.AsType[*lighting.TooLargeError](err)
	_, untrusted := errors.AsType[*lighting.ImbalanceError](err)
	return memory || large || untrusted || errors.Is(err, interreflect.ErrEndless)
}

// prepared reads a text, of a job or a building, and returns the work on it; a sorry answer if the page does not take it on.
func (w *Workshop) prepared(a *Answer, name string, text []byte, files job.Files) (run func(context.Context) error, err error) {
	if !building.Is(text) {
		j, err := w.Read(name, text, files)
		if err != nil {
			return nil, err
		}
		a.Job, a.Sorry = j, tooMuch(j)
		return func(ctx context.Context) (err error) {
			a.Result, err = w.Run(ctx, j)
			return err
		}, nil
	}
	b, err := building.Read(name, text, files, w.shelf)
	if err != nil {
		return nil, err
	}
	if n := len(b.Spaces); n > mostSpaces {
		a.Sorry = fmt.Sprintf("This building is too large for the page: %d spaces, and it takes %d at most. Work it out with the command: lampswap check.", n, mostSpaces)
	}
	for _, s := range b.Spaces {
		if sorry := tooMuch(s.Job); sorry != "" && a.Sorry == "" {
			a.Sorry = s.Name + ": " + sorry
		}
	}
	return func(ctx context.Context) (err error) {
		a.Whole, err = whole.RunWith(ctx, b, w.light, nil)
		return err
	}, nil
}

// kindsIn counts the kinds of luminaire of a text; what cannot be read has none.
func kindsIn(text string) int {
	t, err := tomltext.Read(text)
	if err != nil {
		return 0
	}
	kinds, _ := t.Value("kinds").(map[string]any)
	return len(kinds)
}

// Read reads a job, with luminaires from the shelf.
func (w *Workshop) Read(name string, text []byte, files job.Files) (*job.Job, error) {
	return w.shelf.Read(name, text, files)
}

// Run works a job out, with the light that is there already. Whoever calls it has entered.
func (w *Workshop) Run(ctx context.Context, j *job.Job) (*study.Result, error) {
	return study.RunWith(ctx, j, w.light)
}

// Enter waits for a place at a bench.
func (w *Workshop) Enter(ctx context.Context) (leave func(), err error) {
	select {
	case w.queue <- struct{}{}:
	default:
		return nil, ErrBusy
	}
	select {
	case w.benches <- struct{}{}:
		return func() { <-w.benches; <-w.queue }, nil
	case <-ctx.Done():
		<-w.queue
		return nil, ctx.Err()
	}
}

func (w *Workshop) recall(key [sha256.Size]byte) *Answer {
	w.mutex.Lock()
	defer w.mutex.Unlock()
	i := slices.IndexFunc(w.last, func(a *Answer) bool { return a.Key == key })
	if i < 0 {
		return nil
	}
	a := w.last[i]
	w.last = slices.Insert(slices.Delete(w.last, i, i+1), 0, a)
	return a
}

func (w *Workshop) remember(a *Answer) {
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
func (a *Answer) size() int {
	if a.Result == nil {
		return 4 << 10
	}
	size := 64<<10 + len(a.Job.Facts.Offer.Firm.LogoContent)
	for _, photo := range a.Job.Facts.Offer.Photos {
		size += len(photo.Content)
	}
	for _, side := range a.Result.Sides {
		for _, g := range side.Grids {
			size += 24 * len(g.Maintained)
		}
		size += 32*side.From.Number() + len(side.From.Kinds())*64<<10 // a distribution
	}
	return size
}

// tooMuch says why the page does not take a job on; "" if it does.
func tooMuch(j *job.Job) string {
	refuse := func(what string, asked, most float64) string {
		return fmt.Sprintf("This job is too large for the page: %.0f %s, and it takes %.0f at most. Work it out with the command, which takes more: lampswap check.", asked, what, most)
	}
	for _, s := range j.Systems() {
		if n := s.Number(); n > MostPlaces {
			return refuse("luminaires", float64(n), MostPlaces)
		}
	}
	if n := len(j.Racks); n > MostRacks {
		return refuse("racks", float64(n), MostRacks)
	}
	cells := func(length, width, spacing float64) float64 {
		return math.Ceil(length/spacing) * math.Ceil(width/spacing)
	}
	points := cells(j.Room.Length, j.Room.Width, j.Spacing)
	for _, g := range j.Grids {
		points += float64(g.NX) * float64(g.NY)
	}
	if points > MostPoints {
		return refuse("points on the grids", points, MostPoints)
	}
	if s := surfaces(j.Room, j.Racks); s > MostSurfaces {
		return refuse("square meters of floor, ceiling, walls and rack faces", s, MostSurfaces)
	}
	return ""
}

func surfaces(r room.Room, racks []room.Rack) float64 {
	total := 2*r.Area() + r.Height*r.Perimeter()
	for _, rack := range racks {
		total += rack.Size.X*rack.Size.Y + 2*rack.Size.Z*(rack.Size.X+rack.Size.Y)
		if rack.Hangs() {
			total += rack.Size.X * rack.Size.Y
		}
	}
	return total
}

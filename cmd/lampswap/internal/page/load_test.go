package page

import (
	"fmt"
	"net/http"
	"net/url"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/longtest"
)

// Load on this machine alone, by so many clients and requests.
const (
	loadClients  = 50
	loadRequests = 3 // of each client, in each of the rounds
	loadRounds   = 4
)

// Fifty people edit jobs of their own at once: nothing fails, nobody sees another's job, and memory stays what it was after the first round.
// How long they wait is told, not judged: it depends on the machine.
func TestLoad(t *testing.T) {
	rounds := longtest.Pick(2, loadRounds)
	begin := quickStart()
	begin.text = strings.Replace(quickJob, "clean_months", "relamp_hours = 16000.0\nclean_months", 1)
	_, server, terminal := openSite(t, begin)
	clients := make([]*client, longtest.Pick(10, loadClients))
	for i := range clients {
		clients[i] = newClient(t, server)
	}
	var held []uint64
	var waits []time.Duration
	for range rounds {
		waits = append(waits, loadRound(t, clients)...)
		held = append(held, heap())
	}
	slices.Sort(waits)
	t.Logf("%d requests of %d clients: median %v, 95 percent within %v, longest %v; heap after each round %d KB", len(waits), loadClients,
		waits[len(waits)/2], waits[len(waits)*95/100], waits[len(waits)-1], kilobytes(held))
	assert.Less(t, float64(held[rounds-1]), float64(held[0])*1.25+4<<20, "memory grows from round to round")
	assert.Empty(t, terminal.String(), "nothing went wrong")
}

func loadRound(t *testing.T, clients []*client) []time.Duration {
	t.Helper()
	var mutex sync.Mutex
	var all sync.WaitGroup
	var waits []time.Duration
	for n, c := range clients {
		all.Go(func() {
			for i := range loadRequests {
				started := time.Now()
				path, form := "/job", url.Values{"title": {fmt.Sprintf("Room of %d", n)}, "room.length": {fmt.Sprint(30 + (n+i)%17)}}
				if i%3 == 2 {
					path, form = "/try", url.Values{"factor": {fmt.Sprintf("%.2f", 0.6+float64(i)/100)}}
				}
				answer, body := c.post(t, path, form)
				mutex.Lock()
				waits = append(waits, time.Since(started))
				mutex.Unlock()
				if answer.StatusCode != http.StatusOK || !strings.Contains(body, fmt.Sprintf("<h1 id=\"answer-h\">Room of %d</h1>", n)) || !strings.Contains(body, `id="ledgers"`) {
					t.Errorf("client %d, request %d: %s, want its own answer", n, i, answer.Status)
					return
				}
			}
		})
	}
	all.Wait()
	require.Len(t, waits, len(clients)*loadRequests)
	return waits
}

// heap is what is held after what can be freed is freed.
func heap() uint64 {
	runtime.GC()
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

func kilobytes(bytes []uint64) []uint64 {
	var all []uint64
	for _, b := range bytes {
		all = append(all, b>>10)
	}
	return all
}

package terminal

import (
	"bytes"
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/jedib0t/go-pretty/v6/progress"
	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/exit"
	"lampswap/photometry/lighting"
)

// Work that ends as soon as its progress is shown ends.
func TestProgressEndsWithTheWork(t *testing.T) {
	device, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	require.NoError(t, err)
	defer func() { require.NoError(t, device.Close()) }()
	t.Setenv("TERM", "xterm")
	t.Setenv("NO_COLOR", "")
	for range 200 {
		ended := make(chan int)
		go func() {
			got, err := showProgress(device, 0, func(p lighting.Progress) (int, error) {
				p("light", 0.5)
				return 7, nil
			})
			assert.NoError(t, err)
			ended <- got
		}()
		select {
		case got := <-ended:
			require.Equal(t, 7, got)
		case <-time.After(10 * time.Second):
			t.Fatal("the progress goes on without work")
		}
	}
}

// A broken is a writer of progress that panics.
type broken struct{ progress.Writer }

func (broken) Render() { panic("no such bar") }

// A panic of what writes the progress, in a goroutine of its own, ends the command as every fault of its own does; an error of the work
// goes before it.
func TestAPanicOfTheProgressIsAFault(t *testing.T) {
	w := broken{progress.NewWriter()}
	_, err := watched(w, 0, func(p lighting.Progress) (int, error) {
		p("light", 0.5)
		return 7, nil
	})
	var told bytes.Buffer
	assert.Equal(t, exit.Failed, exit.Report(err, &told))
	first, stack, _ := strings.Cut(told.String(), "\n")
	assert.Contains(t, first, "lampswap: a fault of lampswap itself: no such bar; please report it with the job's files, this message and the version (")
	assert.Contains(t, stack, "broken.Render")
	_, err = watched(w, 0, func(p lighting.Progress) (int, error) {
		p("light", 0.5)
		return 0, io.ErrUnexpectedEOF
	})
	require.ErrorIs(t, err, io.ErrUnexpectedEOF)
}

// A device stands for a terminal here, as it does for the command.
func TestEscapesAreForTerminalsThatTakeThem(t *testing.T) {
	device, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	require.NoError(t, err)
	defer func() { require.NoError(t, device.Close()) }()
	t.Cleanup(text.DisableColors)
	bold := func() string { return text.Bold.Sprint("word") }
	t.Setenv("TERM", "xterm")
	t.Setenv("NO_COLOR", "")
	SetColors(device)
	assert.Contains(t, bold(), "\x1b[", "an empty NO_COLOR asks for nothing")
	SetColors(new(bytes.Buffer))
	assert.Equal(t, "word", bold())
	t.Setenv("NO_COLOR", "0")
	SetColors(device)
	assert.Equal(t, "word", bold())
	assert.False(t, takesEscapes(device), "no progress either")
	t.Setenv("NO_COLOR", "")
	t.Setenv("TERM", "dumb")
	SetColors(device)
	assert.Equal(t, "word", bold())
}

// Where nothing can be written over, long work tells on lines of their own what it does, how far it is and how long that will take yet.
func TestProgressByLines(t *testing.T) {
	var out bytes.Buffer
	told := lines(&out, 0)
	told("sights", 0.25) // from here on
	time.Sleep(2 * time.Millisecond)
	told("sights", 0.5)
	told("bounces", 0.1)
	told("bounces", 0.75)
	told("bounces", 0) // of the next system
	told("bounces", 0.3)
	assert.Regexp(t, `^lampswap: sights: 50 percent done, about \d+s left
lampswap: bounces: 75 percent done, about \d+s left
lampswap: bounces: 30 percent done, about \d+s left
$`, out.String())
	out.Reset()
	told = lines(&out, time.Hour)
	told("sights", 0.2)
	told("sights", 0.9)
	assert.Empty(t, out.String())
}

package page

import (
	"bytes"
	"image"
	"image/png"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A named pipe or a device in the job's folder is refused and never read: whoever opens a pipe waits for its writer for ever.
func TestServeReadsNoPipe(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{"pipe.ies", "pipe.png", "pipe.toml", "quick.readings.json"} {
		require.NoError(t, syscall.Mkfifo(filepath.Join(folder, name), 0o600))
	}
	require.NoError(t, os.Symlink("/dev/zero", filepath.Join(folder, "zero.ies")))
	path := filepath.Join(folder, "quick.toml")
	require.NoError(t, os.WriteFile(path, []byte(quickJob), 0o600))
	done := make(chan struct{})
	go func() {
		defer close(done)
		_, err := startOf(Options{}, []string{filepath.Join(folder, "pipe.toml")})
		assert.ErrorContains(t, err, "is a pipe or a device, not a file")
		begin, err := startOf(Options{Save: true}, []string{path})
		if !assert.NoError(t, err) {
			return
		}
		defer begin.close()
		_, server, _ := openSite(t, begin)
		c := newClient(t, server)
		_, body := c.get(t, "/")
		says(t, body, "The readings of quick.readings.json cannot be read")
		for _, change := range []url.Values{{"proposed.source": {"photometry:pipe.ies"}}, {"proposed.source": {"photometry:zero.ies"}}} {
			_, body = c.post(t, "/job", change)
			says(t, body, "cannot be ", change)
		}
		_, body = c.post(t, "/text", url.Values{"text": {quickJob + "[[photos]]\nfile = \"pipe.png\"\n"}})
		says(t, body, "pipe.png")
		says(t, body, "cannot be read")
	}()
	select {
	case <-done:
	case <-time.After(time.Minute):
		t.Fatal("something waits for the pipe")
	}
}

// A picture that is taken in is a photograph of the job, by its fields and in the proposal; what is no picture is not taken.
func TestServeTakesPhotographs(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	var picture bytes.Buffer
	require.NoError(t, png.Encode(&picture, image.NewGray(image.Rect(0, 0, 4, 3))))
	_, body := c.upload(t, "dock.png", picture.Bytes(), "")
	says(t, body, "dock.png is a photograph of the job now")
	saysNot(t, body, "to mend</h2>")
	assert.Contains(t, c.text(t), "[[photos]]\nfile = \"dock.png\"\n")
	_, body = c.upload(t, "fake.jpg", []byte("no picture"), "")
	says(t, body, "fake.jpg: is no picture in JPEG, PNG or SVG")
	_, body = c.post(t, "/job", url.Values{"photos[0].caption": {"The dock"}, "firm.name": {"L"}, "firm.logo": {"dock.png"}})
	saysNot(t, body, "to mend</h2>")
	answer, pdf := c.get(t, "/take/proposal.pdf")
	assert.Equal(t, 200, answer.StatusCode)
	assert.True(t, strings.HasPrefix(pdf, "%PDF"))
	_, archive := c.get(t, "/take/job.zip")
	assert.Contains(t, archive, "dock.png")
}

// A job of more kinds of luminaire than it takes to hold a bench for long is refused before any of them is computed.
func TestServeRefusesManyKinds(t *testing.T) {
	_, server, _ := openSite(t, quickStart())
	c := newClient(t, server)
	var kinds strings.Builder
	for i := range 400 {
		kinds.WriteString("[kinds.k" + strings.Repeat("x", i+1) + "]\nfixture = \"strip-4in\"\nlamp_lumens = 1000\nlamps = 2\n")
	}
	_, body := c.post(t, "/text", url.Values{"text": {"[room]\nlength = 30\nwidth = 20\nheight = 10\n" + kinds.String()}})
	says(t, body, "kinds of luminaire")
}

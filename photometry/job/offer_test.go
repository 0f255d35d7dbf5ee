package job_test

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/photometry/job"
)

// A firm's own words come through as they stand; what is left out stays empty.
func TestOffer(t *testing.T) {
	var logo bytes.Buffer
	require.NoError(t, png.Encode(&logo, image.NewGray(image.Rect(0, 0, 3, 2))))
	files := func(name string) ([]byte, error) {
		if name == "logo.png" {
			return logo.Bytes(), nil
		}
		return open(name)
	}
	text := "notes = \"\"\"\n# By night\n\n- lock out\x20\x20\n\"\"\"\n" + sound + `
[firm]
name = "Lamp Crew"
address = ["1 Dock Road", "Harbor"]
license = "C-10"
logo = "logo.png"
[offer]
work = [["walk-through", "day 1"], ["aisles", "nights 2 to 4"]]
warranty = "One year."
valid_until = 2099-01-31
acceptance = true
[[photos]]
file = "logo.png"
caption = "as found"
`
	j, err := job.Read("dock.toml", []byte(text), files)
	require.NoError(t, err)
	o := j.Facts.Offer
	assert.Equal(t, job.Firm{Name: "Lamp Crew", Address: []string{"1 Dock Road", "Harbor"}, License: "C-10", Logo: "logo.png", LogoContent: logo.Bytes()}, o.Firm)
	assert.Equal(t, "# By night\n\n- lock out\n", o.Notes)
	assert.Equal(t, []job.Step{{What: "walk-through", When: "day 1"}, {What: "aisles", When: "nights 2 to 4"}}, o.Work)
	assert.Equal(t, []string{"One year."}, o.Warranty)
	assert.Equal(t, time.Date(2099, 1, 31, 0, 0, 0, 0, time.UTC), o.ValidUntil)
	assert.True(t, o.Acceptance)
	assert.Equal(t, []job.Photo{{File: "logo.png", Caption: "as found", Content: logo.Bytes()}}, o.Photos)
	assert.Contains(t, j.InputNames, "logo.png")
	assert.Empty(t, read(t, sound).Facts.Offer)
}

// The digest of a job holds its pictures.
func TestOfferIsInTheDigest(t *testing.T) {
	_, err := job.Read("dock.toml", []byte(sound+"[firm]\nname = \"L\"\nlogo = \"logo.png\"\n"), func(string) ([]byte, error) { return nil, os.ErrNotExist })
	require.ErrorContains(t, err, `firm.logo: "logo.png" cannot be read`)
}

// wrongOffers are wrong in what the firm says.
var wrongOffers = []wrong{
	{upkeepHours, "[firm]\nphone = \"1\"\n" + upkeepHours, `dock.toml:33:2: firm.name: is missing, want who offers the work`},
	{upkeepHours, "[firm]\nname = 1\nphone = 1\nemail = 2\nlicense = 3\nlogo = 4\naddress = []\n" + upkeepHours, `dock.toml:34:8: firm.name: is 1, want a text in quotes
dock.toml:35:9: firm.phone: is 1, want a text in quotes
dock.toml:36:9: firm.email: is 2, want a text in quotes
dock.toml:37:11: firm.license: is 3, want a text in quotes
dock.toml:38:8: firm.logo: is 4, want a text in quotes
dock.toml:39:1: firm.address: is a list of 0, want a line, or a list of 1 to 10 lines`},
	{upkeepHours, "[firm]\nname = \"L\"\nlogo = \"no.png\"\n" + upkeepHours, `dock.toml:35:8: firm.logo: "no.png" cannot be read (file does not exist), want a picture beside this file, JPEG, PNG or plain SVG`},
	{upkeepHours, "[firm]\nname = \"L\"\nlogo = \"strip.ies\"\n" + upkeepHours, `dock.toml:35:8: firm.logo: "strip.ies" is no picture in JPEG or PNG, want a picture beside this file, JPEG, PNG or plain SVG`},
	{upkeepHours, "[offer]\nwork = [[\"a\"], [\"a\", 1]]\nwarranty = 1\nvalid_until = 1\nacceptance = 1\n" + upkeepHours, `dock.toml:34:10: offer.work[0]: is a list of 1, want two texts
dock.toml:34:22: offer.work[1][1]: is 1, want a text in quotes
dock.toml:35:12: offer.warranty: is 1, want a sentence, or a list of 1 to 40
dock.toml:36:15: offer.valid_until: is 1, want a day as "2026-04-30"
dock.toml:37:14: offer.acceptance: is 1, want true or false`},
	{upkeepHours, "[offer]\nwork = \"a\"\nwarranty = []\n" + upkeepHours, `dock.toml:34:8: offer.work: is the text "a", want a list of 1 to 100 pairs of two texts
dock.toml:35:1: offer.warranty: is a list of 0, want a sentence, or a list of 1 to 40`},
	{upkeepHours, "[[photos]]\ncaption = 1\n[[photos]]\nfile = \"\"\n" + upkeepHours, `dock.toml:33:3: photos[0].file: is missing, want a picture beside the job, JPEG or PNG
dock.toml:34:11: photos[0].caption: is 1, want a text in quotes
dock.toml:36:8: photos[1].file: is blank, want a text`},
	{`title = "bay"`, "title = \"bay\"\nnotes = 3\nphotos = 3\noffer = 3\nfirm = 3", `dock.toml:2:9: notes: is 3, want a text in quotes
dock.toml:3:10: photos: is 3, want one or more tables, [[photos]]
dock.toml:4:9: offer: is 3, want a table, [offer]
dock.toml:5:8: firm: is 3, want a table, [firm]`},
	{`title = "bay"`, "title = \"bay\"\nnotes = \"\"\"" + strings.Repeat("long ", 5000) + "\"\"\"", `dock.toml:2:9: notes: has 25000 bytes, want at most 20000`},
}

package proposal_test

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/document/pdf"
	"lampswap/cmd/lampswap/internal/drawn"
	"lampswap/cmd/lampswap/internal/phrases"
	"lampswap/cmd/lampswap/internal/proposal"
	"lampswap/photometry/interreflect"
	"lampswap/photometry/job"
	"lampswap/photometry/lighting"
	"lampswap/photometry/longtest"
	"lampswap/photometry/study"
	"lampswap/plots"
)

// Places on a page of the PDF writer, pt.
const (
	footerRule = 58 - 26 + 13 // above the lower edge
	headerRule = 58 - 17      // below the upper edge
	headRoom   = 150          // of a heading above and a caption below a figure that fills a page, at most
	atTheSide  = 54 - 5       // a figure's own margin hangs over the edge of the text by 4
)

// onPages looks for what is wrong with the pages of a PDF: ink off the page or in its margins, figures over the footer, over each other or over
// text, and a figure lower than it can be read. Numbers that are none the reader of the pages refuses.
func onPages(d document.Document, paper document.Paper, content []byte) []string {
	pages, err := drawn.PDFPages(content)
	if err != nil {
		return []string{err.Error()}
	}
	var wrong []string
	parts := partsOf(d, paper)
	for i, p := range pages {
		say := func(format string, args ...any) {
			wrong = append(wrong, fmt.Sprintf("page %d: ", i+1)+fmt.Sprintf(format, args...))
		}
		figures := map[int]drawn.Ink{}
		for _, k := range p.Ink {
			if k.X0 < atTheSide || k.X1 > p.Width-atTheSide || k.Y0 < 20 || k.Y1 > p.Height-20 {
				say("%+v is off the text of the page", k)
			}
			if k.Figure > 0 {
				f, seen := figures[k.Figure]
				if !seen {
					f = k
				}
				f.X0, f.Y0, f.X1, f.Y1 = min(f.X0, k.X0), min(f.Y0, k.Y0), max(f.X1, k.X1), max(f.Y1, k.Y1)
				figures[k.Figure] = f
			}
		}
		for n := 1; n <= len(figures); n++ {
			f := figures[n]
			if len(parts) == 0 {
				say("figure %d is none of the document", n)
				break
			}
			if least := min(parts[0].least, p.Height-footerRule-headerRule-headRoom); f.Y1-f.Y0 < 0.97*least-10 {
				say("figure %d is %.0f pt high, less than %.0f: %s", n, f.Y1-f.Y0, least, parts[0].Describe())
			}
			parts = parts[1:]
			if f.Y0 < footerRule || f.Y1 > p.Height-headerRule {
				say("figure %d, %+v, lies over head or foot", n, f)
			}
			for _, k := range p.Ink {
				if k.Figure != n && k.X0 < f.X1-1 && k.X1 > f.X0+1 && k.Y0 < f.Y1-1 && k.Y1 > f.Y0+1 {
					say("%+v lies over figure %d, %+v", k, n, f)
				}
			}
		}
	}
	if len(parts) > 0 {
		wrong = append(wrong, fmt.Sprintf("%d figures are not drawn", len(parts)))
	}
	return wrong
}

// A part is a drawing of a document and the least height at which it can be read on its pages, pt.
type part struct {
	plots.Figure
	least float64
}

func partsOf(d document.Document, p document.Paper) []part {
	var all []part
	for _, b := range d.Blocks {
		f, ok := b.(document.Figure)
		if !ok {
			continue
		}
		for _, drawing := range f.Parts {
			least := 0.0 // of those beside each other
			if len(f.Parts) == 1 {
				least = float64(drawing.LeastHeight(vg.Length(p.Width - 2*atTheSide + 2)))
			}
			all = append(all, part{drawing, least})
		}
	}
	return all
}

// A figure is never drawn smaller than can be read, nor over anything else: it moves to the next page. Rooms, criteria, units and papers are
// drawn, a few of them unless LAMPSWAP_LONG is 1.
func TestPagesOfAnyJob(t *testing.T) {
	papers := []string{"letter", "a4"}
	shelf, enough := job.NewShelf(64<<20), longtest.Pick(4, 60)
	any := rapid.Custom(drawn.Any)
	for seed, done := 0, 0; done < enough; seed++ {
		d := any.Example(seed)
		j, err := shelf.Read("drawn.toml", []byte(d.Text), drawn.Open)
		if err != nil {
			continue
		}
		ctx, cancel := context.WithTimeout(t.Context(), drawn.Patience)
		r, err := study.Run(ctx, j, nil)
		cancel()
		if errors.As(err, new(*interreflect.MemoryError)) || errors.As(err, new(*lighting.TooLargeError)) || errors.Is(err, interreflect.ErrEndless) || errors.Is(err, context.DeadlineExceeded) {
			continue
		}
		require.NoError(t, err, d.Text)
		paper := document.Papers[papers[seed%len(papers)]]
		offer, err := proposal.Of(r, nil, proposal.Both, phrases.English)
		require.NoError(t, err, d.Text)
		spanish, err := proposal.Of(r, nil, proposal.Offer, phrases.Spanish)
		require.NoError(t, err, d.Text)
		proposal.LeftInEnglish(t, spanish, j)
		require.Empty(t, halfEmpty(spanish, paper), d.Text)
		content, err := pdf.Write(offer, paper)
		require.NoError(t, err, d.Text)
		if wrong := append(onPages(offer, paper, content), halfEmpty(offer, paper)...); len(wrong) > 0 {
			t.Errorf("seed %d:\n%s\n%s", seed, strings.Join(wrong[:min(len(wrong), 5)], "\n"), d.Text)
		}
		done++
	}
}

// The room whose maps were dots, and others that leave figures little room, each on one of the papers unless LAMPSWAP_LONG is 1.
func TestPagesOfRoomsThatLeftNoRoom(t *testing.T) {
	papers := slices.Sorted(maps.Keys(document.Papers))
	for i, c := range []struct{ name, text string }{
		{"one criterion, a state and prices", jobWith(40, 30, 11, "state = \"CA\"", "[energy]\nprice_per_kwh = 0.12\n"+criterion("owner", 30))},
		{"a closet", jobWith(9, 3, 8, "", directOnly)},
		{"a strip of a room", jobWith(300, 9, 12, "", directOnly+criterion("owner", 10))},
		{"twenty criteria", jobWith(60, 40, 14, "", directOnly+manyCriteria(20, "owner's lease, clause "))},
		{"names of many lines", jobWith(60, 40, 14, "title = \""+strings.Repeat("A long title of a hall by the water ", 30)+"\"",
			directOnly+manyCriteria(8, strings.Repeat("a long name of a criterion ", 40)))},
		{"a word without end", jobWith(60, 40, 14, "title = \""+strings.Repeat("W", 900)+"\"", directOnly+criterion(strings.Repeat("x", 700), 20))},
	} {
		t.Run(c.name, func(t *testing.T) {
			j, err := job.Read("small.toml", []byte(c.text), drawn.Open)
			require.NoError(t, err)
			r, err := study.Run(t.Context(), j, nil)
			require.NoError(t, err)
			for _, name := range longtest.Pick(papers[i%len(papers):i%len(papers)+1], papers) {
				paper := document.Papers[name]
				offer, err := proposal.Of(r, nil, proposal.Both, phrases.English)
				require.NoError(t, err)
				content, err := pdf.Write(offer, paper)
				require.NoError(t, err)
				wrong := onPages(offer, paper, content)
				if strings.Count(c.name, "word") == 0 && c.name != "names of many lines" { // whose rows are a third of a page high
					wrong = append(wrong, halfEmpty(offer, paper)...)
				}
				require.Empty(t, wrong[:min(len(wrong), 10)], "%s", paper.Name)
			}
		})
	}
}

// directOnly leaves out what takes long in a closet.
const directOnly = "[calculation]\ninterreflection = false\n"

// jobWith is a job in a room of that size, feet, with lines before its tables and tables at its end.
func jobWith(length, width, height float64, facts, more string) string {
	return fmt.Sprintf(`units = "imperial"
%s
[room]
length = %.1f
width = %.1f
height = %.1f
[layout]
mounting_height = %.1f
rows = 3
columns = 4
[existing]
fixture = "strip-4in"
lamp = "F96T12"
lamps = 2
ballast = "magnetic"
[proposed]
fixture = "strip-4in"
lamp = "F32T8/800"
lamps = 4
ballast = "is-normal"
%s`, facts, length, width, height, height-1, more)
}

func criterion(name string, least float64) string {
	return fmt.Sprintf("[[criteria]]\nname = %q\nstatistic = \"average\"\nat_least = %.1f\n", name, least)
}

func manyCriteria(n int, name string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(criterion(fmt.Sprint(name, i+1), float64(10+3*i)))
	}
	return b.String()
}

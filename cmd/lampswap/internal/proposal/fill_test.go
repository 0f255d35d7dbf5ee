package proposal_test

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/document/pdf"
	"lampswap/cmd/lampswap/internal/jobs"
	"lampswap/cmd/lampswap/internal/phrases"
	"lampswap/cmd/lampswap/internal/proposal"
	"lampswap/photometry/longtest"
	"lampswap/photometry/study"
	"lampswap/photometry/whole"
)

const (
	leastFilled = 2.0 / 3 // of a page that is not the last of its part
	leastRows   = 3       // of a table on a page, if it goes on elsewhere
)

// halfEmpty looks in a document that is laid out for pages with too little on them, and for tables of which a page has too few rows.
func halfEmpty(d document.Document, paper document.Paper) []string {
	pages, err := pdf.Pages(d, paper)
	if err != nil {
		return []string{err.Error()}
	}
	whole := map[int]int{}
	for _, p := range pages {
		for table, rows := range p.Rows {
			whole[table] += rows
		}
	}
	var wrong []string
	for i, p := range pages {
		if !p.Ends && p.Filled < leastFilled {
			wrong = append(wrong, fmt.Sprintf("page %d of %d: %.0f percent full", i+1, len(pages), 100*p.Filled))
		}
		for table, rows := range p.Rows {
			if rows < leastRows && rows < whole[table] {
				wrong = append(wrong, fmt.Sprintf("page %d: %d of %d rows of table %d", i+1, rows, whole[table], table))
			}
		}
	}
	return wrong
}

// No page of a demonstration, in any of its parts and languages on any paper, is less than two thirds full but the last of a part. Where there
// is little time, they take turns with the papers.
func TestNoPageIsHalfEmpty(t *testing.T) {
	papers := slices.Sorted(maps.Keys(document.Papers))
	for _, name := range longtest.Pick([]string{"parts-store", "building"}, jobs.DemoNames()) { // the third takes as long as all else
		asked, err := jobs.Request{Demo: name}.Open(t.Context())
		require.NoError(t, err)
		var all []document.Document
		if asked.Building != nil {
			r, err := whole.Run(t.Context(), asked.Building, nil)
			require.NoError(t, err)
			for _, l := range phrases.Languages() {
				d, err := proposal.OfBuilding(r, proposal.Both, phrases.Language(l))
				require.NoError(t, err)
				all = append(all, d)
			}
		} else {
			r, err := study.Run(t.Context(), asked.Job, nil)
			require.NoError(t, err)
			for _, part := range proposal.Parts {
				for _, l := range phrases.Languages() {
					d, err := proposal.Of(r, nil, part, phrases.Language(l))
					require.NoError(t, err)
					all = append(all, d)
				}
			}
		}
		for i, d := range all {
			turn := (i + i/2) % len(papers) // each language on each
			for _, on := range longtest.Pick(papers[turn:turn+1], papers) {
				assert.Empty(t, halfEmpty(d, document.Papers[on]), "%s, %s", name, on)
			}
		}
	}
}

package pdf

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"lampswap/cmd/lampswap/internal/document"
)

// Labels that have room stand on one line, however many columns of numbers share the rest with them.
func TestLabelsAreNotBroken(t *testing.T) {
	paper := document.Papers["letter"]
	doc, err := opened(paper)
	require.NoError(t, err)
	for columns := 1; columns <= 6; columns++ {
		for _, label := range []string{"tandem", "strip", "over the dock", "a"} {
			d := document.Table{Label: "Kind", Groups: []document.Group{{Name: "To be bought", Rows: []document.Row{{Label: label}}}}}
			for range columns {
				d.Columns = append(d.Columns, document.Column{Name: "Lamps"})
				d.Groups[0].Rows[0].Cells = append(d.Groups[0].Rows[0].Cells, document.Cell{Text: "1,296"})
			}
			table := pdfTable{writer: &writer{pdf: doc, paper: paper}, Table: d}
			table.measure()
			assert.Len(t, table.wrap(cellType, label, table.widths[0]-table.indent), 1, fmt.Sprint(columns, label))
		}
	}
}

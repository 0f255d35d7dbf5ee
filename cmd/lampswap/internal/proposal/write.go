// Package proposal says in a document what a result means to whoever pays for the work: the answer, the ledger, maps, other lamps, money,
// and all that it rests on.
package proposal

import (
	"lampswap/cmd/lampswap/internal/document"
	"lampswap/cmd/lampswap/internal/document/html"
	"lampswap/cmd/lampswap/internal/document/pdf"
	"lampswap/photometry/job"
)

// A Writer renders a document for some paper.
type Writer func(d document.Document, p document.Paper) ([]byte, error)

// Writers are the writers by the ending of a file.
var Writers = map[string]Writer{".pdf": pdf.Write, ".html": html.Write}

// PaperFor is the paper of that name, else that of the country whose units the job has.
func PaperFor(name string, j *job.Job) document.Paper {
	switch {
	case name != "":
		return document.Papers[name]
	case j.Imperial:
		return document.Papers["letter"]
	}
	return document.Papers["a4"]
}

package paper_test

import (
	"bytes"
	"fmt"
	"image/color"

	"codeberg.org/go-pdf/fpdf"
	"gonum.org/v1/plot/vg"

	"lampswap/plots/internal/paper"
)

// A line on a page, in a canvas of 50 by 40 pt.
func Example() {
	doc := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: 100, Ht: 100}})
	doc.AddPage()
	canvas := paper.NewPDF(doc, 20, 10, 50, 40)
	canvas.SetColor(color.Black)
	canvas.SetLineWidth(1)
	var path vg.Path
	path.Move(vg.Point{})
	path.Line(vg.Point{X: 50, Y: 40})
	canvas.Stroke(path)
	var file bytes.Buffer
	fmt.Println(doc.Output(&file), doc.PageCount(), "page")
	// Output: <nil> 1 page
}

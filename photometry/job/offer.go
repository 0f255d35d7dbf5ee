package job

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // photographs
	_ "image/png"  // drawings
	"strconv"
	"time"

	"lampswap/photometry/internal/tomlfile"
)

// Bounds of what a firm says of its own offer.
const (
	mostFirmLines  = 10
	mostNotes      = 20_000 // bytes
	mostPhotos     = 40
	mostSteps      = 100
	mostWarranties = 40
)

// A Firm is who offers the work.
type Firm struct {
	Name, Phone, Email, License string
	Address                     []string // lines
	Logo                        string   // its file, as the job names it
	LogoContent                 []byte
}

// An Offer is what whoever offers the work adds to a proposal. Each part may be empty, and nothing is invented in its place.
type Offer struct {
	Firm       Firm
	Notes      string // Markdown
	Photos     []Photo
	Work       []Step    // in the order in which it is done
	Warranty   []string  // sentences
	ValidUntil time.Time // its day in UTC; zero if not given
	Acceptance bool      // lines to sign on
}

// A Photo is a picture with what it shows.
type Photo struct {
	File, Caption string
	Content       []byte
}

// A Step is a piece of work with when it is done or how long it takes, in words.
type Step struct{ What, When string }

// offer reads [firm], notes, [[photos]] and [offer].
func (r *reader) offer(top *tomlfile.Table) {
	o := &r.job.Facts.Offer
	o.Firm = r.firm(top.Table("firm"))
	o.Notes, _ = top.Paragraphs("notes", mostNotes)
	for _, t := range top.Tables("photos", mostPhotos) {
		var p Photo
		var ok bool
		if p.File, ok = t.Text("file"); !ok {
			r.need(t, "file", "a picture beside the job, JPEG or PNG")
		} else {
			p.Content = r.picture(t, "file", p.File)
		}
		p.Caption, _ = t.Text("caption")
		o.Photos = append(o.Photos, p)
		t.Done()
	}
	t := top.Table("offer")
	for _, pair := range t.TextPairs("work", mostSteps) {
		o.Work = append(o.Work, Step{pair[0], pair[1]})
	}
	o.Warranty, _ = t.TextOrTexts("warranty", mostWarranties, fmt.Sprintf("a sentence, or a list of 1 to %d", mostWarranties))
	o.ValidUntil, _ = t.Day("valid_until")
	if !o.ValidUntil.IsZero() && o.ValidUntil.Before(r.job.Facts.Date) {
		t.Fault("valid_until", "is before the date of the job, "+r.job.Facts.Date.Format(time.DateOnly), "a later day")
	}
	o.Acceptance, _ = t.Bool("acceptance")
	t.Done()
}

// firm reads who offers the work.
func (r *reader) firm(t *tomlfile.Table) Firm {
	var f Firm
	if !t.Exists() {
		return f
	}
	for key, to := range map[string]*string{"name": &f.Name, "phone": &f.Phone, "email": &f.Email, "license": &f.License, "logo": &f.Logo} {
		*to, _ = t.Text(key)
	}
	if !t.Has("name") {
		t.Missing("name", "who offers the work")
	}
	f.Address, _ = t.TextOrTexts("address", mostFirmLines, fmt.Sprintf("a line, or a list of 1 to %d lines", mostFirmLines))
	if f.Logo != "" {
		f.LogoContent = r.picture(t, "logo", f.Logo)
	}
	t.Done()
	return f
}

// mostPixels is the size of a picture: a few times what a camera makes.
const mostPixels = 100e6

// picture opens a picture that the job names. Which formats there are package image knows: a program that draws SVG registers it there.
func (r *reader) picture(t *tomlfile.Table, key, name string) []byte {
	want := "a picture beside this file, JPEG or PNG"
	if key == "logo" {
		want = "a picture beside this file, JPEG, PNG or plain SVG"
	}
	content, err := r.files(name)
	if err != nil {
		t.Fault(key, strconv.Quote(name)+" cannot be read ("+Reason(err)+")", want)
		return nil
	}
	size, format, err := image.DecodeConfig(bytes.NewReader(content))
	switch pixels := float64(size.Width) * float64(size.Height); {
	case err != nil && !errors.Is(err, image.ErrFormat) && key == "logo" && bytes.HasPrefix(bytes.TrimLeft(content, "\ufeff \r\n"), []byte("<")):
		t.Fault(key, strconv.Quote(name)+" is not drawn: "+err.Error(), want+" (letters as paths, no filters, masks or pictures)")
	case err != nil, format == "svg" && key != "logo":
		t.Fault(key, strconv.Quote(name)+" is no picture in JPEG or PNG", want)
	case pixels < 1 || pixels > mostPixels:
		t.Fault(key, fmt.Sprintf("%q has %d x %d pixels", name, size.Width, size.Height), fmt.Sprintf("1 to %.0f million pixels", mostPixels/1e6))
	}
	return content
}

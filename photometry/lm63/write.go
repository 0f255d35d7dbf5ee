package lm63

import (
	"bytes"
	"io"
)

// Write writes the file in its own edition: Read gives the same File back, but for the Warnings. Lines end in CR LF; those of text are as
// long as their keywords, within the edition's limit, those of numbers have at most 78 characters. A tilt file is named, not written: see
// WriteTilt. It errs with a diag.List, without places, for what Read would refuse, and then nothing is written.
func Write(w io.Writer, f *File) error {
	var found faults
	f.check(&found)
	if err := found.err(); err != nil {
		return err
	}
	var b bytes.Buffer
	if header := headers[f.Edition]; header != "" {
		writeLine(&b, header)
	}
	for _, k := range f.Keywords {
		writeLine(&b, k.String())
	}
	switch f.Tilt.Kind {
	case TiltNone, TiltInclude:
		writeLine(&b, "TILT="+f.Tilt.Kind.String())
	case TiltFile:
		writeLine(&b, "TILT="+f.Tilt.FileName)
	}
	if f.Tilt.Kind == TiltInclude {
		f.Tilt.write(&b)
	}
	f.writeNumbers(&b)
	_, err := w.Write(b.Bytes())
	return err
}

func (f *File) writeNumbers(b *bytes.Buffer) {
	writeNumbers(b, []float64{float64(f.Lamps), f.LumensPerLamp, f.Multiplier, float64(len(f.VerticalDeg)), float64(len(f.HorizontalDeg)),
		float64(f.Type), float64(f.Units), f.Width, f.Length, f.Height})
	writeNumbers(b, []float64{f.BallastFactor, f.BallastLampFactor, f.InputWatts})
	writeNumbers(b, f.VerticalDeg)
	writeNumbers(b, f.HorizontalDeg)
	for _, row := range f.Candela {
		writeNumbers(b, row)
	}
}

func writeLine(b *bytes.Buffer, line string) {
	b.WriteString(line)
	b.WriteString("\r\n")
}

// writeNumbers writes numbers from a new line on, and goes on on the next where one is full.
func writeNumbers(b *bytes.Buffer, values []float64) {
	column := 0
	for _, value := range values {
		text := formatted(value)
		if value == 0 {
			text = "0" // -0 too
		}
		switch {
		case column > 0 && column+1+len(text) > numberColumns:
			b.WriteString("\r\n")
			column = 0
		case column > 0:
			b.WriteByte(' ')
			column++
		}
		b.WriteString(text)
		column += len(text)
	}
	b.WriteString("\r\n")
}

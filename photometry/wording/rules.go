package wording

import (
	"strings"
	"time"

	"lampswap/photometry/codes"
	"lampswap/photometry/internal/table"
)

// Notice is a dated rule as a caution for a day: where, since or from when, what, source, how far it can be trusted, and where to check it. The zero
// time is a day that is not known.
func Notice(n codes.Notice, on time.Time) string {
	var b strings.Builder
	switch {
	case n.Elsewhere:
		b.WriteString("Some states")
	case n.State == "":
		b.WriteString("Federal")
	default:
		b.WriteString(n.State)
	}
	switch status := n.Status(on); {
	case on.IsZero() && status != codes.Undated:
		b.WriteString(", from " + n.From.String())
	case status == codes.InForce:
		b.WriteString(", in force since " + n.From.String())
	case status == codes.Begins:
		b.WriteString(", from a day in " + n.From.String() + " that was not found, so perhaps already in force")
	case status == codes.Coming:
		b.WriteString(", coming: from " + n.From.String())
	case status == codes.Undated:
		if !n.Elsewhere {
			b.WriteString(", date not known")
		}
	}
	b.WriteString(": " + n.What)
	if n.Notes != "" {
		b.WriteString(" Note: " + n.Notes + ".")
	}
	b.WriteString(" Source: " + n.Source)
	if words := table.ConfidenceWords(n.Confidence); words != "" && !strings.Contains(n.Source, words) {
		b.WriteString("; " + words)
	}
	if n.State == "" && !n.Elsewhere {
		return b.String() + ". Check the rule's own text."
	}
	b.WriteString(". Check the state's own text; exemptions differ.")
	if n.Kind == codes.SaleBan {
		b.WriteString(" A fluorescent lamp fitted there may soon not be replaceable by its like.")
	}
	return b.String()
}

// dated says when a notice holds from, as far as known, as seen from a day.
func dated(n codes.Notice, on time.Time) string {
	switch {
	case !n.From.Known():
		return "from a date that was not found"
	case !on.IsZero() && n.Status(on) == codes.InForce:
		return "since " + n.From.String()
	}
	return "from " + n.From.String()
}

// altered is when an alteration has to meet a code, in one line, with how far that can be trusted.
func altered(a codes.Alteration) string {
	if words := table.ConfidenceWords(a.Confidence); words != "" {
		return a.Says + " (" + words + ")"
	}
	return a.Says
}

// Package wording turns what the rooms of the library find into sentences: verdicts, warnings, cautions, what readings prove. A sentence is in the job's
// units, with the digits that its number deserves, and the same in text, JSON, on the page and on paper. It decides nothing: what holds, and how grave it
// is, stands in the results that it words.
package wording

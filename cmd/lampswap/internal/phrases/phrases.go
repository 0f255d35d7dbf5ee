// Package phrases is the words of an offer in each language in which it may be made: one table, a phrase a
// row. The Spanish is our own, by the words of the electrical trade in the United States, and was checked
// by no certified translator.
package phrases

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

//go:embed phrases.csv
var text string

// A Language is one of Languages, by its code of ISO 639-1.
type Language string

// The languages; a column of the table each.
const (
	English Language = "en"
	Spanish Language = "es"
)

// Languages are the codes that may be asked for, that of the record first.
func Languages() []string { return []string{string(English), string(Spanish)} }

// phrases are the rows by their keys, a phrase a language.
var phrases = sync.OnceValue(func() map[string]map[Language]string {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil || !slices.Equal(rows[0], append([]string{"key"}, Languages()...)) {
		panic(fmt.Sprintf("phrases.csv: %v: %v", rows[:1], err))
	}
	all := map[string]map[Language]string{}
	for _, row := range rows[1:] {
		if all[row[0]] != nil {
			panic("phrases.csv: twice " + row[0])
		}
		all[row[0]] = map[Language]string{}
		for i, l := range Languages() {
			all[row[0]][Language(l)] = row[i+1]
		}
	}
	return all
})

// names are what values stand for in a phrase.
var names = regexp.MustCompile(`\{\w+\}`)

// Say is the phrase of a key, in which each name in braces stands for what follows it in with. It panics
// where there is no such phrase, and where a name has no value or a value no name: both are faults of ours.
func (l Language) Say(key string, with ...any) string {
	of, known := phrases()[key]
	if !known {
		panic("phrases: no phrase has the key " + key)
	}
	said := of[l]
	pairs := make([]string, 0, len(with))
	for i := 0; i+1 < len(with); i += 2 {
		name := "{" + with[i].(string) + "}"
		if !strings.Contains(said, name) {
			panic("phrases: " + key + " has no " + name)
		}
		pairs = append(pairs, name, fmt.Sprint(with[i+1]))
	}
	for _, name := range names.FindAllString(said, -1) {
		if !slices.Contains(pairs, name) {
			panic("phrases: " + key + " has no value of " + name)
		}
	}
	return strings.NewReplacer(pairs...).Replace(said)
}

// Count is a number of things by the phrases key.one and key.many, of which the latter names n.
func (l Language) Count(n int, key string, with ...any) string {
	if n == 1 {
		return l.Say(key+".one", with...)
	}
	return l.Say(key+".many", append([]any{"n", n}, with...)...)
}

// Day is a date in full.
func (l Language) Day(d time.Time) string { return l.Date(d.Year(), d.Month(), d.Day()) }

// Date is a day, or a month where that is 0, or a year where both are.
func (l Language) Date(year int, month time.Month, day int) string {
	if month == 0 {
		return strconv.Itoa(year)
	}
	name := l.Say(fmt.Sprintf("month.%d", int(month)))
	if day == 0 {
		return l.Say("date.month", "month", name, "year", year)
	}
	return l.Say("date", "day", day, "month", name, "year", year)
}

// And joins words, the last by "and".
func (l Language) And(words []string) string { return strings.Join(words, l.Say("and")) }

// Of is what another room says in English, by the phrases whose keys begin so; as it is where none of them
// is that.
func (l Language) Of(begins, english string) string {
	for key, of := range phrases() {
		if strings.HasPrefix(key, begins) && of[English] == english {
			return of[l]
		}
	}
	return english
}

// Figures are the words that figures write themselves, by their English; none for English.
func (l Language) Figures() map[string]string {
	if l == English {
		return nil
	}
	all := map[string]string{}
	for key, of := range phrases() {
		if strings.HasPrefix(key, "figure.") {
			all[of[English]] = of[l]
		}
	}
	return all
}

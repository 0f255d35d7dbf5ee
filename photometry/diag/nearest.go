package diag

import "strings"

// leastPrefix is how many letters a word must have to stand for the longer ones that start with it.
const leastPrefix = 3

// Nearest returns the candidate that differs least from the word (by inserted, deleted, replaced or swapped
// letters, case ignored); if none is near enough to be what was meant, the shortest of those that start with the
// word, as "warehous" starts "warehouse-idle"; else "".
func Nearest(word string, candidates []string) string {
	word = strings.ToLower(word)
	best, least := "", len(word)/3+2
	for _, c := range candidates {
		if d := distance(word, strings.ToLower(c)); d < least {
			best, least = c, d
		}
	}
	if best == "" && len(word) >= leastPrefix {
		best = shortestFrom(word, candidates)
	}
	return best
}

// shortestFrom returns the shortest candidate that starts with the word, the last of those as short (lists name the newest
// edition last); "" if none does.
func shortestFrom(word string, candidates []string) string {
	shortest := ""
	for _, c := range candidates {
		if strings.HasPrefix(strings.ToLower(c), word) && (shortest == "" || len(c) <= len(shortest)) {
			shortest = c
		}
	}
	return shortest
}

// distance is the optimal string alignment distance of a and b.
func distance(a, b string) int {
	before, row := make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		next := make([]int, len(b)+1)
		next[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			next[j] = min(row[j]+1, next[j-1]+1, row[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				next[j] = min(next[j], before[j-2]+1)
			}
		}
		before, row = row, next
	}
	return row[len(b)]
}

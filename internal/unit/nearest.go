package unit

import "strings"

// Nearest returns the candidate that is the likeliest meaning of a mistyped
// word, and whether there is one: at most one slip in three letters, letter case
// ignored. Of equally near candidates the first in the list is taken.
//
// A slip is a letter more, less or other, or two neighbours exchanged (optimal
// string alignment distance). Source: F. J. Damerau, A technique for computer
// detection and correction of spelling errors, Communications of the ACM 7 (1964) 171-176.
func Nearest(word string, candidates []string) (string, bool) {
	low := []rune(strings.ToLower(word))
	if len(low) == 0 {
		return "", false
	}
	best, at := max(1, len(low)/3)+1, -1
	for i, c := range candidates {
		if c == "" {
			continue
		}
		// A one-letter candidate is one slip from any other letter: too little to go by.
		d := slips(low, []rune(strings.ToLower(c)))
		if d < best && d < max(len(low), len([]rune(c))) {
			best, at = d, i
		}
	}
	if at < 0 {
		return "", false
	}
	return candidates[at], true
}

func slips(a, b []rune) int {
	before := make([]int, len(b)+1)
	last := make([]int, len(b)+1)
	this := make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		this[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			this[j] = min(last[j]+1, this[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				this[j] = min(this[j], before[j-2]+1)
			}
		}
		before, last, this = last, this, before
	}
	return last[len(b)]
}

package form

import "strings"

// Nearest is the known name that is nearest to what was written, "" where none
// is near: one slip for a short name, three for a long one.
func Nearest(name string, known []string) string {
	best, least := "", 1<<30
	for _, k := range known {
		allowed := 1 + min(len(k)/4, 2)
		if far := slips(strings.ToLower(name), strings.ToLower(k)); far <= allowed && far < least {
			best, least = k, far
		}
	}
	return best
}

// slips is how many letters were left out, put in, changed, or swapped with the
// next one. It looks at the first hundred letters.
func slips(a, b string) int {
	x, y := []rune(cut(a, 100)), []rune(cut(b, 100))
	rows := [3][]int{make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)}
	for j := range rows[1] {
		rows[1][j] = j
	}
	for i := 1; i <= len(x); i++ {
		before, last, row := rows[(i+2)%3], rows[i%3], rows[(i+1)%3]
		row[0] = i
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
	}
	return rows[(len(x)+1)%3][len(y)]
}

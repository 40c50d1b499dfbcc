package main

import (
	"fmt"
	"strings"
)

// lineDiff shows how b differs from a, line by line: "-" what was, "+" what is,
// with three lines around each place and the line number in b before it. A last
// line without its end is shown as one.
func lineDiff(a, b string) []string {
	script := editScript(lines(a), lines(b))
	var out []string
	at := 1 // line in b
	shown := -2
	for i, e := range script {
		if nearChange(script, i) {
			if shown != i-1 {
				out = append(out, fmt.Sprintf("@ line %d", at))
			}
			out = append(out, string(e.sign)+e.text)
			shown = i
		}
		if e.sign != '-' {
			at++
		}
	}
	return out
}

func lines(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Split(strings.TrimSuffix(text, "\n"), "\n")
}

// edit is one line of a comparison: kept ' ', taken out '-' or put in '+'.
type edit struct {
	sign byte
	text string
}

// contextLines are shown before and after a change.
const contextLines = 3

func nearChange(script []edit, i int) bool {
	for k := max(i-contextLines, 0); k <= min(i+contextLines, len(script)-1); k++ {
		if script[k].sign != ' ' {
			return true
		}
	}
	return false
}

// editScript turns a into b, with the longest common subsequence kept.
func editScript(a, b []string) []edit {
	var head, tail []edit
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		head = append(head, edit{' ', a[0]})
		a, b = a[1:], b[1:]
	}
	for len(a) > 0 && len(b) > 0 && a[len(a)-1] == b[len(b)-1] {
		tail = append([]edit{{' ', a[len(a)-1]}}, tail...)
		a, b = a[:len(a)-1], b[:len(b)-1]
	}
	return append(append(head, middle(a, b)...), tail...)
}

// largestTable bounds the comparison of what differs; beyond it everything
// counts as replaced.
const largestTable = 1 << 24

func middle(a, b []string) []edit {
	var script []edit
	if len(a)*len(b) <= largestTable {
		common := commonLengths(a, b)
		for len(a) > 0 && len(b) > 0 {
			i, j := len(common)-1-len(a), len(common[0])-1-len(b)
			switch {
			case a[0] == b[0]:
				script = append(script, edit{' ', a[0]})
				a, b = a[1:], b[1:]
			case common[i+1][j] >= common[i][j+1]:
				script = append(script, edit{'-', a[0]})
				a = a[1:]
			default:
				script = append(script, edit{'+', b[0]})
				b = b[1:]
			}
		}
	}
	for _, line := range a {
		script = append(script, edit{'-', line})
	}
	for _, line := range b {
		script = append(script, edit{'+', line})
	}
	return script
}

// commonLengths[i][j] is the length of the longest common subsequence of a[i:]
// and b[j:].
func commonLengths(a, b []string) [][]int32 {
	common := make([][]int32, len(a)+1)
	for i := range common {
		common[i] = make([]int32, len(b)+1)
	}
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			common[i][j] = max(common[i+1][j], common[i][j+1])
			if a[i] == b[j] {
				common[i][j] = common[i+1][j+1] + 1
			}
		}
	}
	return common
}

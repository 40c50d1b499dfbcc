package figure

import (
	"fmt"
	"math"
	"strings"
)

// describe says in words what the log shows.
func (f Log) describe() string {
	parts := []string{fmt.Sprintf("From %s to %s.", f.From.Format("2006-01-02 15:04"), f.To.Format("2006-01-02 15:04"))}
	for _, p := range f.Panels {
		parts = append(parts, p.Axis+":")
		for _, l := range p.Lines {
			parts = append(parts, f.extremesOf(l)+";")
		}
		if p.Band.Text != "" {
			parts = append(parts, p.Band.Text+".")
		}
		for _, e := range p.Excursions {
			parts = append(parts, "Outside: "+e.Words+".")
		}
	}
	if f.Duty != nil {
		parts = append(parts, f.Duty.Name+": "+f.Duty.Text+".")
	}
	for _, m := range f.Moments {
		parts = append(parts, m.Words+": "+m.At.In(f.From.Location()).Format("2006-01-02 15:04")+".")
	}
	return strings.Join(parts, " ")
}

// extremesOf is a line's name with its least and greatest value shown.
func (f Log) extremesOf(l LogLine) string {
	s := f.extent(LogPanel{Lines: []LogLine{l}})
	if s.empty() {
		return l.Name + ": no values"
	}
	return fmt.Sprintf("%s: %s to %s", l.Name, figures(s.low), figures(s.high))
}

// figures writes a value with four figures at most.
func figures(v float64) string {
	if v == 0 {
		return "0"
	}
	decimals := max(0, 3-int(math.Floor(math.Log10(abs(v)))))
	text := number(v, min(decimals, 6))
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

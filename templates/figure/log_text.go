package figure

import (
	"fmt"
	"strings"
)

// Text sets the log for a terminal: each panel as a chart, the unit's running as
// a strip.
func (f Log) Text(width int) string {
	if err := f.check(); err != nil {
		return notDrawn(width, f.Title, err)
	}
	p := newPage(width, f.Title)
	cols := p.width - gutter
	n := 0
	for _, lp := range f.Panels {
		f.chart(p, lp, cols)
		for _, e := range lp.Excursions {
			n++
			p.tell(fmt.Sprintf("outside %d  ", n), e.Words)
		}
		p.add("")
	}
	if f.Duty != nil {
		p.tell("", f.Duty.Name+": "+f.Duty.Text)
		p.add(strings.Repeat(" ", gutter) + f.blocks(cols))
	}
	signs := []rune("①②③④⑤⑥⑦⑧⑨")
	for i, m := range f.Moments {
		p.tell(string(signs[min(i, len(signs)-1)])+"  ", m.Words)
	}
	for _, words := range append([]string{f.Clock}, f.Notes...) {
		p.tell("", words)
	}
	return strings.TrimRight(p.String(), "\n") + "\n"
}

// chart adds one panel with the range of each line.
func (f Log) chart(p *page, lp LogPanel, cols int) {
	p.tell("", lp.Axis)
	scale := f.scale(lp)
	plate := newPlate(cols, 12, f.axis(), scale)
	for i, l := range lp.Lines {
		kept, _ := f.thinned(l, cols)
		plate.trace(kept, sign(i))
	}
	for _, e := range lp.Excursions {
		mid := (max(f.ms(e.From), 0) + min(f.ms(e.To), f.axis().high)) / 2
		plate.dot(mid, e.Peak, '!')
	}
	for i, m := range f.Moments {
		plate.put(plate.col(f.ms(m.At)), 0, []rune("①②③④⑤⑥⑦⑧⑨")[min(i, 8)], false)
	}
	if b := lp.Band; b.Text != "" {
		plate.level(b.Low, '┄')
		plate.level(b.High, '┄')
	}
	_, names := f.days(cols / 8)
	plate.print(p, names, round(scale, 6, 1))
	for i, l := range lp.Lines {
		p.tell(string(sign(i))+"  ", f.extremesOf(l))
	}
	if lp.Band.Text != "" {
		p.tell("┄  ", lp.Band.Text)
	}
	if len(lp.Excursions) > 0 {
		p.tell("!  ", "outside of it")
	}
}

// sign is the letter of the i-th line.
func sign(i int) rune { return rune('a' + i%26) }

// blocks is the strip of the unit's running: a block as high as the share of the
// time; a question mark where nothing was recorded.
func (f Log) blocks(cols int) string {
	heights := []rune(" ▁▂▃▄▅▆▇█")
	running, unknown := f.share(f.Duty.Running, cols), f.share(f.Duty.Unknown, cols)
	line := make([]rune, cols)
	for i := range line {
		line[i] = heights[int(running[i]*8+0.5)]
		if running[i] > 0 && line[i] == ' ' {
			line[i] = '▁'
		}
		if unknown[i] > 0.5 {
			line[i] = '?'
		}
	}
	return string(line)
}

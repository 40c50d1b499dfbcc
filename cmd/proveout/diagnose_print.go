package main

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"proveout/checks"
	"proveout/checks/diagnosis"
	"proveout/jobs"
	"proveout/phases"
	"proveout/templates"
	"proveout/templates/figure"
)

// diagnosisPrinter prints a diagnosis for a terminal, the answer first.
type diagnosisPrinter struct {
	e *env
	g *phases.Gate
	d checks.Diagnosis
}

func (p diagnosisPrinter) print(j *jobs.Job) {
	p.e.printf("%s\n", p.e.bold(terminalText(j.ID+"  "+j.Title)))
	p.e.paragraph("  ", p.d.Summary)
	p.signs()
	p.causes()
	p.readNext()
	for _, load := range templates.LoadPictures(p.d) {
		p.picture(load)
	}
	p.comparison()
	if p.d.Waiting != nil {
		p.list("What it costs to leave it", p.d.Waiting.Sentences())
	}
	p.unusable()
	p.list("Not known", p.d.Unknown)
}

func (p diagnosisPrinter) heading(text string) { p.e.printf("\n%s\n", p.e.bold(terminalText(text))) }

// item prints text behind a label, further lines set in below it.
func (p diagnosisPrinter) item(label, text string) {
	in := strings.Repeat(" ", utf8.RuneCountInString(label))
	for i, line := range wrapped(terminalText(text), min(p.e.width, 100)-len(in)) {
		if i > 0 {
			label = in
		}
		p.e.printf("%s%s\n", label, line)
	}
}

func (p diagnosisPrinter) list(heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	p.heading(heading)
	for _, l := range lines {
		p.item("  - ", l)
	}
}

func (p diagnosisPrinter) signs() {
	if len(p.d.Symptoms) > 0 {
		p.heading("Signs")
	}
	for _, s := range p.d.Symptoms {
		p.item("  - ", s.Text)
		switch {
		case s.NoFault != "":
			p.item("      ", "no fault: "+s.NoFault)
		case !s.Explained:
			p.item("      ", "not explained yet")
		case len(s.By) > 0:
			p.item("      ", "from "+strings.Join(texts(s.By), " and "))
		}
	}
	if len(p.d.Looked) > 0 {
		p.item("  looked for and not there: ", strings.Join(texts(p.d.Looked), ", "))
	}
}

func (p diagnosisPrinter) causes() {
	for i, f := range p.d.Causes {
		switch {
		case len(f.For)+len(f.Against) == 0:
			continue // only asked about
		case f.Named:
			share := ""
			if f.Share > 0 {
				share = fmt.Sprintf(", %.0f %% of what the cooling falls short by", float64(f.Share))
			}
			p.heading(fmt.Sprintf("%d. %s: certainty %s%s", i+1, f.Cause, f.Certainty, share))
		case f.Certainty == diagnosis.Low:
			p.heading(fmt.Sprintf("%s: possible, not decided", f.Cause))
		default:
			p.heading(fmt.Sprintf("not %s", f.Cause))
		}
		for _, e := range f.For {
			p.item("  for      ", e.Text)
		}
		for _, e := range f.Against {
			p.item("  against  ", e.Text)
		}
		for _, m := range f.Decides {
			p.item("  decides  ", m.What())
		}
	}
}

// readNext lists the readings that would decide, and how to take and to enter them.
func (p diagnosisPrinter) readNext() {
	if len(p.d.Wanted) == 0 {
		return
	}
	p.heading("Read next")
	for i, w := range p.d.Wanted {
		between := ""
		if len(w.Between) > 0 {
			between = "; it decides between " + strings.Join(texts(w.Between), ", ")
		}
		p.item(fmt.Sprintf("  %d. ", i+1), w.Measurement.What()+between)
		p.item("     why   ", w.Because)
		p.item("     how   ", w.Measurement.How())
		_, command := p.g.Answer(w.Measurement)
		if command == "" {
			command = "edit job.yaml, then: proveout adopt --reason \"what was found out\" --by NAME"
		}
		p.e.printf("     type  %s\n", terminalText(command))
	}
}

// picture draws a load in letters.
func (p diagnosisPrinter) picture(f figure.Load) {
	p.e.printf("\n%s\n", terminalText(strings.TrimRight(f.Text(min(p.e.width, 100)), "\n")))
}

func (p diagnosisPrinter) comparison() {
	if len(p.d.Comparison) == 0 {
		return
	}
	p.heading("As found and as planned")
	rows := [][]string{{"", "as found", "as planned", "margin", "limit"}}
	for _, l := range p.d.Comparison {
		if !l.Found.Known && !l.Planned.Known {
			continue
		}
		margin := ""
		if l.Margin.Known {
			margin = l.Margin.Text
		}
		rows = append(rows, []string{l.Name, l.Found.Text, l.Planned.Text, margin, l.Limit})
	}
	widths := make([]int, len(rows[0]))
	for _, r := range rows {
		for c, cell := range r {
			widths[c] = max(widths[c], utf8.RuneCountInString(cell))
		}
	}
	for _, r := range rows {
		line := fmt.Sprintf("  %-*s  %*s  %*s  %*s  %s", widths[0], r[0], widths[1], r[1], widths[2], r[2], widths[3], r[3], r[4])
		p.e.printf("%s\n", terminalText(strings.TrimRight(line, " ")))
	}
}

func (p diagnosisPrinter) unusable() {
	var lines []string
	for _, u := range p.d.Unusable {
		lines = append(lines, u.String())
	}
	p.list("Recorded and cannot be used", lines)
}

func (p diagnosisPrinter) explain() {
	p.heading("Steps")
	printSteps(p.e, p.d.Steps)
	if p.d.Waiting != nil {
		printSteps(p.e, p.d.Waiting.Steps)
	}
	for _, w := range p.d.Walls {
		if len(w.Steps) > 0 {
			p.e.printf("  %s\n", terminalText("vapor in "+w.Face+": "+w.Summary))
			printSteps(p.e, w.Steps)
		}
	}
}

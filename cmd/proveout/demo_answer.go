package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"proveout/checks"
	"proveout/jobs"
	"proveout/phases"
)

// answersTo are the answers that a verdict still wants, and who gives them.
func (k *crew) answersTo(g *phases.Gate, v checks.Verdict) (string, []jobs.Answer, error) {
	if v.Outcome != checks.Undecided || v.Conflict {
		return "", nil, nil
	}
	q := k.j.Plan.Questions()[v.Check]
	if len(q.When.Undecided(g.Decisions)) > 0 {
		return "", nil, nil // decide first, then look whether it is asked
	}
	places := v.Missing
	if q.Command("") == "" || len(v.Missing) == 0 && v.Taken > 0 {
		return "", nil, nil // computed from others, or time must pass
	}
	var list []jobs.Answer
	for i, place := range places {
		if k.left[q.ID()][place] {
			continue
		}
		a, err := k.answer(q, place)
		if err != nil {
			return "", nil, fmt.Errorf("%s at %s: %w", q.ID(), place, err)
		}
		if q.PhotoEach || q.PhotoOne && i == 0 {
			p, err := k.photo(q.ID(), place)
			if err != nil {
				return "", nil, err
			}
			a.Photos = append(a.Photos, p)
		}
		list = append(list, a)
	}
	return k.person(q), list, nil
}

// person is who answers a question.
func (k *crew) person(q *checks.Question) string {
	if q.Kind == checks.Inspection || q.Kind == checks.Paper {
		return "Marek Doyle"
	}
	for _, role := range q.By {
		if role == "homeowner" {
			return role
		}
		for _, p := range k.company.People {
			if p.Has(role) {
				return p.Name
			}
		}
	}
	return "Marek Doyle"
}

// answer makes one plausible answer.
func (k *crew) answer(q *checks.Question, place string) (jobs.Answer, error) {
	a := jobs.Answer{Phase: q.Phase, Check: q.Name, Place: place, Instrument: k.instrument(q)}
	text, err := k.next(q, place)
	if err != nil {
		return a, err
	}
	a.Text = text
	switch q.Kind {
	case checks.Inspection:
		a.Number, a.Party = k.number("N"), k.party(q)
	case checks.Paper:
		a.Party = k.party(q)
		f, err := k.paper(q)
		if err != nil {
			return a, err
		}
		a.Files = []*jobs.Incoming{f}
	case checks.Wait:
		a.Start = k.now.Add(-k.longer(q.Wait))
	case checks.Computed:
		return a, k.computed(&a, q)
	}
	return a, nil
}

func (k *crew) party(q *checks.Question) string {
	if len(q.By) == 0 {
		return ""
	}
	initials := ""
	for _, word := range strings.Fields(q.By[0]) {
		initials += strings.ToUpper(word[:1]) + ". "
	}
	return q.By[0] + " " + initials + "(invented)"
}

// number is an invented permit or report number.
func (k *crew) number(letter string) string {
	k.turns("number")
	return fmt.Sprintf("%s-%04d", letter, 4100+k.turn["number"])
}

func (k *crew) turns(check string) int {
	if k.turn == nil {
		k.turn = map[string]int{}
	}
	k.turn[check]++
	return k.turn[check] - 1
}

// next is the text of the next answer of a check.
func (k *crew) next(q *checks.Question, place string) (string, error) {
	if text, ok := k.told[q.ID()+" at "+place]; ok {
		return text, nil
	}
	if values := k.answers[q.ID()]; len(values) > 0 {
		return values[k.turns(q.ID())%len(values)], nil
	}
	switch q.Kind {
	case checks.Observation:
		return q.Want, nil
	case checks.Inspection:
		return "pass", nil
	case checks.Choice:
		return q.Options[0], nil
	case checks.Reading:
		return "", fmt.Errorf("the demo has no value for it")
	case checks.Computed:
		return checks.ByName(q.Compute).FirstAnswer(), nil
	}
	return "", nil
}

// instrument is the company's instrument of the kind a question wants.
func (k *crew) instrument(q *checks.Question) string {
	i := slices.IndexFunc(k.company.Instruments, func(i jobs.Instrument) bool { return i.Kind == q.Instrument })
	if i < 0 {
		return ""
	}
	return k.company.Instruments[i].ID
}

// longer is a time after which a wait is surely over: days of a calendar have
// week-ends between them.
func (k *crew) longer(wait string) time.Duration {
	switch {
	case strings.HasSuffix(wait, "days"):
		n, _, _ := strings.Cut(wait, " ")
		days, err := strconv.Atoi(n)
		if err != nil {
			return 30 * day
		}
		return time.Duration(days)*day*3/2 + 3*day
	case strings.HasPrefix(wait, checks.DataSheet):
		return 4 * day
	}
	return 3 * day
}

// computed fills in the values, times and files of a computed check.
func (k *crew) computed(a *jobs.Answer, q *checks.Question) error {
	check := checks.ByName(q.Compute)
	if len(check.Needs) > 0 {
		parts := strings.Split(a.Text, "; ")
		a.Text = ""
		for _, part := range parts {
			if name, value, ok := strings.Cut(part, "="); ok {
				a.Values = append(a.Values, jobs.NamedText{Name: name, Text: value})
			} else {
				a.Text = part // the word of a check that wants one too
			}
		}
	}
	if check.Spans {
		a.Start, a.End = k.now.Add(-26*time.Hour), k.now.Add(-90*time.Minute)
	}
	if !check.Log {
		if check.Starts {
			a.Start = k.now.Add(-50 * time.Hour)
		}
		return nil
	}
	return k.logged(a, q)
}

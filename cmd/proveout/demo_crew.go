package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"proveout/jobs"
	"proveout/phases"
)

// crew works through a demo job by the same operations as the commands.
type crew struct {
	ctx      context.Context
	e        *env
	company  *jobs.Company
	j        *jobs.Job
	now, end time.Time // end is the moment the demo is built: nothing is later

	answers map[string][]string
	turn    map[string]int
	told    map[string]string          // phase.check at place → another answer
	left    map[string]map[string]bool // phase.check → places left open
	logs    map[string]demoLog         // phase.check → the run its loggers took
}

// entry lets a minute pass and says who does something.
func (k *crew) entry(name string) (jobs.Entry, error) {
	k.pass(time.Minute)
	p, err := k.company.Person(name)
	return jobs.Entry{By: p, Now: k.now, Random: k.e.random}, err
}

// pass lets time go by, but never beyond the moment the demo is built.
func (k *crew) pass(d time.Duration) {
	if k.now = k.now.Add(d); k.now.After(k.end) {
		k.now = k.end
	}
}

// say makes the crew answer otherwise at one place.
func (k *crew) say(check, place, answer string) {
	if k.told == nil {
		k.told = map[string]string{}
	}
	k.told[check+" at "+place] = answer
}

// leave makes the crew skip places of a check.
func (k *crew) leave(check string, places ...string) {
	if k.left == nil {
		k.left = map[string]map[string]bool{}
	}
	k.left[check] = map[string]bool{}
	for _, p := range places {
		k.left[check][p] = true
	}
}

// through fills and signs holds, some days apart.
func (k *crew) through(holds ...string) error {
	for _, h := range holds {
		if h == "demo.clearance" {
			if err := k.dryOut(); err != nil {
				return err
			}
		} else {
			k.pass(3 * day)
		}
		if h == "demo.first-cut" {
			k.pass(6 * day) // contract, papers, the time to cancel
		}
		if h == "framing.inspection" {
			if err := k.holes(); err != nil {
				return err
			}
		}
		if err := k.fill(h); err != nil {
			return err
		}
		if h == "assess.diagnosis" {
			if err := k.furtherCauses(); err != nil {
				return err
			}
		}
		if err := k.sign(h); err != nil {
			return err
		}
	}
	return nil
}

// dryOut reads the marked points on three days.
func (k *crew) dryOut() error {
	q := k.j.Plan.Questions()["demo.drying"]
	for _, moisture := range [][]string{{"24 %", "22 %", "25 %"}, {"15 %", "14 %", "16 %"}, {"13 %", "12 %", "14 %"}} {
		k.pass(day)
		var list []jobs.Answer
		for i, place := range q.Expected(k.j.Room, "") {
			list = append(list, jobs.Answer{
				Phase: q.Phase, Check: q.Name, Place: place, Text: moisture[i%len(moisture)], Instrument: k.instrument(q),
			})
		}
		if err := k.enter("Marek Doyle", list); err != nil {
			return err
		}
	}
	return nil
}

// furtherCauses states the causes beyond the two that are asked for.
func (k *crew) furtherCauses() error {
	for i, cause := range k.answers["assess.causes"] {
		if i < 2 {
			continue
		}
		a := jobs.Answer{Phase: "assess", Check: "causes", Place: fmt.Sprintf("point %d", i+1), Text: cause}
		if err := k.one("Marek Doyle", a, false); err != nil {
			return err
		}
	}
	return nil
}

// holes puts the planned penetrations on the list.
func (k *crew) holes() error {
	for _, p := range []jobs.Penetration{
		{Place: "north wall/bay 2", For: "line set and drain", Owner: "refrigeration technician", Seal: "sleeve, boot and sealant"},
		{Place: "west wall/bay 4", For: "lighting cable", Owner: "electrician", Seal: "gasketed box"},
	} {
		lead, err := k.entry("Marek Doyle")
		if err != nil {
			return err
		}
		if _, _, err := k.j.AddPenetration(k.ctx, lead, p); err != nil {
			return err
		}
	}
	return nil
}

// fill answers what a hold asks until nothing more can be answered: decisions
// bring up further questions.
func (k *crew) fill(hold string) error {
	for range 10 {
		g := k.j.Gate(k.now)
		h := k.j.Plan.Hold(hold)
		answered := 0
		byPerson := map[string][]jobs.Answer{}
		var people []string
		for _, v := range g.Verdicts(h, "") {
			who, list, err := k.answersTo(g, v)
			if err != nil {
				return err
			}
			if len(list) == 0 {
				continue
			}
			if byPerson[who] == nil {
				people = append(people, who)
			}
			byPerson[who] = append(byPerson[who], list...)
			answered += len(list)
		}
		if answered == 0 {
			return nil
		}
		for _, who := range people {
			if err := k.enter(who, byPerson[who]); err != nil {
				return err
			}
		}
	}
	return fmt.Errorf("%s keeps asking", hold)
}

func (k *crew) enter(who string, list []jobs.Answer) error {
	e, err := k.entry(who)
	if err != nil {
		return err
	}
	if _, err := k.j.Record(k.ctx, k.company, e, list...); err != nil {
		return fmt.Errorf("%s: %w", who, err)
	}
	return nil
}

func (k *crew) one(who string, a jobs.Answer, photo bool) error {
	if photo {
		p, err := k.photo(a.Phase+"."+a.Check, a.Place)
		if err != nil {
			return err
		}
		a.Photos = []*jobs.Incoming{p}
	}
	return k.enter(who, []jobs.Answer{a})
}

// sign releases a hold by everybody who must sign it.
func (k *crew) sign(hold string, faces ...string) error {
	h := k.j.Plan.Hold(hold)
	g := k.j.Gate(k.now)
	if s := g.State(h); s.State == phases.NotApplicable {
		return nil
	}
	for _, role := range h.Roles(g.Decisions) {
		name := role
		for _, p := range k.company.People {
			if p.Has(role) {
				name = p.Name
			}
		}
		e, err := k.entry(name)
		if err != nil {
			return err
		}
		if _, err := k.j.Sign(k.ctx, e, hold, faces, role, nil); err != nil {
			return err
		}
	}
	return nil
}

// temp writes a file for the job to take in, and returns its path.
func (k *crew) temp(name string, data []byte, take func(string) error) error {
	dir, err := os.MkdirTemp("", "proveout-demo-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	file := filepath.Join(dir, name)
	if err := os.WriteFile(file, data, 0o644); err != nil {
		return err
	}
	return take(file)
}

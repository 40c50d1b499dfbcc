package main

import (
	"proveout/checks"
	"proveout/jobs"
	"proveout/phases"
)

// statusReport is a job's status as data.
type statusReport struct {
	Job    string       `json:"job"`
	Title  string       `json:"title"`
	Edited []string     `json:"edited,omitempty"`
	Next   string       `json:"next,omitempty"`
	Holds  []holdReport `json:"holds"`
}

// holdReport is one hold as data.
type holdReport struct {
	Hold      string           `json:"hold"`
	Title     string           `json:"title"`
	State     phases.State     `json:"state"`
	Face      string           `json:"face,omitempty"`
	BlockedBy []string         `json:"blocked_by,omitempty"`
	Stale     []string         `json:"stale,omitempty"`
	Open      []string         `json:"nonconformities,omitempty"`
	ToSign    []string         `json:"to_sign,omitempty"`
	FacesDone []string         `json:"faces_released,omitempty"`
	Checks    []checks.Verdict `json:"checks,omitempty"`
}

func newStatusReport(j *jobs.Job, g *phases.Gate) statusReport {
	r := statusReport{Job: j.ID, Title: j.Title, Edited: j.Edited}
	if s := nextHold(g); s != nil {
		r.Next = s.Hold.ID()
	}
	for _, s := range g.States() {
		h := newHoldReport(s)
		h.Checks = nil
		r.Holds = append(r.Holds, h)
	}
	return r
}

func newHoldReport(s *phases.HoldState) holdReport {
	return holdReport{
		Hold: s.Hold.ID(), Title: s.Hold.Title, State: s.State, Face: s.Face, BlockedBy: s.BlockedBy,
		Stale: s.Stale, Open: s.Open, ToSign: s.WantRoles, FacesDone: s.FacesDone, Checks: s.Verdicts,
	}
}

package jobs

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"
	"time"

	"proveout/checks"
	"proveout/phases"
)

// Summary is one job in the owner's review.
type Summary struct {
	Job     string    `json:"job"`
	Title   string    `json:"title,omitempty"`
	Started time.Time `json:"started"`
	// Problem says why the job cannot be read; the rest is empty then.
	Problem string `json:"problem,omitempty"`

	Released   int        `json:"released"` // holds
	Holds      int        `json:"holds"`    // that apply
	Next       string     `json:"next,omitempty"`
	State      string     `json:"state"`
	Blocked    []Blocking `json:"blocked_by,omitempty"`
	WaitingFor []string   `json:"waiting_for,omitempty"` // roles that must sign or decide
	Stale      []string   `json:"stale,omitempty"`       // holds
	Undecided  int        `json:"undecided"`             // checks of the next hold
	Edited     []string   `json:"edited,omitempty"`
	Owner      []string   `json:"owner,omitempty"` // what needs the owner
	Last       time.Time  `json:"last_entry"`
	Complete   bool       `json:"complete"`
}

// Blocking is a check that keeps the next hold shut.
type Blocking struct {
	Check  string    `json:"check"`
	Why    string    `json:"why"`
	Since  time.Time `json:"since"` // of the newest fact that fails, else of the job's last entry
	Failed bool      `json:"failed"`
}

// JobIDs lists the company's jobs.
func (c *Company) JobIDs() ([]string, error) {
	entries, err := os.ReadDir(filepath.Join(c.Dir, "jobs"))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var ids []string
	for _, e := range entries {
		if e.IsDir() && CheckID(e.Name()) == nil {
			ids = append(ids, e.Name())
		}
	}
	return ids, nil
}

// Review summarises all jobs. A job that cannot be read is a line of its own
// and hides no other.
func (c *Company) Review(now time.Time) ([]Summary, error) {
	ids, err := c.JobIDs()
	if err != nil {
		return nil, err
	}
	all := make([]Summary, len(ids))
	next := make(chan int)
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), max(len(ids), 1)) {
		wg.Go(func() {
			for i := range next {
				all[i] = c.summary(ids[i], now)
			}
		})
	}
	for i := range ids {
		next <- i
	}
	close(next)
	wg.Wait()
	slices.SortStableFunc(all, func(a, b Summary) int { return a.urgency() - b.urgency() })
	return all, nil
}

// urgency orders the review: broken, needs the owner, stuck, going on, done.
func (s *Summary) urgency() int {
	switch {
	case s.Problem != "":
		return 0
	case len(s.Owner) > 0:
		return 1
	case len(s.Stale) > 0:
		return 2
	case len(s.Blocked) > 0:
		return 3
	case !s.Complete:
		return 4
	}
	return 5
}

func (c *Company) summary(id string, now time.Time) Summary {
	j, err := Open(c.JobDir(id), Process{})
	if err != nil {
		return Summary{Job: id, Problem: err.Error(), State: "cannot be read"}
	}
	defer j.Close()
	return j.Summary(now)
}

// Summary says where the job stands.
func (j *Job) Summary(now time.Time) Summary {
	s := Summary{Job: j.ID, Title: j.Title, Started: j.Started, Last: j.Last(), Edited: j.Edited, Complete: true}
	if len(j.Edited) > 0 {
		s.Owner = append(s.Owner, "adopt or put back the edited plan")
	}
	g := j.Gate(now)
	for _, h := range g.States() {
		s.addHold(j, h)
	}
	for _, n := range j.Nonconformities() {
		if n.Open() && n.Disposition == nil {
			s.Owner = append(s.Owner, "decide about "+n.Record.Nonconformity)
		}
	}
	if s.Complete {
		s.State = "complete"
	}
	return s
}

func (s *Summary) addHold(j *Job, h *phases.HoldState) {
	switch h.State {
	case phases.NotApplicable:
		return
	case phases.Signed:
		s.Holds, s.Released = s.Holds+1, s.Released+1
		return
	case phases.Stale:
		s.Stale = append(s.Stale, h.Hold.ID())
	}
	s.Holds, s.Complete = s.Holds+1, false
	if h.State == phases.Blocked || s.Next != "" {
		s.blockFailing(j, h)
		return
	}
	s.Next, s.State = h.Hold.ID(), string(h.State)
	if h.State == phases.Ready || h.State == phases.Stale {
		s.WaitingFor = h.WantRoles
		if slices.Contains(h.WantRoles, "owner") {
			s.Owner = append(s.Owner, "sign "+h.Hold.ID())
		}
	}
	for _, v := range h.Verdicts {
		if v.Settled() {
			continue
		}
		if v.Outcome == checks.Undecided {
			s.Undecided++
		}
		s.block(j, v)
	}
}

// blockFailing notes what has already failed at a hold that is not the next.
func (s *Summary) blockFailing(j *Job, h *phases.HoldState) {
	for _, v := range h.Verdicts {
		if v.Outcome == checks.Fail && !v.Settled() {
			s.block(j, v)
		}
	}
}

// block notes a check that keeps the hold shut: those that fail, conflict or
// wait, with the day since when.
func (s *Summary) block(j *Job, v checks.Verdict) {
	if v.Outcome != checks.Fail && !v.Conflict && !v.Waiting {
		return
	}
	b := Blocking{Check: v.Check, Failed: v.Outcome == checks.Fail, Since: s.Last}
	if len(v.Reasons) > 0 {
		b.Why = v.Reasons[0]
	}
	for i, id := range v.Facts {
		if r := j.byID[id]; r != nil && (i == 0 || r.Entered.After(b.Since)) {
			b.Since = r.Entered
		}
	}
	s.Blocked = append(s.Blocked, b)
}

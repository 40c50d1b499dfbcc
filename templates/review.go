package templates

import (
	"fmt"
	"strings"
	"time"

	"proveout/jobs"
)

// Owner is what the owner's review is written from.
type Owner struct {
	Company *jobs.Company
	At      time.Time // of the review
	Jobs    []jobs.Summary
}

// ownersReview is what Review prints.
type ownersReview struct {
	Company, At, Zone string
	Count             int
	Broken            []brokenJob
	Needs             []ownerTask
	Stopped           []stop
	Stale             []ownerTask
	Jobs              []jobLine
	Complete          int
}

// brokenJob is a job that cannot be read.
type brokenJob struct {
	Job   string
	Lines []string
}

// ownerTask is something that waits for the owner.
type ownerTask struct{ Job, Title, What string }

// stop is a check that keeps the next hold of a job shut.
type stop struct{ Job, Hold, Check, Why, Since, Outcome string }

// jobLine is a job in the list of all.
type jobLine struct{ Job, Released, Next, State, Last string }

// Review writes the owner's review of all jobs: those that cannot be read come
// first, then what needs the owner, what is stopped by which check and since
// when, what is stale, and where each job stands.
func Review(o Owner) (Document, error) { return o.write("review", o.review()) }

func (o Owner) review() ownersReview {
	view := ownersReview{Count: len(o.Jobs)}
	if o.Company != nil {
		view.Company, view.Zone = o.Company.Name, o.Company.Zone.String()
	}
	view.At = o.moment(o.At)
	for _, s := range o.Jobs {
		if s.Problem != "" {
			view.Broken = append(view.Broken, brokenJob{s.Job, strings.Split(strings.TrimSpace(s.Problem), "\n")})
			continue
		}
		for _, what := range s.Owner {
			view.Needs = append(view.Needs, ownerTask{s.Job, s.Title, what})
		}
		for _, hold := range s.Stale {
			view.Stale = append(view.Stale, ownerTask{s.Job, s.Title, hold})
		}
		for _, b := range s.Blocked {
			view.Stopped = append(view.Stopped, o.stop(s, b))
		}
		if s.Complete {
			view.Complete++
		}
		view.Jobs = append(view.Jobs, o.jobLine(s))
	}
	return view
}

func (o Owner) stop(s jobs.Summary, b jobs.Blocking) stop {
	v := stop{Job: s.Job, Hold: s.Next, Check: b.Check, Why: b.Why, Since: o.since(b.Since), Outcome: "undecided"}
	if b.Failed {
		v.Outcome = "FAIL"
	}
	return v
}

func (o Owner) jobLine(s jobs.Summary) jobLine {
	line := jobLine{
		Job: strings.TrimSuffix(s.Job+", "+s.Title, ", "), Released: fmt.Sprintf("%d of %d", s.Released, s.Holds),
		Next: s.Next, State: s.State, Last: o.since(s.Last),
	}
	if s.Undecided > 0 {
		line.State += ", " + plural(s.Undecided, "check") + " not known"
	}
	if s.WaitingFor != nil {
		line.State += ", waits for " + strings.Join(s.WaitingFor, ", ")
	}
	return line
}

// since prints a day and how long ago it was.
func (o Owner) since(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	days := int(o.At.Sub(t).Hours() / 24)
	day := t.In(o.zone()).Format("2 Jan 2006")
	if days < 1 {
		return day
	}
	return day + ", " + plural(days, "day")
}

func (o Owner) moment(t time.Time) string { return t.In(o.zone()).Format("2 January 2006 15:04") }

func (o Owner) zone() *time.Location {
	if o.Company == nil || o.Company.Zone == nil {
		return time.UTC
	}
	return o.Company.Zone
}

package templates

import (
	"context"
	"testing"
	"time"

	"proveout/jobs"
)

// fresh is a job in which nothing is recorded yet.
func fresh(t *testing.T) *site { return newSite(t) }

// stopped is a job in the middle: a thin bay, a wait that runs, a nonconformity
// that nobody has decided about, a meter out of calibration.
func stopped(t *testing.T) *site {
	s := newSite(t)
	s.diagnose()
	s.say("framing", "framing-moisture", "PM-1", [2]string{"north wall/point 1", "13 %"}, [2]string{"north wall/point 2", "14 %"})
	s.say("framing", "framing-moisture", "PM-2", [2]string{"east wall/point 1", "12 %"}, [2]string{"east wall/sole plate", "22 %"})
	s.say("insulation", "foam-depth", "DG-2", [2]string{"north wall/bay 1", "5 1/8 in"}, [2]string{"north wall/bay 2", "4 1/2 in"})
	s.record("Ana", jobs.Answer{Phase: "insulation", Check: "re-entry", Start: s.now.Add(-2 * time.Hour)})
	_, err := s.j.RaiseNonconformity(context.Background(), s.entry("Ana"), jobs.Raise{Check: "insulation.foam-depth"})
	s.must(err)
	return s
}

// finished is a job with every hold released, a concession, a correction and a
// rework on the way.
func finished(t *testing.T) *site {
	s := newSite(t)
	s.diagnose()
	s.frame()
	s.insulate()
	s.cover()
	s.commission()
	return s
}

func (s *site) diagnose() {
	s.t.Helper()
	s.say("assess", "as-found-photos", "", [2]string{"north wall", "yes"}, [2]string{"east wall", "yes"}, [2]string{"lid", "yes"})
	s.say("assess", "room-temperature", "TH-1", [2]string{"middle low", "61.0 °F"}, [2]string{"middle high", "66.2 °F"})
	s.say("assess", "room-humidity", "TH-1", [2]string{"middle low", "79 %"}, [2]string{"middle high", "71 %"})
	s.say("assess", "adjoining-temperature", "TH-1", [2]string{"house", "24 °C"}, [2]string{"attic", "96 °F"}, [2]string{"outdoors", "78 °F"})
	s.say("assess", "adjoining-humidity", "TH-1", [2]string{"house", "52 %"}, [2]string{"attic", "35 %"}, [2]string{"outdoors", "60 %"})
	s.say("assess", "door-gap", "FG-1", [2]string{"point 1", "1/8 in"}, [2]string{"point 2", "3/16 in"}, [2]string{"point 3", "1/4 in"})
	s.record("Ana", jobs.Answer{Phase: "assess", Check: "attic-seen", Text: "n/a", Note: "no hatch; looked in from the eave"})
	s.say("assess", "mold-patch", "", [2]string{"east wall", "6 ft²"})
	s.say("assess", "s520-condition", "", [2]string{"", "condition 3"})
	s.say("assess", "lead-method", "", [2]string{"", "assume lead"})
	s.say("assess", "asbestos-method", "", [2]string{"", "presume asbestos"})
	s.record("Ana", jobs.Answer{Phase: "assess", Check: "capacity", Values: []jobs.NamedText{{Name: "load", Text: "480 W"}, {Name: "capacity", Text: "600 W"}}})
	s.record("Ana", jobs.Answer{Phase: "assess", Check: "cause", Text: "air leakage", Note: "smoke moves at every box"})
	s.say("assess", "cause-evidence", "", [2]string{"", "yes"})
	_, err := s.j.Note(context.Background(), s.entry("Ana"), "assess", "The owner says it never held its set point. | forged | row |", []*jobs.Incoming{s.photo("data plate")})
	s.must(err)
	s.sign("Ana", "assess.diagnosis")
}

func (s *site) frame() {
	s.t.Helper()
	s.wait(24 * time.Hour)
	s.say("framing", "framing-moisture", "PM-2",
		[2]string{"north wall/point 1", "13 %"}, [2]string{"north wall/point 2", "14 %"},
		[2]string{"east wall/point 1", "12 %"}, [2]string{"east wall/point 2", "14.5 %"})
	for _, p := range []jobs.Penetration{{Place: "north wall/bay 2", For: "line set", Owner: "refrigeration technician", Seal: "sleeve and boot"}} {
		_, _, err := s.j.AddPenetration(context.Background(), s.entry("Ana"), p)
		s.must(err)
	}
	s.sign("Ana", "framing.frame")
}

func (s *site) insulate() {
	s.t.Helper()
	s.wait(24 * time.Hour)
	s.say("insulation", "foam-depth", "DG-2",
		[2]string{"north wall/bay 1", "5 1/8 in"}, [2]string{"north wall/bay 2", "130 mm"},
		[2]string{"east wall/bay 1", "5 in"}, [2]string{"east wall/point 2", "4 3/4 in"},
		[2]string{"lid/bay 1", "7 1/2 in"}, [2]string{"lid/point 2", "6 3/4 in"})
	s.rework("foam-depth", "east wall/point 2", "5 1/16 in")
	s.concede()
	s.say("insulation", "foam-lift", "DG-2", [2]string{"", "1 7/16 in"})
	s.say("insulation", "core-sample", "", [2]string{"", "yes"})
	s.record("Cy", jobs.Answer{Phase: "insulation", Check: "applicator", Files: []*jobs.Incoming{s.paper("certificate.txt", "certified\n")}})
	s.record("Ana", jobs.Answer{Phase: "insulation", Check: "re-entry", Start: s.now.Add(-time.Hour)})
	s.record("Ana", jobs.Answer{Phase: "insulation", Check: "insulation-inspection", Text: "pass", Number: "B-4711", Party: "building inspector R. Stone"})
	s.wait(24 * time.Hour)
	s.sign("Ana", "insulation.before-board")
}

func (s *site) rework(check, place, value string) {
	s.t.Helper()
	s.record("Ana", jobs.Answer{Phase: "insulation", Check: check, Place: place, Text: value, Instrument: "DG-2", Photos: []*jobs.Incoming{s.photo("again " + place)}, Rework: "topped up"})
}

// concede accepts the lid as it is.
func (s *site) concede() {
	s.t.Helper()
	ctx := context.Background()
	r, err := s.j.RaiseNonconformity(ctx, s.entry("Ana"), jobs.Raise{Check: "insulation.foam-depth", Photos: []*jobs.Incoming{s.photo("thin lid")}})
	s.must(err)
	_, err = s.j.Dispose(ctx, s.entry("Ben"), r.Nonconformity, jobs.Decision{
		Disposition: jobs.Concession, Limits: "point 2 of the lid only", Reason: "a truss is in the way",
		Cause: "the truss was not on the drawing", Action: "measure trusses at diagnosis",
	})
	s.must(err)
	_, err = s.j.Agree(ctx, s.entry("homeowner"), r.Nonconformity, "agreed on site")
	s.must(err)
}

func (s *site) cover() {
	s.t.Helper()
	s.wait(24 * time.Hour)
	s.say("drywall", "cover-up-photos", "", [2]string{"north wall", "complete"}, [2]string{"east wall", "complete"}, [2]string{"lid", "complete"})
	s.say("drywall", "no-new-holes", "", [2]string{"north wall/bay 2", "yes"})
	s.sign("Ana", "drywall.cover-up", "north wall", "east wall")
	s.sign("Ben", "drywall.cover-up", "north wall", "east wall")
	s.sign("Ana", "drywall.cover-up", "lid")
	s.sign("Ben", "drywall.cover-up", "lid")
	s.say("door", "opens-from-inside", "", [2]string{"", "yes"})
	s.sign("Ana", "door.seal")
}

func (s *site) commission() {
	s.t.Helper()
	on := s.now.Add(time.Hour).Truncate(time.Hour)
	s.wait(7 * 24 * time.Hour)
	log := s.log("room.csv", on, 120)
	steady := jobs.Answer{Phase: "commissioning", Place: "room middle", Start: on.Add(24 * time.Hour), End: on.Add(120 * time.Hour), Files: []*jobs.Incoming{log}}
	s.record("Ana", jobs.Answer{Phase: "commissioning", Check: "pull-down", Place: "room middle", Start: on, Files: []*jobs.Incoming{log}})
	for _, check := range []string{"log-duration", "temperature-in-band", "humidity-in-band"} {
		steady.Check = check
		s.record("Ana", steady)
	}
	s.say("commissioning", "recovery", "", [2]string{"", "24 min"})
	s.say("commissioning", "alarms", "", [2]string{"high temperature", "yes"}, [2]string{"power", "yes"})
	s.say("commissioning", "power-fail", "", [2]string{"", "yes"})
	s.say("commissioning", "condensate", "", [2]string{"first day", "0.7 kg/day"}, [2]string{"second day", "0.8 kg/day"})
	s.say("commissioning", "port-moisture", "PM-2", [2]string{"port 1", "12 %"}, [2]string{"port 2", "11 %"})
	s.sign("Ana", "commissioning.empty-room")
	s.sign("Ben", "commissioning.empty-room")
	s.record("Ana", jobs.Answer{Phase: "commissioning", Check: "opposite-season", Text: "yes", Note: "20 November 2026"})
	s.sign("Ana", "commissioning.handover")
	s.sign("Ben", "commissioning.handover")
	s.sign("homeowner", "commissioning.handover")
}

// logWinter logs the room again in the opposite season.
func (s *site) logWinter() {
	s.t.Helper()
	for range 7 { // work that goes on, so that the clock is trusted
		s.wait(28 * 24 * time.Hour)
		_, err := s.j.Note(context.Background(), s.entry("Ana"), "commissioning", "looked at the readings", nil)
		s.must(err)
	}
	on := s.now.Add(-150 * time.Hour).Truncate(time.Hour)
	s.record("Ana", jobs.Answer{
		Phase: "commissioning", Check: "temperature-in-band", Place: "winter", Start: on.Add(24 * time.Hour), End: on.Add(120 * time.Hour),
		Files: []*jobs.Incoming{s.log("winter.csv", on, 120)},
	})
}

// stale is a finished job in which a reading was corrected after it was signed.
func stale(t *testing.T) *site {
	s := newSite(t)
	s.diagnose()
	s.frame()
	for _, r := range s.j.Records {
		if r.Check == "framing-moisture" && r.Place == "east wall/point 2" {
			_, err := s.j.Correct(context.Background(), s.c, s.entry("Ana"), r.ID, jobs.Answer{Text: "15.5 %"}, "read again with the right species")
			s.must(err)
			break
		}
	}
	return s
}

package main

import (
	"time"

	"proveout/jobs"
)

const day = 24 * time.Hour

// justDiagnosed ends with the diagnosis released.
func justDiagnosed(k *crew) error {
	lead, err := k.entry("Marek Doyle")
	if err != nil {
		return err
	}
	const told = "The owner: it has not held 55 °F in five summers. The unit was replaced three times; each new one ran all day as well."
	if _, err := k.j.Note(k.ctx, lead, "assess", told, nil); err != nil {
		return err
	}
	return k.through("assess.diagnosis")
}

// toTheStuds takes a job to its inspected frame, with the rough-ins in the
// cavities.
var toTheStuds = []string{
	"assess.diagnosis", "demo.first-cut", "demo.clearance", "framing.frame",
	"electrical.rough-in", "line-set.rough-in", "framing.inspection",
}

// stoppedInTheMiddle hangs the retarder of one wall on the wrong side and
// finds a stud that is too wet.
func stoppedInTheMiddle(k *crew) error {
	if err := k.through(toTheStuds...); err != nil {
		return err
	}
	k.pass(2 * day)
	k.say("vapor-retarder.retarder-side", "east wall", "room side")
	if err := k.fill("vapor-retarder.before-insulation"); err != nil {
		return err
	}
	return k.one("Marek Doyle", jobs.Answer{
		Phase: "insulation", Check: "substrate-moisture", Place: "north wall/sole plate", Text: "22 %", Instrument: "PM-2",
		Note: "bay 1, beside the door; read twice",
	}, true)
}

// waitingAtCoverUp releases two walls for board and lacks the rest.
func waitingAtCoverUp(k *crew) error {
	if err := k.through(append(toTheStuds, "insulation.before-board")...); err != nil {
		return err
	}
	k.pass(3 * day)
	k.leave("drywall.face-walked", "east wall", "lid")
	k.leave("drywall.cover-up-photos", "lid")
	if err := k.fill("drywall.cover-up"); err != nil {
		return err
	}
	if err := k.sign("drywall.cover-up", "north wall", "south wall"); err != nil {
		return err
	}
	return k.conceded()
}

// conceded raises a scratch that the homeowner accepts, so that the owner's
// review and the documents show a settled concession.
func (k *crew) conceded() error {
	lead, err := k.entry("Marek Doyle")
	if err != nil {
		return err
	}
	r, err := k.j.RaiseNonconformity(k.ctx, lead, jobs.Raise{
		Hold: "drywall.cover-up", Place: "west wall",
		Requirement: "nail plates in the colour of the drawing", Found: "plain steel plates in bays 2 and 3",
	})
	if err != nil {
		return err
	}
	owner, err := k.entry("Ines Calder")
	if err != nil {
		return err
	}
	_, err = k.j.Dispose(k.ctx, owner, r.Nonconformity, jobs.Decision{
		Disposition: jobs.Concession, Limits: "bays 2 and 3 of the west wall only", Reason: "hidden behind board; they protect as well",
	})
	if err != nil {
		return err
	}
	client, err := k.entry("homeowner")
	if err != nil {
		return err
	}
	_, err = k.j.Agree(k.ctx, client, r.Nonconformity, "agreed on site")
	return err
}

// finished takes a job all the way.
func finished(k *crew) error {
	holds := append(toTheStuds, "insulation.before-board", "drywall.cover-up", "drywall.finish",
		"door.seal", "electrical.final", "line-set.final", "racking.racks")
	if err := k.through(holds...); err != nil {
		return err
	}
	if err := k.runLoggers("commissioning.empty-room", 10*day); err != nil {
		return err
	}
	return k.runLoggers("commissioning.handover", 10*day)
}

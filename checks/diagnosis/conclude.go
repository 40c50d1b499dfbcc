package diagnosis

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"proveout/checks/units"
)

// ask is a wanted reading with the signs that it is wanted for.
type ask struct {
	Wanted
	signs []*Sign
}

// conclude ranks the causes and draws the answer.
func (d *diagnosis) conclude() {
	d.dropSettledAsks()
	d.smallShares()
	d.rank()
	d.report.Outcome = d.outcome()
	for _, a := range d.asks {
		d.report.Wanted = append(d.report.Wanted, a.Wanted)
	}
	slices.SortStableFunc(d.report.Wanted, func(a, b Wanted) int { return cmp.Compare(len(b.Between), len(a.Between)) })
	for _, s := range d.signs {
		d.report.Symptoms = append(d.report.Symptoms, *s)
	}
	d.report.Months = d.year()
	d.report.Visit, d.report.Summer, d.report.Following = d.visit, d.summer, d.follow
	d.report.Leak = d.leakReport()
	d.compare()
	d.unknowns()
	d.steps()
	d.report.Summary = d.summary()
}

// dropSettledAsks forgets readings that were wanted for signs explained since, and
// tells the open causes what would decide them.
func (d *diagnosis) dropSettledAsks() {
	d.asks = slices.DeleteFunc(d.asks, func(a *ask) bool {
		return !slices.ContainsFunc(a.signs, func(s *Sign) bool { return !s.Explained })
	})
	for _, a := range d.asks {
		for _, c := range a.Between {
			if d.settled(c) {
				continue
			}
			f := d.finding(c)
			f.Named = false
			if !slices.Contains(f.Decides, a.Measurement) {
				f.Decides = append(f.Decides, a.Measurement)
			}
		}
	}
}

// smallShares says of what lets heat in and was not named how little of the shortage it
// accounts for.
func (d *diagnosis) smallShares() {
	b := d.visit
	if b == nil || !b.Rates || !d.has(TooWarm) || b.Found.Total() <= b.Able {
		return
	}
	for _, s := range b.Shares {
		f := d.findings[s.Cause]
		if f == nil || f.Named || len(f.Decides) > 0 || !s.Known || s.Cause == UnitTooSmall || s.Cause == UnitFaulty {
			continue
		}
		d.oppose(s.Cause, fromBalance, causeReadings(s.Cause, d), "%s accounts for %s of the %s that the unit falls short by", inWords(s.Cause), d.show.power(s.Power), d.show.power(b.Found.Total()-b.Able))
	}
}

// rank orders the findings: named ones first, by their share, certainty and number of
// readings.
func (d *diagnosis) rank() {
	for _, c := range Causes {
		f := d.findings[c]
		if f == nil {
			continue
		}
		f.Certainty = f.certainty()
		d.report.Causes = append(d.report.Causes, *f)
	}
	slices.SortStableFunc(d.report.Causes, func(a, b Finding) int {
		if a.Named != b.Named {
			return cmp.Compare(truth(b.Named), truth(a.Named))
		}
		return cmp.Or(cmp.Compare(b.Share, a.Share), cmp.Compare(b.Certainty, a.Certainty), cmp.Compare(b.readings(), a.readings()))
	})
}

func truth(b bool) int {
	if b {
		return 1
	}
	return 0
}

// certainty follows the words of the type Certainty.
func (f Finding) certainty() Certainty {
	switch {
	case !f.Named && len(f.For) > 0 && len(f.Decides) > 0:
		return Low
	case !f.Named:
		return NoCertainty
	case f.assumed || len(f.Against) > 0 || f.readings() < 2:
		return Medium
	}
	return High
}

// readings counts the different readings that speak for this cause more than for
// others.
func (f Finding) readings() int {
	seen := map[Measurement]bool{}
	for _, e := range f.For {
		if e.shared {
			continue
		}
		for _, m := range e.Readings {
			seen[m] = true
		}
	}
	return len(seen)
}

// soundSigns are the signs that must have been looked for before a room is sound,
// with the reading that looks.
var soundSigns = []struct {
	symptom Symptom
	by      Measurement
}{
	{TooWarm, RoomTemperature}, {TooHumid, RoomHumidity}, {HardlyRests, UnitDuty}, {HotCondenser, CondenserIntake}, {ShortCycles, UnitCycles},
	{Uneven, RoomTemperature}, {WetFraming, FramingMoisture}, {Sweating, SweatingSurfaces}, {WaterAtUnit, DrainTest},
	{Moldy, MoldPatch}, {LetsAirIn, Condensate}, {BadInSummer, SeasonHistory}, {WorseWithFan, HouseFanHistory},
}

func (d *diagnosis) outcome() Outcome {
	if len(d.signs) > 0 {
		if slices.ContainsFunc(d.signs, func(s *Sign) bool { return !s.Explained }) {
			return Undecided
		}
		return Explained
	}
	outcome := Sound
	for _, s := range soundSigns {
		if slices.Contains(d.report.Looked, s.symptom) {
			continue
		}
		outcome = Undecided
		s.by = d.lacking(s.by)
		if !slices.ContainsFunc(d.asks, func(a *ask) bool { return a.Measurement == s.by }) {
			d.asks = append(d.asks, &ask{Wanted: Wanted{Measurement: s.by, Because: fmt.Sprintf("no sign was found, but nobody looked for %q", s.symptom)}})
		}
	}
	return outcome
}

// lacking returns what a sign wants when the reading that looks for it was taken and
// yet told nothing: what it is compared with.
func (d *diagnosis) lacking(by Measurement) Measurement {
	switch r := d.room.Readings; {
	case by == CondenserIntake && r.Intake.Taken:
		return UnitSheet // the highest intake allowed
	case by == Condensate && r.Condensate.Taken:
		return AdjoiningHumidity
	}
	return by
}

// summary is one sentence.
func (d *diagnosis) summary() string {
	switch d.report.Outcome {
	case Sound:
		return "nothing wrong was found: every sign was looked for and none is there"
	case Explained:
		var parts []string
		for _, f := range d.report.Causes {
			if f.Named {
				parts = append(parts, fmt.Sprintf("%s (certainty %s)", f.Cause, f.Certainty))
			}
		}
		for _, s := range d.signs {
			if s.NoFault != "" {
				parts = append(parts, s.NoFault)
			}
		}
		return "the readings are explained: " + strings.Join(parts, "; ")
	}
	var wanted []string
	for _, w := range d.report.Wanted {
		wanted = append(wanted, w.Measurement.What())
	}
	return "undecided; what would decide: " + strings.Join(wanted, "; ")
}

func (d *diagnosis) leakReport() Leak {
	l := d.leak
	r := Leak{Door: l.door.flow, Openings: l.openings.flow, Rest: l.rest.flow, Total: l.total(), Sound: l.sound, By: l.measured}
	for _, p := range d.leak.at(d.now, d.now, d.from(), d.in.atSet) {
		if c, err := d.now.carried(p.Flow, sideOf(p.Side), d.in.atSet); err == nil {
			r.Heat += c.Total()
		}
	}
	return r
}

// unknown writes down something that is not known or was taken for granted.
func (d *diagnosis) unknown(format string, args ...any) {
	d.report.Unknown = append(d.report.Unknown, fmt.Sprintf(format, args...))
}

// unknowns says what was not read and what was taken for granted.
func (d *diagnosis) unknowns() {
	d.unseenSigns()
	if d.leak.floor {
		d.unknown("how much air leaks in: %s; only what could be seen is counted", d.leak.why)
	}
	if d.room.Readings.Searched == NotAsked && len(d.room.Readings.Openings) == 0 {
		d.unknown("whether there are %s: nobody looked", ThroughWallSearch.What())
	}
	if d.follow == nil {
		d.unknown("whether the room follows the house: %s", d.logNote)
	}
	d.unknownFabric()
	if d.room.Planned == nil {
		d.unknown("what the room is planned to be: an ordinary room (%.1f air changes an hour, walls of %.2f W/(m²·K)) stands for it", d.limits.SoundAirChange, float64(d.limits.SoundTransmittance["wall"]))
	}
	if d.room.Unit.CoilDifference == 0 && d.room.Unit.Capacity != nil {
		d.unknown("the coil's temperature: %.1f K below the room at its rating was assumed", float64(usualCoilDifference))
	}
	if d.in.leftOut > 0 {
		d.unknown("%d readings in the supply air were left out", d.in.leftOut)
	}
	d.unknown("what could not be reached: readings stand for the places where they were taken; vapor profiles know no moving air")
}

// unseenSigns lists the signs that nobody looked for.
func (d *diagnosis) unseenSigns() {
	for _, s := range soundSigns {
		if s.symptom == HardlyRests && d.has(TooWarm) && d.room.Readings.Duty.Taken {
			continue // it was looked at with the warmth
		}
		if !d.has(s.symptom) && !slices.Contains(d.report.Looked, s.symptom) {
			d.unknown("whether there is the sign %q: %s was not read", s.symptom, s.by.What())
		}
	}
}

// unknownFabric lists faces and doors that could not be counted.
func (d *diagnosis) unknownFabric() {
	for _, f := range d.unknownFaces() {
		d.unknown("what %q is made of: its heat is not in the load", f)
	}
	for i, w := range d.report.Walls {
		if w.Why != "" && d.faces[i].opaque() {
			d.unknown("what vapor does in %q: %s", w.Face, w.Why)
		}
	}
	for _, door := range d.room.Use.Doors {
		if _, ok := d.now.state(sideOf(door.Side), d.pressure); !ok {
			d.unknown("what %q lets in as it is used: temperature and humidity of the %s were not read", door.Name, door.Side)
		}
	}
}

// steps gathers the calculation.
func (d *diagnosis) steps() {
	all := [][]units.Step{d.unit.steps, d.leak.steps}
	for _, b := range []*Balance{d.visit, d.summer} {
		if b != nil {
			b.Steps = append(b.Found.Steps(), b.Steps...)
			all = append(all, b.Steps)
		}
	}
	for _, s := range d.faces {
		all = append(all, s.steps)
	}
	if d.follow != nil {
		all = append(all, d.follow.Steps)
	}
	d.report.Steps = slices.Concat(all...)
}

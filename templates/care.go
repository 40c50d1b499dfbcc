package templates

import (
	"cmp"

	"proveout/checks"
	"proveout/checks/units"
)

// care is what the care guide says of this room.
type care struct {
	Call, Phone string
	Clearance   string // clear space before the unit
	Pump        bool   // the drain has a pump
	Ports       string // limit of the moisture at the test ports
	PowerFail   bool   // it came back by itself after a power cut
	Warm        string // air that is too warm for storage
}

// warmest is the upper end of the range that published storage advice
// tolerates for wine, 10 to 16 °C (quoted).
const warmest units.Temperature = 16

func (d Dossier) care() care {
	c := care{
		Call: "the company named on your contract", Pump: d.Room.Properties["drain"] == "pump",
		Clearance: d.Room.Values["data sheet clearance"],
		PowerFail: d.outcomeOf("commissioning.power-fail") == checks.Pass.String(),
		Warm:      units.Of(units.TemperatureKind, float64(warmest), d.Room.Units).String(),
	}
	if q := d.Plan.Questions()["commissioning.port-moisture"]; q != nil && d.Gate.Asked(q) {
		c.Ports = limitText(q, d.Room)
	}
	if d.Company != nil {
		c.Call, c.Phone = d.Company.Name, d.Company.Phone
	}
	return c
}

// outcomeOf is the outcome of a check, "" when it is not asked.
func (d Dossier) outcomeOf(check string) string {
	v := d.verdict(check)
	if v == nil {
		return ""
	}
	return v.Outcome.String()
}

// normal is what normal looks like, in numbers, for the homeowner.
func (d Dossier) normal() []fact {
	all := []fact{{"Set point", d.Room.SetPoint.String()}, {"Temperature", d.temperatureBand()}, {"Humidity", d.humidityBand()}}
	for _, line := range []struct{ what, check string }{
		{"Back after five minutes with the door open, as tested", "commissioning.recovery"},
		{"Share of time the unit ran on the hottest day of the test", "commissioning.duty"},
		{"Hottest air outside it in that time", "commissioning.hottest-outside"},
		{"Water the unit makes in a day, as tested", "commissioning.condensate"},
		{"Running current of the unit", "commissioning.unit-current"},
		{"Framing behind the test ports", "commissioning.port-moisture"},
	} {
		if v := d.verdict(line.check); v != nil && v.Taken > 0 {
			all = append(all, fact{line.what, readingRange(v.Points, d.Room.Units)})
		}
	}
	return all
}

// temperatureBand is the band round the set point that the room was tested
// for; 1 K to each side unless job.yaml says otherwise (common practice).
func (d Dossier) temperatureBand() string {
	half := units.TemperatureDifference(1)
	if q, err := d.Room.Value("temperature band", units.TemperatureDifferenceKind); err == nil {
		half = q.TemperatureDifference()
	}
	set := d.Room.SetPoint
	if !set.Known() {
		return set.String()
	}
	low := units.Of(units.TemperatureKind, float64(set.Temperature())-float64(half), d.Room.Units)
	high := units.Of(units.TemperatureKind, float64(set.Temperature())+float64(half), d.Room.Units)
	return low.String() + " to " + high.String()
}

// dangers are the cautions of the finished room, by what is in it.
func (d Dossier) dangers() []string {
	is := func(name string, values ...string) bool {
		return checks.Condition{{Name: name, Values: values}}.Holds(d.Gate.Decisions)
	}
	all := []string{
		"The unit is live and its fan turns. Leave its covers on.",
		"The room is small and tight. Children do not play in it, and nobody stores dry ice, nitrogen or other gas in it.",
	}
	if is("insulation", "foam") {
		all = append(all, "Behind the board is foam, which burns fast when bare. No flame and no hot work at these walls, and board that breaks is mended at once.")
	}
	if is("refrigerant class", "A2L", "A3") {
		all = append(all, "The refrigerant in the unit can burn. If you hear it hiss or the alarm of the unit sounds: no flame, no switch, door open, out, and call.")
	}
	if is("lead", "on") {
		all = append(all, "The house is old enough for lead paint. What was not worked on may still hold it.")
	}
	if is("asbestos", "on") {
		all = append(all, "The house is old enough for asbestos. What was not worked on may still hold it.")
	}
	return append(all, cmp.Or(d.doorCaution(), "Anybody inside must be able to open the door from inside. Try it, and show it to everybody in the house."))
}

// doorCaution says so when the way out has not passed its test.
func (d Dossier) doorCaution() string {
	if o := d.outcomeOf("door.opens-from-inside"); o != "" && o != checks.Pass.String() {
		return "That the door opens from inside is not proved yet. Nobody shuts it behind them until it is."
	}
	return ""
}

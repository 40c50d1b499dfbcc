package phases

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"proveout/checks"
	"proveout/checks/logs"
	"proveout/checks/units"
)

// noon is the moment at which these tests judge: a Monday, long enough after
// everything they recorded.
var noon = time.Date(2026, 8, 3, 12, 0, 0, 0, time.UTC)

func quantity(t testing.TB, kind units.Kind, text string) units.Quantity {
	t.Helper()
	q, err := units.Parse(kind, text)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// defaultPlan is the embedded plan.
func defaultPlan(t testing.TB) *Plan {
	t.Helper()
	plan, err := ReadPlan(Defaults())
	if err != nil {
		t.Fatal(err)
	}
	return plan
}

// cellar is a room with one face of each kind that the default plan asks about.
func cellar(t testing.TB, properties map[string]string) *checks.Room {
	room := &checks.Room{
		Job: "birch-stair", Units: units.US, YearBuilt: 1964, Zone: time.UTC, Altitude: quantity(t, units.LengthKind, "600 ft"),
		SetPoint:    quantity(t, units.TemperatureKind, "13 °C"),
		LowHumidity: quantity(t, units.HumidityKind, "50 %"), HighHumidity: quantity(t, units.HumidityKind, "70 %"),
		PullDownLimit: quantity(t, units.DurationKind, "48 h"), PullDownLoad: "empty",
		Properties: properties, Values: map[string]string{}, Penetrations: []string{"north wall/line set"},
	}
	room.Length, room.Width, room.Height = quantity(t, units.LengthKind, "10 ft"), quantity(t, units.LengthKind, "8 ft"), quantity(t, units.LengthKind, "8 ft")
	room.UnitAsFound = &checks.Unit{
		Refrigerant: "R134a", Capacity: quantity(t, units.PowerKind, "600 W"), Room: quantity(t, units.TemperatureKind, "13 °C"), Outdoor: quantity(t, units.TemperatureKind, "35 °C"),
		Split: quantity(t, units.TemperatureDifferenceKind, "7 K"), Humidity: quantity(t, units.HumidityKind, "60 %"),
		HighestIntake: quantity(t, units.TemperatureKind, "45 °C"), Rejects: "house",
	}
	if properties["refrigerant class"] == "A2L" {
		room.UnitAsFound.Refrigerant = "R454B"
	}
	room.AirChange = quantity(t, units.AirChangeKind, "0.2 /h")
	room.Use = checks.Use{
		Doors: []checks.DoorUse{{
			Door: "door", Width: quantity(t, units.LengthKind, "32 in"), Height: quantity(t, units.LengthKind, "80 in"),
			Passages: quantity(t, units.CountKind, "6"), Each: quantity(t, units.DurationKind, "20 s"),
		}},
		Appliances: []checks.Appliance{
			{Name: "fan", Power: quantity(t, units.PowerKind, "35 W"), Runs: quantity(t, units.DurationKind, "14 h")},
			{Name: "lights", Power: quantity(t, units.PowerKind, "30 W"), Runs: quantity(t, units.DurationKind, "2 h"), Light: true},
		},
	}
	room.Scheme, _ = Scheme("epa")
	for _, name := range []string{"house", "attic", "ground"} {
		s := checks.Space{Name: name, Temperature: quantity(t, units.TemperatureKind, "75 °F"), Humidity: quantity(t, units.HumidityKind, "60 %")}
		room.Spaces = append(room.Spaces, s)
	}
	for _, f := range []checks.Face{
		{Name: "north wall", Kind: "wall", OtherSide: "house", Bays: 2}, {Name: "lid", Kind: "ceiling", OtherSide: "attic"},
		{Name: "floor", Kind: "floor", OtherSide: "ground"}, {Name: "door", Kind: "door", OtherSide: "house"}, {Name: "pane", Kind: "glass", OtherSide: "house"},
	} {
		f.Area = quantity(t, units.AreaKind, "30 ft²")
		f.Design = map[string]units.Quantity{
			"depth": quantity(t, units.LengthKind, "5 in"), "resistance": quantity(t, units.ThermalResistanceKind, "R-12"),
			"installed resistance": quantity(t, units.ThermalResistanceKind, "R-25"), "permeance": quantity(t, units.PermeanceKind, "0.8 perm"),
			"transmittance": quantity(t, units.TransmittanceKind, "1.5 W/(m²·K)"),
		}
		board := checks.Layer{Material: "gypsum board", Thickness: quantity(t, units.LengthKind, "1/2 in")}
		foam := checks.Layer{Material: "closed-cell spray foam", Thickness: quantity(t, units.LengthKind, "5 in"), Framing: quantity(t, units.PercentKind, "20 %"), Insulation: true, Retarder: true}
		f.AsPlanned = []checks.Layer{board, foam, board}
		room.Faces = append(room.Faces, f)
	}
	for name, value := range map[string]string{
		"nominal voltage": "120 V", "temperature band": "1 K", "test pressure": "300 psig", "nameplate pressure": "350 psig",
		"minimum circuit ampacity": "15 A", "maximum overcurrent": "20 A",
		"data sheet lowest superheat": "5 °F", "data sheet highest superheat": "60 °F", "data sheet lowest subcooling": "5 °F", "data sheet highest subcooling": "70 °F",
	} {
		room.Values[name] = value
	}
	return room
}

// fill gives the room each data-sheet figure that the plan names.
func fill(plan *Plan, room *checks.Room) {
	for _, q := range plan.Questions() {
		if name := q.Wait; strings.HasPrefix(name, checks.DataSheet) {
			room.Values[name] = "1 h"
		}
		for _, b := range q.Limits.Bounds() {
			if strings.HasPrefix(b.Name, checks.DataSheet) && room.Values[b.Name] == "" {
				room.Values[b.Name], _, _ = strings.Cut(q.Measures.Example(), " or ")
			}
		}
	}
}

// answers are records that let a check pass, one for each place it is asked at.
func answers(t testing.TB, plan *Plan, q *checks.Question, room *checks.Room, choose map[string]string) []checks.Fact {
	t.Helper()
	check := checks.ByName(q.Compute)
	if check != nil && (check.Whole != nil || q.Uses != "") {
		return nil
	}
	var facts []checks.Fact
	for i, place := range q.Expected(room, "") {
		f := answer(q, fmt.Sprintf("%s-%d", q.ID(), i), place)
		switch q.Kind {
		case checks.Reading:
			f.Quantity = passing(t, q, room, room.Face(checks.FaceOf(place)))
		case checks.Choice:
			f.Answer = q.Options[0]
			if want := cmp.Or(choose[q.ID()], healthy[q.ID()]); want != "" {
				f.Answer = want
			}
		case checks.Computed:
			compute(t, check, q, &f)
		}
		facts = append(facts, f)
		if q.ID() == "demo.drying" { // read every day
			f.ID, f.Measured = f.ID+"-before", f.Measured.AddDate(0, 0, -1)
			facts = append(facts, f)
		}
	}
	return facts
}

// answer is a record of the right person with the right instrument, its photo
// and its papers.
func answer(q *checks.Question, id, place string) checks.Fact {
	f := checks.Fact{
		ID: id, Check: q.ID(), Place: place, By: "Ana", Roles: []string{"crew lead"}, Measured: noon.Add(-time.Hour),
		Photos: 1, Files: []checks.File{{Name: "paper.pdf"}}, Number: "N-1", Start: noon.AddDate(0, -2, 0), End: noon.AddDate(0, 0, -1),
	}
	if len(q.By) > 0 {
		f.Roles = q.By[:1]
	}
	if q.Instrument != "" {
		f.Instrument = &checks.Instrument{ID: "I-1", Kind: q.Instrument, Calibrated: noon.AddDate(0, -3, 0), Due: noon.AddDate(1, 0, 0)}
	}
	switch q.Kind {
	case checks.Observation:
		f.Answer = q.Want
	case checks.Inspection:
		f.Answer = "pass"
	}
	return f
}

// passing is a value within all limits of a question.
func passing(t testing.TB, q *checks.Question, room *checks.Room, face *checks.Face) units.Quantity {
	t.Helper()
	if text := healthy[q.ID()]; text != "" {
		return quantity(t, q.Measures, text)
	}
	if q.RecordOnly {
		text, _, _ := strings.Cut(q.Measures.Example(), " or ")
		return quantity(t, q.Measures, text)
	}
	b := q.Limits.Bounds()[0]
	limit, err := b.Resolve(q.Measures, room, face)
	if err != nil {
		t.Fatalf("%s: %v", q.ID(), err)
	}
	switch b.Word {
	case "above":
		return units.Of(q.Measures, limit.Base()*1.01+0.01, units.SI)
	case "below":
		return units.Of(q.Measures, limit.Base()*0.99-0.01, units.SI)
	}
	return limit
}

// compute gives a record of a computed check values with which it passes.
func compute(t testing.TB, check *checks.Check, q *checks.Question, f *checks.Fact) {
	t.Helper()
	if len(check.Answers) > 0 {
		f.Answer = check.FirstAnswer()
	}
	if check.Spans {
		f.Start, f.End = noon.AddDate(0, 0, -3), noon.AddDate(0, 0, -1)
	}
	if check.Log {
		f.Start, f.End = time.Time{}, time.Time{}
		if check.Starts {
			f.Start = logStart
		}
		f.Files = []checks.File{{Name: "log.csv", Log: readLog}}
		if q.Limits.AtLeast.IsSet() { // a steady room
			f.Start = logStart.Add(3 * time.Hour)
		}
	}
	f.Values = map[string]units.Quantity{}
	for _, n := range check.Needs {
		text := good[n.Name]
		if n.Name == "gauge uncertainty" && n.Kind == units.VacuumKind {
			text = "20 micron"
		}
		if text == "" && n.Optional {
			continue
		}
		f.Values[n.Name] = quantity(t, n.Kind, text)
	}
}

// healthy are the readings of a room in order: the diagnosis finds nothing.
var healthy = map[string]string{
	"insulation.substrate-moisture": "12 %", "insulation.floor-substrate-moisture": "12 %",
	"electrical.light-power": "25 W", "door.label-transmittance": "1.5 W/(m²·K)",
	"assess.room-temperature": "13.2 °C", "assess.room-humidity": "60 %", "assess.adjoining-temperature": "24 °C", "assess.adjoining-humidity": "55 %",
	"assess.control-offset": "0.2 K", "assess.surface-temperatures": "23 °C", "assess.framing-moisture": "11 %", "assess.pressure-difference": "-0.2 Pa",
	"assess.unit-split": "7 K", "assess.unit-duty": "45 %", "assess.unit-cycles": "3", "assess.shortest-run": "12 min", "assess.condenser-intake": "26 °C",
	"assess.condensate": "0.3 kg/day", "assess.mold-patch": "0 ft²", "assess.cause": "none found, the room is sound",
}

// good are values with which the computed checks pass.
var good = map[string]string{
	"load": "1000 W", "capacity": "1200 W", "airflow": "300 cfm", "volume": "60 m³",
	"air temperature": "75 °F", "air humidity": "45 %", "surface temperature": "70 °F",
	"gap": "1/32 in", "height": "3 ft", "area": "2 in²", "opening height": "1 in",
	"high pressure": "50 Pa", "flow at high pressure": "40 cfm", "low pressure": "15 Pa", "flow at low pressure": "18.5 cfm",
	"voltage": "120 V", "current": "10 A", "length": "20 ft", "wire size": "10 AWG",
	"start pressure": "310 psig", "start temperature": "75 °F", "end pressure": "310 psig", "end temperature": "75 °F",
	"gauge uncertainty": "0.2 psi", "thermometer uncertainty": "0.1 K",
	"bottles per metre": "100 bottles", "rack length": "4 m", "rack depth": "0.34 m", "bottle mass": "1.3 kg", "rack mass": "20 kg/m", "floor area": "9 m²",
	"conductors together": "2", "terminal column": "60 °C", "phases": "1", "nominal voltage": "120 V", "test voltage": "500 V", "resistance": "500 MΩ",
	"reading": "12 %", "wood temperature": "20 °C", "species factor": "100 %", "species offset": "0 %",
	"humidity": "70 %", "hole depth": "40 mm", "slab thickness": "100 mm", "rest": "24 h", "drying sides": "1",
	"lifts": "3", "thickest lift": "1 1/2 in", "shortest wait": "20 min", "depth": "4 1/2 in", "voids": "0 %", "squeezed": "0 %", "loss": "0 %",
	"coldest air": "65 °F", "dampest air": "50 %", "coat thickness": "1/16 in", "house temperature": "75 °F", "room temperature": "55 °F",
	"anchor height": "81 in", "blocking bottom": "78 in", "blocking top": "84 in", "anchors": "10", "in blocking": "10", "pulled": "2", "held": "2",
	"tube": "3/8 in", "elbows": "4", "rise": "0 m", "drier loss": "2 psi", "evaporating temperature": "40 °F", "condensing temperature": "113 °F", "liquid temperature": "104 °F",
	"liquid tube": "1/4 in", "suction tube": "3/8 in", "precharged length": "20 ft", "weighed in": "0 oz", "charge": "1 lb",
	"insulation": "1 in", "tube temperature": "40 °F",
	"suction pressure": "35 psig", "suction tube temperature": "50 °F", "liquid pressure": "150 psig", "liquid tube temperature": "50 °F",
	"zero flow before": "-0.4 Pa", "zero flow after": "-0.6 Pa", "zero flow time": "60 s", "room humidity": "60 %", "house humidity": "50 %",
	"smallest flow": "5 cfm", "largest flow": "200 cfm",
	"pressure 1": "-15 Pa", "flow 1": "12 cfm", "pressure 2": "-25 Pa", "flow 2": "16.8 cfm", "pressure 3": "-35 Pa", "flow 3": "21 cfm",
	"pressure 4": "-45 Pa", "flow 4": "24.8 cfm", "pressure 5": "-55 Pa", "flow 5": "28.2 cfm",
	"vacuum at isolation": "250 micron", "vacuum at end": "300 micron", "ambient temperature": "70 °F",
}

// logStart is when the loggers began: the room warm, cold after two hours, and
// steady for ten days.
var logStart = noon.AddDate(0, 0, -11)

var logFile = func() string {
	var b strings.Builder
	b.WriteString("Time,Temperature (°C),Humidity (%),Pressure (Pa)\n")
	for i := range 2 * 24 * 10 {
		celsius := max(13.0, 24-2.7*float64(i))
		fmt.Fprintf(&b, "%s,%.2f,60,-6.2\n", logStart.Add(time.Duration(i)*30*time.Minute).Format("2006-01-02 15:04"), celsius)
	}
	return b.String()
}()

var readLog = sync.OnceValues(func() (*logs.File, error) { return logs.Read([]byte(logFile), logs.Dialect{Zone: time.UTC}) })

// released are the sign-offs of a hold by all its roles.
func released(g *Gate, h *Hold, faces ...string) []Release {
	var all []Release
	for _, role := range h.Roles(g.Decisions) {
		all = append(all, Release{ID: h.ID() + role, Hold: h.ID(), Role: role, By: "somebody", At: noon, Faces: faces})
	}
	return all
}

// wantProblem asks for an error that says something.
func wantProblem(t *testing.T, err error, says string) {
	t.Helper()
	if err == nil || !strings.Contains(err.Error(), says) {
		t.Errorf("error = %v, want one that says %q", err, says)
	}
}

// each combines the properties that select holds and checks.
func each(properties ...string) []map[string]string {
	all := []map[string]string{{}}
	for _, name := range properties {
		var next []map[string]string
		for _, m := range all {
			for _, v := range Properties[name] {
				n := map[string]string{name: v}
				for k, v := range m {
					n[k] = v
				}
				next = append(next, n)
			}
		}
		all = next
	}
	return slices.Clip(all)
}

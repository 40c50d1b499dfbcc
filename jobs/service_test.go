package jobs

import (
	"strings"
	"testing"

	"proveout/checks/envelope"
)

// service is the part of a job file that the load is computed from.
const service = `
unit as planned:
  refrigerant: R134a
  capacity: 3400 Btu/h
  room: 55 °F
  outdoor: 90 °F
  rejects heat to: house
use:
  people: 1
  doors:
    - {door: door, width: 32 in, height: 80 in, passages: 6, each: 20 s}
  appliances:
    - {appliance: lamps, power: 40 W, runs: 3 h, light: "yes"}
costs: {currency: $, electricity: 0.17, cooling unit: 2800, units replaced a year: 0.5}
products:
  - {product: white foam, also called: [closed-cell spray foam], conductivity: 0.021 W/(m·K), vapor factor: 80, data sheet: "sheet 12, 2025"}
`

func TestServiceReads(t *testing.T) {
	text := string(spoiled(t, JobFile, "faces:", "faces:\n  - {face: door, kind: door, other side: house, area: 20 ft²}")) + service
	d, err := ReadDescription(JobFile, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	r := d.Room
	if r.UnitAsPlanned == nil || r.UnitAsPlanned.Capacity.Text != "3400 Btu/h" || r.UnitAsFound != nil {
		t.Errorf("units read back as %+v, %+v", r.UnitAsFound, r.UnitAsPlanned)
	}
	if len(r.Use.Doors) != 1 || r.Use.Doors[0].Passages.Base() != 6 || !r.Use.Appliances[0].Light {
		t.Errorf("use reads back as %+v", r.Use)
	}
	if c := r.Costs; c.Currency != "$" || c.Electricity != 0.17 || c.UnitsPerYear != 0.5 {
		t.Errorf("costs read back as %+v", c)
	}
	m, err := r.Materials.Find("closed-cell spray foam")
	if err != nil || m.Name != "white foam" || m.Thermal.Mark != envelope.DataSheet {
		t.Errorf("the generic name finds %q, %v, want the company's product", m.Name, err)
	}
}

func TestBadService(t *testing.T) {
	whole := string(spoiled(t, JobFile, "faces:", "faces:\n  - {face: door, kind: door, other side: house, area: 20 ft²}")) + service
	for _, tt := range []struct{ from, to, want string }{
		{"refrigerant: R134a", "refrigerant: R9", "refrigerant"},
		{"  outdoor: 90 °F\n", "", "capacity 3400 Btu/h stands without the room and outdoor temperature that it holds at; write room: and outdoor:"},
		{"3400 Btu/h", "3400", `"3400" has no unit`},
		{"rejects heat to: house", "rejects heat to: cellar", `rejects heat to is "cellar"`},
		{"{door: door,", "{door: gate,", `no face is called "gate"`},
		{"light: \"yes\"", "light: maybe", `key "light" is`},
		{"vapor factor: 80", "vapor factor: 80, permeance: 1 perm", "permeance and vapor factor both say what the product does to vapor"},
		{"vapor factor: 80, data", "data", ""},
		{`, data sheet: "sheet 12, 2025"`, "", `key "data sheet" is missing`},
		{"0.021 W/(m·K)", "0.021 W/(m·K), resistance: R-6", "it has both a conductivity and a resistance"},
		{"vapor factor: 80", "vapor factor: 80 perm", `"80 perm" is not a number above 0 and up to 1e+07`},
		{"electricity: 0.17", "electricity: -1", `electricity: "-1" is not a number`},
		{"products:", "outdoor months:\n  - {month: January, temperature: 0 °C, humidity: 80 %}\nproducts:", "outdoor months has 1 lines; write twelve, January first, or none"},
	} {
		if !strings.Contains(whole, tt.from) {
			t.Fatalf("the file has no %q", tt.from)
		}
		_, err := ReadDescription(JobFile, []byte(strings.Replace(whole, tt.from, tt.to, 1)))
		switch {
		case tt.want == "" && err != nil:
			t.Errorf("%q: %v, want no error: vapor may be unknown", tt.to, err)
		case tt.want != "" && (err == nil || !strings.Contains(err.Error(), tt.want)):
			t.Errorf("%q: %v, want %q", tt.to, err, tt.want)
		}
	}
}

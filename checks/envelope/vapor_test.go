package envelope_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// half is half of the last printed digit.
func half(text string) float64 {
	_, decimals, _ := strings.Cut(text, ".")
	return 0.5000001 * math.Pow(10, -float64(len(decimals)))
}

func TestPermsAndSD(t *testing.T) {
	for _, row := range table(t, "perm-sd.csv") {
		p := envelope.PermeanceFromPerms(number(t, row["perm"]))
		if got := float64(p) * 1e12; !near(got, number(t, row["ng"]), half(row["ng"])) {
			t.Errorf("%s perm = %v ng/(s·m²·Pa), want %s", row["perm"], got, row["ng"])
		}
		if got := float64(envelope.SDFromPermeance(p)); !near(got, number(t, row["sd"]), half(row["sd"])) {
			t.Errorf("%s perm = sd %v m, want %s", row["perm"], got, row["sd"])
		}
		if got, err := envelope.RetarderClass(p); err != nil || string(got) != row["class"] {
			t.Errorf("RetarderClass(%s perm) = %q, %v, want %q", row["perm"], got, err, row["class"])
		}
	}
	for _, v := range []float64{-1, math.NaN(), math.Inf(1)} {
		if got, err := envelope.RetarderClass(units.Permeance(v)); err == nil {
			t.Errorf("RetarderClass(%v) = %q, want an error", v, got)
		}
	}
}

// ISO 12572: s_d = μ·d; a bulk material of 1.2 perm·in an inch thick is 1.2
// perm (definition of the perm inch).
func TestVaporKinds(t *testing.T) {
	for _, tt := range []struct {
		name      string
		v         envelope.Vapor
		thickness units.Length
		rh        units.RelativeHumidity
		want      float64
	}{
		{"μ 8.3 of 12.7 mm", envelope.Mu(8.3), 0.0127, 50, 0.10541},
		{"sd 2", envelope.SD(2), 0, 50, 2},
		{"1 perm", envelope.OfPerms(1), 0.01, 0, 2e-10 / 5.72135e-11},
		{"0 perm", envelope.OfPerms(0), 0, 0, 1e4},
		{"1.2 perm·in, one inch", envelope.OfPermInches(1.2), 0.0254, 0, 2e-10 / 5.72135e-11 / 1.2},
		{"plywood at 50 %", envelope.VariableMu(envelope.VaporPoint{RH: 0, Value: 700}, envelope.VaporPoint{RH: 50, Value: 200}, envelope.VaporPoint{RH: 100, Value: 20}), 0.0127, 50, 2.54},
		{"film at 25 %", envelope.VariableSD(envelope.VaporPoint{RH: 20, Value: 10}, envelope.VaporPoint{RH: 30, Value: 4}), 0, 25, 7},
		{"film below its points", envelope.VariableSD(envelope.VaporPoint{RH: 20, Value: 10}, envelope.VaporPoint{RH: 30, Value: 4}), 0, 5, 10},
		{"film above its points", envelope.VariableSD(envelope.VaporPoint{RH: 20, Value: 10}, envelope.VaporPoint{RH: 30, Value: 4}), 0, 95, 4},
	} {
		got, err := tt.v.SD(tt.thickness, tt.rh)
		if err != nil || !near(float64(got), tt.want, 1e-12*(1+tt.want)) {
			t.Errorf("%s: sd = %v, %v, want %v", tt.name, got, err, tt.want)
		}
	}
	for name, v := range map[string]envelope.Vapor{
		"unknown": {}, "NaN": envelope.SD(units.Length(math.NaN())), "negative perm": envelope.OfPerms(-0.1),
		"negative": envelope.Mu(-1), "infinite": envelope.SD(units.Length(math.Inf(1))),
	} {
		if got, err := v.SD(0.01, 50); err == nil {
			t.Errorf("%s: sd = %v, want an error", name, got)
		}
	}
	if got, err := envelope.Mu(10).SD(0, 50); err == nil {
		t.Errorf("μ without a thickness: sd = %v, want an error", got)
	}
}

func air(t testing.TB, θ units.Temperature, rh units.RelativeHumidity) envelope.Air {
	t.Helper()
	a, err := envelope.AirAt(θ, rh)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// vaporWall is the wall of the retarder sweep, with a film of the given perms
// before the batt when perms is above 0, and a solid-wood finish if wanted.
func vaporWall(perms float64, wood bool) envelope.Assembly {
	gypsum := solid("gypsum", 12.7, 0.16)
	gypsum.Vapor = envelope.Mu(8.3)
	panel := solid("wood panel", 19, 0.115)
	panel.Vapor = envelope.Mu(150)
	paint := envelope.Layer{Name: "paint", Kind: envelope.Film, Vapor: envelope.SD(0.2)}
	layers := []envelope.Layer{paint, gypsum}
	if perms > 0 {
		layers = append(layers, envelope.Layer{Name: "retarder", Kind: envelope.Film, Vapor: envelope.OfPerms(perms)})
	}
	layers = append(layers, envelope.Layer{Name: "batt", Thickness: 0.089, Resistance: 1.94, Vapor: envelope.Mu(1.2543)}, gypsum)
	if wood {
		return envelope.Assembly{Name: "wall", Layers: append(layers, panel)}
	}
	return envelope.Assembly{Name: "wall", Layers: append(layers, paint)}
}

func TestRetarderSweep(t *testing.T) {
	room := air(t, 13, 60)
	for _, row := range table(t, "retarder-sweep.csv") {
		for column, house := range map[string]envelope.Air{"rh_24_60": air(t, 24, 60), "rh_26_65": air(t, 26, 65)} {
			p, err := envelope.Profile(vaporWall(number(t, row["perm"]), true), wallFilms, house, room)
			if err != nil {
				t.Error(err)
				continue
			}
			for _, n := range p.Nodes {
				wet := row[column] == "100"
				if n.Name == "between batt and gypsum" && (!near(float64(n.Humidity), number(t, row[column]), 0.005) || wet != (len(p.Planes) > 0)) {
					t.Errorf("%s perm, %s: %.3f %% with %d wet planes, want %s", row["perm"], column, n.Humidity, len(p.Planes), row[column])
				}
			}
		}
	}
}

// Closed-form requirement for 80 % at the plane between batt and gypsum of the
// wall of the sweep, with a wood panel and with painted gypsum on the room side.
// Computed outside this project; the idea is published in Building Services
// Engineering Research and Technology 10 (1989), abstract.
func TestPlaneNeeds(t *testing.T) {
	room := air(t, 13, 60)
	for _, tt := range []struct {
		name     string
		wood     bool
		house    envelope.Air
		sd, perm string
	}{
		{"wood panel, 24/60", true, air(t, 24, 60), "2.7039", "1.293"},
		{"wood panel, 26/65", true, air(t, 26, 65), "4.9015", "0.713"},
		{"painted gypsum, 24/60", false, air(t, 24, 60), "-0.0026", ""},
		{"painted gypsum, 26/65", false, air(t, 26, 65), "0.2769", "12.6"},
	} {
		got, err := envelope.GreatestPermeance(vaporWall(0, tt.wood), 2, wallFilms, tt.house, room, 80)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		seen := false
		for _, p := range got.Planes {
			if p.Name != "between batt and gypsum" {
				continue
			}
			seen = true
			perms := envelope.Perms(envelope.PermeanceFromSD(p.SD))
			if !near(float64(p.SD), number(t, tt.sd), half(tt.sd)) || tt.perm != "" && !near(perms, number(t, tt.perm), half(tt.perm)) {
				t.Errorf("%s: sd %.5f, %.4f perm, want %s and %s", tt.name, p.SD, perms, tt.sd, tt.perm)
			}
		}
		if !seen {
			t.Errorf("%s: no plane between batt and gypsum in %v", tt.name, got.Planes)
		}
	}
}

// With the retarder it asks for, the deciding plane is at the target, and
// with any tighter one below it.
func TestGreatestPermeanceHolds(t *testing.T) {
	room, house := air(t, 13, 60), air(t, 26, 65)
	limit, err := envelope.GreatestPermeance(vaporWall(0, true), 2, wallFilms, house, room, 80)
	if err != nil {
		t.Fatal(err)
	}
	if !limit.Needed || limit.Name != "between gypsum and wood panel" || len(limit.Steps) == 0 {
		t.Fatalf("GreatestPermeance = %+v, want a need between gypsum and wood panel", limit)
	}
	for _, share := range []float64{1, 0.9, 0.1} {
		p, err := envelope.Profile(vaporWall(envelope.Perms(limit.Permeance)*share, true), wallFilms, house, room)
		if err != nil {
			t.Fatal(err)
		}
		got := float64(p.Wettest.Humidity)
		if share == 1 && !near(got, 80, 1e-9) || share < 1 && got >= 80 {
			t.Errorf("%v of the permeance: wettest %v %% %s, want 80 at 1 and less below", share, got, p.Wettest.Name)
		}
	}
}

// Heat and vapor out of the room mirror the case: the need does not change when
// the wall and its two airs are turned round.
func TestGreatestPermeanceMirrors(t *testing.T) {
	room, house := air(t, 13, 60), air(t, 26, 65)
	wall := vaporWall(0, true)
	want, err := envelope.GreatestPermeance(wall, 2, wallFilms, house, room, 80)
	if err != nil {
		t.Fatal(err)
	}
	got, err := envelope.GreatestPermeance(reversed(wall), len(wall.Layers)-2, wallFilms, room, house, 80)
	if err != nil || !near(float64(got.SD), float64(want.SD), 1e-12) || !near(float64(got.Before), float64(want.Before), 1e-9) {
		t.Errorf("turned round: sd %v before %v, %v, want %v and %v", got.SD, got.Before, err, want.SD, want.Before)
	}
}

func TestGreatestPermeanceRefuses(t *testing.T) {
	house := air(t, 24, 60)
	for name, tt := range map[string]struct {
		at     int
		room   envelope.Air
		target units.RelativeHumidity
		want   string
	}{
		"room too humid": {2, air(t, 13, 95), 80, "no retarder"},
		"outside":        {9, air(t, 13, 60), 80, "before layer 9"},
		"NaN target":     {2, air(t, 13, 60), units.RelativeHumidity(math.NaN()), "target"},
	} {
		got, err := envelope.GreatestPermeance(vaporWall(0, true), tt.at, wallFilms, house, tt.room, tt.target)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, %v, want an error with %q", name, got.SD, err, tt.want)
		}
	}
}

func reversed(a envelope.Assembly) envelope.Assembly {
	back := envelope.Assembly{Name: a.Name, Layers: slices.Clone(a.Layers)}
	slices.Reverse(back.Layers)
	return back
}

package envelope_test

import (
	"strings"
	"testing"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

func library(t testing.TB, products ...envelope.Material) *envelope.Library {
	t.Helper()
	lib, err := envelope.NewLibrary(products...)
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// The embedded values against the handbook in IP units.
func TestMaterialsAgainstHandbook(t *testing.T) {
	lib := library(t)
	for _, row := range table(t, "handbook-materials.csv") {
		m, err := lib.Find(row["name"])
		if err != nil {
			t.Error(err)
			continue
		}
		l, err := m.Layer(units.Length(number(t, row["thickness_mm"]) / 1000))
		if err != nil {
			t.Error(err)
			continue
		}
		r, err := envelope.Assembly{Layers: []envelope.Layer{l}}.ParallelPath(envelope.Films{})
		if err != nil {
			t.Error(err)
			continue
		}
		if got := envelope.IPConductivity(m.Conductivity); row["k"] != "" && !near(got, number(t, row["k"]), half(row["k"])) {
			t.Errorf("%s: k = %.4f, want %s", m.Name, got, row["k"])
		}
		if got := envelope.RValue(r); !near(got, number(t, row["r"]), half(row["r"])) {
			t.Errorf("%s: R-%.3f, want R-%s", m.Name, got, row["r"])
		}
	}
}

// No value without a source and a mark, no name or alias twice.
func TestMaterialsAreComplete(t *testing.T) {
	marks := map[envelope.Mark]bool{envelope.Read: true, envelope.Memory: true, envelope.CommonPractice: true, envelope.Weak: true}
	seen := map[string]string{}
	all := library(t).Materials()
	if len(all) < 50 {
		t.Errorf("%d materials, want at least 50", len(all))
	}
	for _, m := range all {
		if m.Thermal.Text == "" || !marks[m.Thermal.Mark] {
			t.Errorf("%s: thermal source %+v is not complete", m.Name, m.Thermal)
		}
		if m.Vapor.Known() != (m.VaporSource.Text != "") || m.Vapor.Known() && !marks[m.VaporSource.Mark] {
			t.Errorf("%s: vapor source %+v does not go with its value", m.Name, m.VaporSource)
		}
		for _, name := range append([]string{m.Name}, m.Aliases...) {
			key := strings.ToLower(name)
			if other, twice := seen[key]; twice {
				t.Errorf("%q names both %s and %s", name, other, m.Name)
			}
			seen[key] = m.Name
		}
	}
}

func TestFind(t *testing.T) {
	lib := library(t)
	for _, tt := range []struct{ ask, want string }{
		{"6 mil poly", "polyethylene 6 mil"},
		{"Drywall", "gypsum board 1/2 in"},
		{"  closed-cell  foam ", "closed-cell spray foam"},
	} {
		if m, err := lib.Find(tt.ask); err != nil || m.Name != tt.want {
			t.Errorf("Find(%q) = %q, %v, want %q", tt.ask, m.Name, err, tt.want)
		}
	}
	for _, tt := range []struct{ ask, want string }{
		{"gypsum bord", `"gypsum board 1/2 in"`},
		{"polyethilene", `"polyethylene 6 mil"`},
		{"", "no material"},
		{"unobtainium", "data sheet"},
	} {
		if m, err := lib.Find(tt.ask); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("Find(%q) = %q, %v, want an error with %s", tt.ask, m.Name, err, tt.want)
		}
	}
}

func product() envelope.Material {
	return envelope.Material{
		Name: "two-pound foam of the house supplier", Aliases: []string{"closed-cell foam"},
		Conductivity: 0.022, Vapor: envelope.OfPermInches(1.5),
		Thermal:     envelope.Reference{Text: "data sheet of March 2025", Mark: envelope.DataSheet},
		VaporSource: envelope.Reference{Text: "data sheet of March 2025", Mark: envelope.DataSheet},
	}
}

func TestProductBeatsGeneric(t *testing.T) {
	lib := library(t, product())
	m, err := lib.Find("closed-cell foam")
	if err != nil || !m.Product || m.Conductivity != 0.022 {
		t.Errorf("Find = %q (product %v), %v, want the product", m.Name, m.Product, err)
	}
	if m, err := lib.Find("closed-cell spray foam"); err != nil || m.Product {
		t.Errorf("Find of the generic name = %q (product %v), %v, want the generic material", m.Name, m.Product, err)
	}
}

func TestProductsRefused(t *testing.T) {
	for name, tt := range map[string]struct {
		change func(*envelope.Material)
		want   string
	}{
		"no data sheet":       {func(m *envelope.Material) { m.Thermal.Text = "" }, "source"},
		"no vapor data sheet": {func(m *envelope.Material) { m.VaporSource.Text = "" }, "vapor value has no source"},
		"k and R":             {func(m *envelope.Material) { m.Resistance = 2 }, "both"},
		"negative":            {func(m *envelope.Material) { m.Conductivity = -1 }, "conductivity"},
		"no name":             {func(m *envelope.Material) { m.Name = "" }, "name"},
		"negative perm":       {func(m *envelope.Material) { m.Vapor = envelope.OfPerms(-1) }, "vapor resistance"},
		"points fall": {func(m *envelope.Material) {
			m.Vapor = envelope.VariableSD(envelope.VaporPoint{RH: 50, Value: 1}, envelope.VaporPoint{RH: 40, Value: 2})
		}, "rising"},
	} {
		p := product()
		tt.change(&p)
		if _, err := envelope.NewLibrary(p); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: NewLibrary: %v, want an error with %q", name, err, tt.want)
		}
	}
	if _, err := envelope.NewLibrary(product(), product()); err == nil || !strings.Contains(err.Error(), "twice") {
		t.Errorf("the same product twice: %v, want an error", err)
	}
}

// A rated batt in a thinner space is derated in proportion and says so; common
// practice.
func TestMaterialLayer(t *testing.T) {
	lib := library(t)
	batt, err := lib.Find("R-19 batt")
	if err != nil {
		t.Fatal(err)
	}
	l, err := batt.Layer(0.105)
	if err != nil || !near(float64(l.Resistance), 3.32*0.75, 1e-12) || !strings.Contains(l.Source, "compressed") {
		t.Errorf("R-19 in 105 mm = %+v, %v, want 2.49 and a note", l, err)
	}
	if l, err = batt.Layer(0.165); err != nil || l.Resistance != 3.32 {
		t.Errorf("R-19 in 165 mm = %v, %v, want 3.32", l.Resistance, err)
	}
	foam, err := lib.Find("closed-cell spray foam")
	if err != nil {
		t.Fatal(err)
	}
	if l, err := foam.Layer(0); err == nil {
		t.Errorf("foam without a thickness = %+v, want an error", l)
	}
	poly, err := lib.Find("poly")
	if err != nil {
		t.Fatal(err)
	}
	if l, err := poly.Layer(0); err != nil || l.Kind != envelope.Film {
		t.Errorf("poly = %+v, %v, want a film", l, err)
	}
}

package checks

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"slices"
	"strings"
	"testing"

	"proveout/checks/units"
)

// references names, for each check, the tests that hold it against something
// outside of this project: a printed example, a table, a law's figure.
var references = map[string][]string{
	"mold-tier":               {"TestMoldTierEdges"},
	"lead-path":               {"TestLeadPath"},
	"asbestos-path":           {"TestAsbestosPath"},
	"capacity":                {"TestCapacity"},
	"door-gap-stretch":        {"TestRecordedValues"},
	"wall-opening":            {"TestRecordedValues"},
	"fan-test-points":         {"TestFanTestPoints"},
	"cause-explained":         {"TestCauseExplained"},
	"air-changes":             {"TestAirChanges"},
	"containment-log":         {"TestContainmentLog"},
	"drying-trend":            {"TestDryingTrend"},
	"corrected-moisture":      {"TestTrades"},
	"party-separation":        {"TestPartySeparation"},
	"back-to-normal":          {"TestBackToNormal"},
	"days-between":            {"TestDaysBetween"},
	"slab-humidity":           {"TestTrades"},
	"foam-lifts":              {"TestFoamLifts"},
	"depth-summary":           {"TestDepthSummary"},
	"batt-grade":              {"TestTrades"},
	"circuit-ampacity":        {"TestTrades"},
	"circuit-insulation":      {"TestTrades"},
	"compound-drying":         {"TestCompoundDrying"},
	"glass-stress":            {"TestGlassStress"},
	"rack-line-load":          {"TestTrades"},
	"anchor-edge":             {"TestTrades"},
	"anchor-pulls":            {"TestTrades"},
	"retarder-side":           {"TestRetarderSide"},
	"retarder-permeance":      {"TestRetarderPermeance"},
	"condensation":            {"TestCondensation"},
	"concealed-humidity":      {"TestConcealedHumidity"},
	"close-up-moisture":       {"TestCloseUpMoisture"},
	"light-heat":              {"TestLightHeat"},
	"installed-transmittance": {"TestInstalledTransmittance"},
	"stress-surface":          {"TestStressSurface"},
	"predicted-duty":          {"TestPredictedDuty"},
	"predicted-pull-down":     {"TestPredictedPullDown"},
	"surface-dew-point":       {"TestSurfaceDewPoint"},
	"effective-resistance":    {"TestEffectiveResistance"},
	"installed-resistance":    {"TestInstalledResistance"},
	"voltage-drop":            {"TestVoltageDrop"},
	"nitrogen-test":           {"TestNitrogenTest"},
	"evacuation":              {"TestEvacuation"},
	"photos-complete":         {"TestPhotosComplete"},
	"rack-load":               {"TestRackLoad"},
	"pull-down":               {"TestPullDown"},
	"log-duration":            {"TestLogDuration"},
	"temperature-in-band":     {"TestTemperatureInBand"},
	"humidity-in-band":        {"TestHumidityInBand"},
	"mean-temperature":        {"TestMeanTemperature"},
	"spatial-spread":          {"TestSpatialSpread"},
	"logger-health":           {"TestLoggerHealth"},
	"short-cycling":           {"TestShortCycling"},
	"measured-conductance":    {"TestMeasuredConductance"},
	"will-it-hold":            {"TestWillItHold"},
	"suction-line":            {"TestSuctionLine"},
	"liquid-line":             {"TestLiquidLine"},
	"line-sweating":           {"TestLineSweating"},
	"added-charge":            {"TestAddedCharge"},
	"room-charge":             {"TestRoomCharge"},
	"superheat":               {"TestSuperheat"},
	"subcooling":              {"TestSubcooling"},
	"fan-pressurization":      {"TestFanPressurization"},
	"leak-rebuilt":            {"TestLeakRebuilt"},
}

func TestAll(t *testing.T) {
	tests := testFunctions(t)
	seen := map[string]bool{}
	for _, c := range All {
		if c.Name == "" || seen[c.Name] {
			t.Errorf("a check without a name, or two called %q", c.Name)
		}
		seen[c.Name] = true
		if ByName(c.Name) != c {
			t.Errorf("ByName(%q) finds another check", c.Name)
		}
		c.complete(t)
		if len(references[c.Name]) == 0 {
			t.Errorf("%s has no reference test", c.Name)
		}
		for _, name := range references[c.Name] {
			if !slices.Contains(tests, name) {
				t.Errorf("%s: there is no test %s", c.Name, name)
			}
		}
	}
	for name := range references {
		if !seen[name] {
			t.Errorf("a reference test for %s, which is no check", name)
		}
	}
	if ByName("no-such-check") != nil {
		t.Error("ByName finds a check that is not there")
	}
}

// complete reports what a check does not say about itself.
func (c *Check) complete(t *testing.T) {
	t.Helper()
	if c.Doc == "" || c.Source == "" || strings.Contains(c.Doc, "\n") {
		t.Errorf("%s: doc %q, source %q: both must be there, doc in one line", c.Name, c.Doc, c.Source)
	}
	if both := c.Each != nil && c.Whole != nil; both != (c.Computes != nil) || c.Each == nil && c.Whole == nil {
		t.Errorf("%s: exactly one of Each and Whole must be set, or both with what decides", c.Name)
	}
	if c.Result != "" && !c.Result.Known() {
		t.Errorf("%s: %q is not a kind of quantity", c.Name, c.Result)
	}
	ownRule := c.Decides != "" || len(c.Answers) > 0 || c.Rule != ""
	if (c.Result == "") != ownRule {
		t.Errorf("%s: it needs a result that a limit is compared with, or a rule of its own", c.Name)
	}
	if c.Each != nil && len(c.Needs) == 0 && !c.Log && !c.Spans && len(c.Answers) == 0 {
		t.Errorf("%s: its records carry nothing to compute from", c.Name)
	}
	if c.Each == nil && (len(c.Needs) > 0 || c.Log || c.Starts || c.Spans) {
		t.Errorf("%s: it computes from other facts and needs none of its own", c.Name)
	}
	for _, name := range c.Figures {
		room := cellar(t)
		room.Values[name] = "x"
		if room.FigureText(name) == "" {
			t.Errorf("%s computes with %q, which no job has", c.Name, name)
		}
	}
	names := map[string]bool{}
	for _, n := range c.Needs {
		if n.Name == "" || n.Doc == "" || !n.Kind.Known() || names[n.Name] || strings.Contains(n.Name, "=") {
			t.Errorf("%s: need %+v has no name, doc or kind, or stands twice", c.Name, n)
		}
		if q, err := units.Parse(n.Kind, n.Sample()); err != nil || !q.Known() {
			t.Errorf("%s: the example %q of %s is none: %v", c.Name, n.Sample(), n.Name, err)
		}
		names[n.Name] = true
	}
}

// testFunctions lists the names of the tests of this folder.
func testFunctions(t *testing.T) []string {
	t.Helper()
	files, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), f.Name(), nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range parsed.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && strings.HasPrefix(fn.Name.Name, "Test") {
				names = append(names, fn.Name.Name)
			}
		}
	}
	return names
}

// Each check is undecided, without a panic, when it is asked in an empty room
// with facts that say nothing, or with all of its values missing but one.
func TestChecksWithoutData(t *testing.T) {
	for _, c := range All {
		q := &Question{Phase: "a", Name: c.Name, Kind: Computed, Compute: c.Name, Measures: c.Result, Hold: "24 h", Before: "1978"}
		for _, room := range []*Room{{}, cellar(t)} {
			room.YearBuilt = 0
			wantVerdict(t, judge(room, q), Undecided, "")
			if c.Each != nil {
				wantVerdict(t, judge(room, q, fact("north wall")), Undecided, "missing")
			}
		}
	}
}

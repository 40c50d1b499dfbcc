package checks

import (
	"fmt"
	"testing"
	"time"

	"proveout/checks/units"
)

// paths is a job of the given year with the questions of the lead path.
func paths(t testing.TB, year int) (Case, *Question) {
	path := computing(LeadPath)
	path.Phase, path.Before, path.Safety = "assess", "1978", true
	finding := &Question{Phase: "assess", Name: "lead-determination", Kind: Inspection, By: []string{"lead inspector"}}
	c := Case{Question: path, Room: cellar(t), Now: noon, Facts: Facts{}, Decisions: Decisions{},
		Questions: map[string]*Question{path.ID(): path, finding.ID(): finding}}
	c.Room.YearBuilt = year
	return c, finding
}

// determination is what an inspector found, so many days ago.
func determination(place, answer string, days int) Fact {
	f := answered(place, answer)
	f.ID += answer
	f.Number, f.Roles, f.Measured = "L-7", []string{"lead inspector"}, noon.AddDate(0, 0, -days)
	return f
}

// 40 CFR 745 subpart E covers housing built before 1978 (745.83, target
// housing, from memory). A determination by an accepted person takes it out
// (745.82(a), from memory); its area does not.
func TestLeadPath(t *testing.T) {
	crew, early, unnumbered := determination("point 1", "pass", 1), determination("point 1", "pass", 1), determination("point 1", "pass", 1)
	crew.Roles, early.Measured, unnumbered.Number = []string{"crew lead"}, noon.Add(time.Hour), ""
	for _, tt := range []struct {
		name  string
		year  int
		found []Fact
		want  string // "" when undecided
	}{
		{"year unknown", 0, nil, ""},
		{"1978 is not before 1978", 1978, nil, "off"},
		{"1977", 1977, nil, "on"},
		{"a new house needs no finding", 2010, []Fact{determination("point 1", "fail", 1)}, "off"},
		{"found free of lead", 1930, []Fact{determination("point 1", "pass", 1)}, "off"},
		{"lead was found", 1930, []Fact{determination("point 1", "fail", 1)}, "on"},
		{"found free by the crew", 1930, []Fact{crew}, "on"},
		{"a finding dated tomorrow", 1930, []Fact{early}, "on"},
		{"a finding without a number", 1930, []Fact{unnumbered}, "on"},
		{"lead found later", 1930, []Fact{determination("point 1", "pass", 9), determination("point 1", "fail", 1)}, "on"},
		{"another test later", 1930, []Fact{determination("point 1", "fail", 9), determination("point 1", "pass", 1)}, "off"},
		{"free here, not there", 1930, []Fact{determination("door", "fail", 9), determination("wall", "pass", 1)}, "on"},
		{"two findings at one moment", 1930, []Fact{determination("point 1", "pass", 1), determination("point 1", "fail", 1)}, "on"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c, finding := paths(t, tt.year)
			c.Facts[finding.ID()] = tt.found
			v := Judge(c)
			if v.Decision != tt.want || (v.Outcome == Pass) != (tt.want != "") {
				t.Errorf("%v, lead %q (%s), want %q", v.Outcome, v.Decision, v.Value, tt.want)
			}
		})
	}
}

// The path stays on when the plan asks for no determination, asks for it in
// another way, or the crew chose to assume lead.
func TestLeadPathNeedsAnAskedInspection(t *testing.T) {
	for name, change := range map[string]func(*Case, *Question){
		"not in the plan":     func(c *Case, q *Question) { delete(c.Questions, q.ID()) },
		"no inspection":       func(_ *Case, q *Question) { q.Kind, q.Want = Observation, "pass" },
		"not asked any more":  func(c *Case, q *Question) { c.Decisions["assess.lead-method"] = "assume lead" },
		"the photo is absent": func(_ *Case, q *Question) { q.PhotoOne = true },
	} {
		c, finding := paths(t, 1930)
		finding.When = Condition{{Name: "assess.lead-method", Values: []string{"test for lead"}}}
		c.Facts[finding.ID()] = []Fact{determination("point 1", "pass", 1)}
		if v := Judge(c); v.Decision != "off" {
			t.Fatalf("lead %q before %s, want off", v.Decision, name)
		}
		change(&c, finding)
		if v := Judge(c); v.Decision != "on" {
			t.Errorf("%s: lead %q, want on", name, v.Decision)
		}
	}
}

// 29 CFR 1926.1101(b): presumed in buildings of no later than 1980, so before
// 1981 (from memory); Germany banned it on 31 October 1993, so before 1994.
func TestAsbestosPath(t *testing.T) {
	for _, tt := range []struct {
		before string
		year   int
		want   string
	}{
		{"1981", 1980, "on"}, {"1981", 1981, "off"}, {"1994", 1993, "on"}, {"1994", 1994, "off"},
		{"1981", 0, ""}, {"", 1930, ""}, {"soon", 1930, ""},
	} {
		q := computing(AsbestosPath)
		q.Before = tt.before
		room := cellar(t)
		room.YearBuilt = tt.year
		if v := judge(room, q); v.Decision != tt.want || (v.Outcome == Pass) != (tt.want != "") {
			t.Errorf("built %d, before %q: %v, asbestos %q, want %q", tt.year, tt.before, v.Outcome, v.Decision, tt.want)
		}
	}
}

// scheme is one with both kinds of bound, as EPA 402-K-01-001 table 2 prints
// them: below 10 ft², 10 to 100 ft², above 100 ft².
func scheme(t testing.TB) *Scheme {
	return &Scheme{Name: "epa", Title: "EPA", Tiers: []Tier{
		{Name: "small", Below: quantity(t, units.AreaKind, "10 ft²")},
		{Name: "medium", UpTo: quantity(t, units.AreaKind, "100 ft²")},
		{Name: "large"},
	}}
}

// molded is a room with patches of the given areas.
func molded(t testing.TB, s *Scheme, areas ...string) Case {
	t.Helper()
	tier := computing(MoldTier)
	tier.Phase = "assess"
	patch := &Question{Phase: "assess", Name: "mold-patch", Kind: Reading, Measures: units.AreaKind, RecordOnly: true, Sampling: Sampling{AtLeast: 1}}
	c := Case{Question: tier, Room: cellar(t), Now: noon, Facts: Facts{}, Questions: map[string]*Question{tier.ID(): tier, patch.ID(): patch}}
	c.Room.Scheme = s
	for i, a := range areas {
		f := fact(fmt.Sprintf("patch %d", i+1))
		f.Quantity = quantity(t, units.AreaKind, a)
		c.Facts[patch.ID()] = append(c.Facts[patch.ID()], f)
	}
	return c
}

// EPA 402-K-01-001 table 2 (read). 10 ft² are 0.92903 m², 100 ft² are 9.2903 m²
// (NIST SP 811).
func TestMoldTierEdges(t *testing.T) {
	largest := scheme(t)
	largest.LargestPatch = true
	for _, tt := range []struct {
		s     *Scheme
		areas []string
		want  string
	}{
		{scheme(t), []string{"0 ft²"}, "none"},
		{scheme(t), []string{"0.01 ft²"}, "small"},
		{scheme(t), []string{"9.99 ft²"}, "small"},
		{scheme(t), []string{"10 ft²"}, "medium"},
		{scheme(t), []string{"0.9290304 m²"}, "medium"},
		{scheme(t), []string{"0.929 m²"}, "small"},
		{scheme(t), []string{"100 ft²"}, "medium"},
		{scheme(t), []string{"9.290304 m²"}, "medium"},
		{scheme(t), []string{"100.1 ft²"}, "large"},
		{scheme(t), []string{"6 ft²", "4 ft²"}, "medium"},
		{largest, []string{"6 ft²", "4 ft²"}, "small"},
		{largest, []string{"6 ft²", "101 ft²"}, "large"},
	} {
		v := Judge(molded(t, tt.s, tt.areas...))
		if v.Outcome != Pass || v.Decision != tt.want || len(v.Facts) != len(tt.areas) {
			t.Errorf("%v: %v, %q (%s), want %q", tt.areas, v.Outcome, v.Decision, v.Value, tt.want)
		}
	}
}

// What is not complete sorts into no tier: an open tier keeps all checks on.
func TestMoldTierOpen(t *testing.T) {
	for name, change := range map[string]func(*Case){
		"no scheme":         func(c *Case) { c.Room.Scheme = nil },
		"no patch recorded": func(c *Case) { c.Facts = Facts{} },
		"no such check":     func(c *Case) { delete(c.Questions, "assess.mold-patch") },
		"photo missing":     func(c *Case) { c.Questions["assess.mold-patch"].PhotoEach = true },
		"no area":           func(c *Case) { c.Facts["assess.mold-patch"][0].Quantity = units.Quantity{} },
		"another quantity":  func(c *Case) { c.Facts["assess.mold-patch"][0].Quantity = quantity(t, units.LengthKind, "1 in") },
		"still to come":     func(c *Case) { c.Facts["assess.mold-patch"][0].Measured = noon.Add(time.Hour) },
		"twice at one place": func(c *Case) {
			f := c.Facts["assess.mold-patch"][0]
			c.Facts["assess.mold-patch"] = []Fact{f, f}
		},
	} {
		c := molded(t, scheme(t), "0 ft²")
		if v := Judge(c); v.Decision != "none" {
			t.Fatalf("tier %q before %s", v.Decision, name)
		}
		change(&c)
		if v := Judge(c); v.Outcome != Undecided || v.Decision != "" {
			t.Errorf("%s: %v, tier %q", name, v.Outcome, v.Decision)
		}
	}
}

// A condition on a name that nobody has decided holds: unknown keeps a check
// on, also behind "not".
func TestConditions(t *testing.T) {
	d := Decisions{"lead": "on", "region": "us-ny", "open": ""}
	for _, tt := range []struct {
		term Term
		want bool
	}{
		{Term{Name: "lead", Values: []string{"on"}}, true},
		{Term{Name: "lead", Values: []string{"off"}}, false},
		{Term{Name: "lead", Values: []string{"off", "on"}}, true},
		{Term{Name: "lead", Not: true, Values: []string{"on"}}, false},
		{Term{Name: "lead", Not: true, Values: []string{"off"}}, true},
		{Term{Name: "mold", Values: []string{"small"}}, true},
		{Term{Name: "mold", Not: true, Values: []string{"small"}}, true},
		{Term{Name: "open", Values: []string{"x"}}, true},
		{Term{Name: "region", Values: []string{"us"}}, true},
		{Term{Name: "region", Values: []string{"us-n"}}, false},
		{Term{Name: "region", Values: []string{"us-ny-city"}}, false},
		{Term{Name: "lead", Values: []string{"o"}}, false},
	} {
		if got := (Condition{tt.term}).Holds(d); got != tt.want {
			t.Errorf("%+v = %v, want %v", tt.term, got, tt.want)
		}
	}
	both := Condition{{Name: "lead", Values: []string{"on"}}, {Name: "region", Values: []string{"de"}}}
	if both.Holds(d) || !(Condition)(nil).Holds(d) {
		t.Error("one term that does not hold is enough, and no term holds")
	}
}

package phases

import (
	"maps"
	"slices"
	"strings"
	"sync"

	"proveout/checks"
	"proveout/phases/strict"
)

// Properties are the words job.yaml may use under properties:, with their
// values; conditions in phase files ask about them.
var Properties = map[string][]string{
	"services":          Services,
	"insulation":        {"foam", "batts", "board"},
	"retarder":          {"film", "foam"},
	"floor":             {"slab", "framed"},
	"finish":            {"painted", "unpainted"},
	"refrigerant class": {"A1", "A2L", "A3"},
	"unit":              {"split", "through-wall", "ducted"},
	"condenser":         {"outdoors", "attic", "garage", "indoors"},
	"drain":             {"gravity", "pump"},
	"permit":            {"yes", "no"},
	"collection":        {"in place", "none"},
}

// Services are the places where wires and lines may run; they select edges of
// the graph.
var Services = []string{"cavity", "service space", "surface"}

// conditionNames are the names that a condition may ask about, besides the
// choices of the plan, each with what it can be. A condition on a value that
// never comes would switch its check off for good.
var conditionNames = sync.OnceValue(func() map[string][]string {
	names := maps.Clone(Properties)
	_, names["region"] = RegionNamed("")
	names["lead"], names["asbestos"] = []string{"on", "off"}, []string{"on", "off"}
	names["mold"] = []string{"none"}
	for _, s := range allSchemes() {
		for _, t := range s.Tiers {
			names["mold"] = append(names["mold"], t.Name)
		}
	}
	return names
})

// readCondition reads the map under `when:`; a name that starts with "not "
// turns its term round.
func readCondition(m *strict.Map) checks.Condition {
	when, ok := m.OptionalMap("when")
	if !ok {
		return nil
	}
	var c checks.Condition
	for _, p := range when.Pairs() {
		name, not := strings.CutPrefix(p.Key, "not ")
		t := checks.Term{Name: name, Not: not, Values: p.Value.Texts()}
		checkTerm(t, p)
		c = append(c, t)
	}
	return c
}

// checkTerm reports a term that can never be decided. One that names a choice,
// phase.check, is looked at when the whole plan is there.
func checkTerm(t checks.Term, p strict.Pair) {
	if strings.Contains(t.Name, ".") {
		return
	}
	values, known := conditionNames()[t.Name]
	if !known {
		names := slices.Sorted(maps.Keys(conditionNames()))
		p.Fail("there is no condition %q%s", t.Name, didYouMean(t.Name, names))
		return
	}
	for _, v := range t.Values {
		if !slices.Contains(values, v) {
			p.Value.Fail("%s is never %q; write one of: %s", t.Name, v, strings.Join(values, ", "))
		}
	}
}

// unknownChoice says what is wrong with a condition that asks about choices of
// the plan, or "".
func (p *Plan) unknownChoice(c checks.Condition, questions map[string]*checks.Question) string {
	for _, t := range c {
		if !strings.Contains(t.Name, ".") {
			continue
		}
		q := questions[t.Name]
		if q == nil || !q.Decides() {
			return "condition " + t.Name + " is no choice that a phase asks for"
		}
		for _, v := range t.Values {
			if !slices.Contains(q.Options, v) {
				return "choice " + t.Name + " is never \"" + v + "\"; it is one of: " + strings.Join(q.Options, ", ")
			}
		}
	}
	return ""
}

package templates

import (
	"strings"

	"proveout/checks"
)

// hazard is what the job knows about lead, asbestos or mold, and what it asks
// for.
type hazard struct {
	Name, Path, Method, Finding, Needs string
	Plain                              string // one sentence for page one
	Source, Mark                       string
}

// hazards says where the lead, the asbestos and the mold path stand.
func (d Dossier) hazards() []hazard {
	all := []hazard{
		d.path("Lead paint", "assess.lead-path", "assess.lead-method", "assess.lead-determination", "lead"),
		d.path("Asbestos", "assess.asbestos-path", "assess.asbestos-method", "assess.asbestos-survey", "asbestos"),
		d.mold(),
	}
	return all
}

func (d Dossier) path(name, check, method, result, decides string) hazard {
	h := hazard{Name: name, Path: "not decided: the path is on", Method: "not decided"}
	if v := d.verdict(check); v != nil {
		h.Source, h.Mark = v.Source, v.Mark
		if v.Outcome == checks.Pass {
			h.Path = v.Value
		}
	} else {
		h.Path, h.Method = "this plan does not ask", ""
	}
	if r := d.answer(method); r != nil {
		h.Method = r.Shown()
	}
	if r := d.answer(result); r != nil {
		h.Finding = finding(r.Answer, r.Number, r.By)
	}
	_, why, _ := strings.Cut(h.Path, ": ") // "off: built 1994"
	switch d.Gate.Decisions[decides] {
	case "off":
		h.Plain = "not expected here (" + why + ")."
	case "on":
		h.Needs = "treat what is suspect as if it were so"
		h.Plain = "expected here (" + why + "). What is suspect is treated as if it were so."
	default:
		h.Needs = "treat what is suspect as if it were so"
		h.Plain = "not settled yet. Until it is, what is suspect is treated as if it were so."
	}
	return h
}

func finding(answer, number, by string) string { return answer + " " + number + ", " + by }

func (d Dossier) mold() hazard {
	h := hazard{Name: "Mold", Path: "no tier yet", Method: "no scheme is chosen", Plain: "not measured yet."}
	s := d.Room.Scheme
	if s == nil {
		return h
	}
	h.Method, h.Source, h.Mark = s.Title, s.Source, s.Mark
	v := d.verdict("assess.mold-tier")
	if v == nil || v.Outcome != checks.Pass {
		return h
	}
	h.Path = v.Value
	for _, t := range s.Tiers {
		if t.Name == v.Decision {
			h.Needs = t.Needs
		}
	}
	h.Plain = h.Path + ". " + capital(h.Needs) + "."
	if v.Decision == "none" {
		h.Plain = "none was found."
	}
	if r := d.answer("assess.s520-condition"); r != nil {
		h.Finding = r.Shown()
	}
	return h
}

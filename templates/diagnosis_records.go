package templates

import (
	"fmt"
	"slices"
	"strings"

	"proveout/checks"
	"proveout/checks/diagnosis"
	"proveout/checks/units"
)

// fromRecords is what the records and job.yaml lead to, as the diagnosis prints it.
type fromRecords struct {
	Summary    string
	Open       bool     // the records do not decide
	Sure       []string // page one: the numbers that speak loudest
	Waiting    []string // page one: what it costs to leave it
	Rebuild    []string // page one: what the plan changes, in numbers
	Signs      []sign
	Looked     string // signs that were looked for and not found
	Causes     []causeFound
	Wanted     []wantedReading
	Comparison []compared
	Unusable   []string
	Unknown    []string
	Loads      []Figure
	Sections   []Figure
	PullDown   Figure // of the room as planned
	Balances   []balance
	Walls      []wall
	Steps      []calculation
}

// sign is something wrong with the room and what explains it.
type sign struct{ Text, Explained string }

// causeFound is a cause with what speaks for and against it.
type causeFound struct {
	Title    string
	Named    bool
	Evidence []evidenceLine
}

type evidenceLine struct{ Way, Text, Source string }

// wantedReading is a reading that would decide.
type wantedReading struct{ What, Between, Why, How string }

// compared is a line of the room as found beside the room as planned.
type compared struct{ Name, Found, Planned, Margin, Limit string }

// balance is the heat that comes in at one time, and the room's means against it.
type balance struct {
	When   string
	Items  []loadItem
	Totals []fact
	Counts bool // everything could be counted
}

type loadItem struct{ Name, Basis, Sensible, Latent, Total, Source string }

// wall is what heat and vapor do in one face.
type wall struct{ Face, Transmittance, Surface, Plane, Wood, Mold, Found, Belongs, Verdict string }

// explained works out the diagnosis of the records; nil where the job is not
// described well enough for one, with the reason.
func (d Dossier) explained() (*fromRecords, string) {
	of, err := d.Gate.Diagnose()
	if err != nil {
		return nil, err.Error()
	}
	view := &fromRecords{
		Summary: capital(of.Summary), Open: of.Outcome == diagnosis.Undecided,
		Sure: sure(of.Report), Rebuild: rebuild(of.Report), Looked: joined(of.Looked),
		Causes: causesFound(of.Report), Comparison: comparison(of.Report), Unknown: of.Unknown,
	}
	for _, s := range of.Symptoms {
		view.Signs = append(view.Signs, signView(s))
	}
	for _, w := range of.Wanted {
		view.Wanted = append(view.Wanted, wantedReading{capital(w.Measurement.What()), joined(w.Between), w.Because, w.Measurement.How()})
	}
	for _, u := range of.Unusable {
		view.Unusable = append(view.Unusable, u.String())
	}
	for _, b := range []*diagnosis.Balance{of.Visit, of.Summer} {
		if b != nil {
			view.Balances = append(view.Balances, d.balance(b))
		}
	}
	for _, w := range of.Walls {
		view.Walls = append(view.Walls, d.wall(w, of.Visit))
	}
	for i, load := range LoadPictures(of) {
		view.Loads = append(view.Loads, newFigure([]string{"load-visit", "load-design"}[i%2], "", load))
	}
	view.Sections, view.PullDown = d.sections(of), d.predictedPullDown()
	if of.Waiting != nil {
		view.Waiting = of.Waiting.Sentences()
	}
	view.Steps = stepsOf(of)
	return view, ""
}

func joined[T ~string](words []T) string {
	plain := make([]string, len(words))
	for i, w := range words {
		plain[i] = string(w)
	}
	return strings.Join(plain, ", ")
}

// sure are the first two pieces of evidence for each cause named, four at most for
// a page that a homeowner reads.
func sure(r diagnosis.Report) []string {
	var all []string
	for _, f := range r.Causes {
		if !f.Named {
			continue
		}
		for i, e := range f.Own() {
			if i < 2 && len(all) < 4 {
				all = append(all, sentence(e.Text))
			}
		}
	}
	return all
}

// rebuild are the lines of the comparison that a homeowner asks about.
func rebuild(r diagnosis.Report) []string {
	words := map[string]string{
		"load of the design day":         "Heat that comes in on the hottest day",
		"air leaking in":                 "Air that leaks in",
		"duty on the design day":         "Share of the hottest day that the unit must run",
		"most humid plane inside a face": "Dampest place inside a wall",
		"humidity the room settles to":   "Humidity that the room settles to",
		"capacity on the design day":     "",
		"load at the visit's air":        "",
	}
	var all []string
	for _, l := range r.Comparison {
		if w := words[l.Name]; w != "" && l.Found.Known && l.Planned.Known {
			all = append(all, fmt.Sprintf("%s: %s as it is, %s as planned.", w, plainly(l.Found), plainly(l.Planned)))
		}
	}
	return all
}

// plainly prints a share without the digits that nobody reads.
func plainly(q diagnosis.Quantity) string {
	if q.Known && q.Kind == units.PercentKind {
		return fmt.Sprintf("%.0f %%", q.Base)
	}
	return q.Text
}

func signView(s diagnosis.Sign) sign {
	switch {
	case s.NoFault != "":
		return sign{s.Text, "no fault: " + s.NoFault}
	case !s.Explained:
		return sign{s.Text, "not explained yet"}
	}
	return sign{s.Text, joined(s.By)}
}

func causesFound(r diagnosis.Report) []causeFound {
	var all []causeFound
	for _, f := range r.Causes {
		c := causeFound{Named: f.Named, Title: "Not " + string(f.Cause)}
		switch {
		case len(f.For)+len(f.Against) == 0:
			continue
		case f.Named && f.Share > 0:
			c.Title = fmt.Sprintf("%s: certainty %s, %.0f %% of what the cooling falls short by", capital(string(f.Cause)), f.Certainty, float64(f.Share))
		case f.Named:
			c.Title = fmt.Sprintf("%s: certainty %s", capital(string(f.Cause)), f.Certainty)
		case f.Certainty == diagnosis.Low:
			c.Title = fmt.Sprintf("%s: possible, not decided", capital(string(f.Cause)))
		}
		for _, e := range f.For {
			c.Evidence = append(c.Evidence, evidenceLine{"for", e.Text, e.Source})
		}
		for _, e := range f.Against {
			c.Evidence = append(c.Evidence, evidenceLine{"against", e.Text, e.Source})
		}
		for _, m := range f.Decides {
			c.Evidence = append(c.Evidence, evidenceLine{"would decide", m.What(), m.How()})
		}
		all = append(all, c)
	}
	return all
}

func comparison(r diagnosis.Report) []compared {
	var all []compared
	for _, l := range r.Comparison {
		if !l.Found.Known && !l.Planned.Known {
			continue
		}
		c := compared{Name: l.Name, Found: l.Found.Text, Planned: l.Planned.Text, Limit: l.Limit}
		if l.Margin.Known {
			c.Margin = l.Margin.Text
		}
		all = append(all, c)
	}
	return all
}

func (d Dossier) computedValue(k units.Kind, v float64) string {
	return units.Of(k, v, d.Room.Units).String()
}

func (d Dossier) power(p units.Power) string { return d.computedValue(units.PowerKind, float64(p)) }

func (d Dossier) balance(b *diagnosis.Balance) balance {
	view := balance{When: b.When, Counts: b.Known}
	for _, i := range b.Found.Items {
		view.Items = append(view.Items, loadItem{i.Name, i.Basis, d.power(i.Sensible), d.power(i.Latent), d.power(i.Sensible + i.Latent), i.Source})
	}
	view.Items = append(view.Items, loadItem{Name: "together", Sensible: d.power(b.Found.Sensible), Latent: d.power(b.Found.Latent), Total: d.power(b.Found.Total())})
	view.Totals = []fact{{"The same room with sound faces and an ordinary leak", d.power(b.Ordinary.Total())}}
	if b.Rates {
		view.Totals = append(view.Totals,
			fact{"The unit with its heat led away", d.power(b.Rated)},
			fact{"The unit with the intake as read", d.power(b.Able)},
			fact{"The unit by its split", d.power(b.Given)})
	}
	for _, s := range b.Shares {
		if s.Known && s.Power > 0 {
			view.Totals = append(view.Totals, fact{"Accounted for by: " + string(s.Cause), d.power(s.Power)})
		}
	}
	return view
}

func (d Dossier) wall(w diagnosis.Wall, b *diagnosis.Balance) wall {
	view := wall{Face: w.Face, Verdict: w.Summary, Transmittance: d.transmittance(w.Face, b), Found: retarderFound[w.Found], Belongs: string(w.Side)}
	if w.Why != "" {
		view.Verdict = "not known: " + w.Why
	}
	if w.Surface.Humidity > 0 {
		view.Surface = d.plane(w.Surface)
	}
	if p := w.Worst; p.Humidity > 0 {
		view.Plane = fmt.Sprintf("%s: %s (%s)", p.Plane, d.plane(p), p.When)
		if p.Moisture > 0 {
			view.Wood = fmt.Sprintf("%.0f %%", float64(p.Moisture))
		}
		view.Mold = "does not grow"
		if p.MoldIn > 0 {
			view.Mold = fmt.Sprintf("seen after %.0f weeks", p.MoldIn.Hours()/24/7)
		}
	}
	return view
}

var retarderFound = map[diagnosis.RetarderFound]string{
	diagnosis.NoRetarder: "none", diagnosis.RetarderOnRoomSide: "room side", diagnosis.RetarderOnOtherSide: "other side", diagnosis.RetarderNotSeen: "not seen",
}

func (d Dossier) plane(p diagnosis.Plane) string {
	return d.computedValue(units.TemperatureKind, float64(p.Temperature)) + ", " + d.computedValue(units.HumidityKind, float64(p.Humidity))
}

// transmittance is that of a face in the load, by its conductance and area.
func (d Dossier) transmittance(name string, b *diagnosis.Balance) string {
	f := d.Room.Face(name)
	if b == nil || f == nil {
		return ""
	}
	for _, i := range b.Found.Items {
		if i.Name == name && i.Conductance > 0 {
			return d.computedValue(units.TransmittanceKind, float64(i.Conductance)/f.Area.Base())
		}
	}
	return ""
}

// stepsOf are the steps behind the diagnosis that no table above has.
func stepsOf(of checks.Diagnosis) []calculation {
	var balances []checks.Step
	for _, b := range []*diagnosis.Balance{of.Visit, of.Summer} {
		if b != nil {
			balances = append(balances, b.Steps...)
		}
	}
	rest := slices.DeleteFunc(slices.Clone(of.Steps), func(s checks.Step) bool { return slices.Contains(balances, s) })
	var all []calculation
	if len(rest) > 0 {
		all = append(all, calculation{Ask: "Unit, leaks, faces, loggers", Steps: rest})
	}
	if of.Waiting != nil {
		all = append(all, calculation{Ask: "Cost of leaving the room as it is", Steps: of.Waiting.Steps})
	}
	for _, w := range of.Walls {
		if len(w.Steps) == 0 {
			continue
		}
		i := slices.IndexFunc(all, func(c calculation) bool { return slices.Equal(c.Steps, w.Steps) })
		if i >= 0 {
			all[i].Place += ", " + w.Face
			continue
		}
		all = append(all, calculation{Ask: "Vapor", Place: w.Face, Steps: w.Steps})
	}
	return all
}

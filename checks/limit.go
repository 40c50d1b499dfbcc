package checks

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"proveout/checks/units"
)

// Limits are the bounds of a question; an unset bound does not apply.
type Limits struct {
	AtLeast, AtMost, Above, Below Bound
}

// Bound is one limit as the plan writes it: a quantity, a value of the job
// ("design depth", "set point + 1 K", "95 % of nominal voltage"), or one of
// these for each kind of face.
type Bound struct {
	Text   string
	Plain  units.Quantity
	Name   string         // a value of the job
	Share  float64        // percent of that value, 100 when not written
	Offset units.Quantity // added to that value
	Minus  bool
	ByFace map[string]Bound
}

// IsSet reports whether the plan gives this bound.
func (b Bound) IsSet() bool { return b.Text != "" || b.ByFace != nil }

// IsSet reports whether any bound is given.
func (l Limits) IsSet() bool {
	return l.AtLeast.IsSet() || l.AtMost.IsSet() || l.Above.IsSet() || l.Below.IsSet()
}

// Named is one bound of a Limits with the word the plan uses for it.
type Named struct {
	Word string
	Bound
}

// Bounds returns the bounds that are set, in reading order.
func (l Limits) Bounds() []Named {
	all := []Named{{"at least", l.AtLeast}, {"above", l.Above}, {"at most", l.AtMost}, {"below", l.Below}}
	return slices.DeleteFunc(all, func(n Named) bool { return !n.IsSet() })
}

// String prints the limits as the plan writes them.
func (l Limits) String() string {
	var parts []string
	for _, b := range l.Bounds() {
		parts = append(parts, b.Word+" "+b.Bound.String())
	}
	return strings.Join(parts, ", ")
}

func (b Bound) String() string {
	if b.ByFace == nil {
		return b.Text
	}
	var parts []string
	for _, kind := range slices.Sorted(maps.Keys(b.ByFace)) {
		parts = append(parts, kind+" "+b.ByFace[kind].Text)
	}
	return strings.Join(parts, ", ")
}

// JobValues are the values of job.yaml that a limit may name, besides any
// "data sheet …" figure, with what they measure.
var JobValues = map[string]units.Kind{
	"design depth":                units.LengthKind,
	"design resistance":           units.ThermalResistanceKind,
	"design installed resistance": units.ThermalResistanceKind,
	"design permeance":            units.PermeanceKind,
	"design transmittance":        units.TransmittanceKind,
	"set point":                   units.TemperatureKind,
	"low humidity":                units.HumidityKind,
	"high humidity":               units.HumidityKind,
	"pull-down limit":             units.DurationKind,
	"nominal voltage":             units.VoltageKind,
	"temperature band":            units.TemperatureDifferenceKind,
	"test pressure":               units.GaugePressureKind,
	"nameplate pressure":          units.GaugePressureKind,
	"minimum circuit ampacity":    units.CurrentKind,
	"maximum overcurrent":         units.CurrentKind,
}

// DataSheet begins the name of a product figure typed into job.yaml.
const DataSheet = "data sheet "

// ParseBound reads a limit of the given kind.
func ParseBound(kind units.Kind, text string) (Bound, error) {
	if b, ok := parseJobValue(kind, text); ok {
		return b, nil
	}
	q, err := units.Parse(kind, text)
	if err != nil {
		return Bound{}, err
	}
	return Bound{Text: text, Plain: q}, nil
}

func parseJobValue(kind units.Kind, text string) (Bound, bool) {
	b := Bound{Text: text, Share: 100}
	rest := text
	if share, of, ok := strings.Cut(rest, "% of "); ok {
		v, err := strconv.ParseFloat(strings.TrimSpace(share), 64)
		if err != nil {
			return Bound{}, false
		}
		b.Share, rest = v, of
	}
	for _, sign := range []string{" + ", " - ", " − "} {
		name, offset, ok := strings.Cut(rest, sign)
		if !ok {
			continue
		}
		q, err := units.Parse(differenceKind(kind), offset)
		if err != nil {
			return Bound{}, false
		}
		b.Offset, b.Minus, rest = q, sign != " + ", name
	}
	b.Name = strings.TrimSpace(rest)
	_, known := JobValues[b.Name]
	return b, known || strings.HasPrefix(b.Name, DataSheet)
}

func differenceKind(kind units.Kind) units.Kind {
	if kind == units.TemperatureKind {
		return units.TemperatureDifferenceKind
	}
	return kind
}

// Resolve returns the bound's quantity for a face (nil: not on a face). The
// error says what the job lacks.
func (b Bound) Resolve(kind units.Kind, room *Room, face *Face) (units.Quantity, error) {
	if b.ByFace != nil {
		return b.resolveByFace(kind, room, face)
	}
	if b.Name == "" {
		return b.plain()
	}
	q, err := jobValue(b.Name, kind, room, face)
	if err != nil || b.Share == 100 && !b.Offset.Known() {
		return q, err
	}
	base := q.Base() * b.Share / 100
	if b.Offset.Known() {
		step := b.Offset.Base()
		if b.Minus {
			step = -step
		}
		base += step
	}
	return units.Of(kind, base, room.Units), nil
}

// plain is the quantity written in the plan; no quantity is no limit, and
// nothing is within it.
func (b Bound) plain() (units.Quantity, error) {
	if !b.Plain.Known() {
		return units.Quantity{}, fmt.Errorf("the plan gives no such limit")
	}
	return b.Plain, nil
}

func (b Bound) resolveByFace(kind units.Kind, room *Room, face *Face) (units.Quantity, error) {
	if face == nil {
		return units.Quantity{}, fmt.Errorf("the limit depends on the face, and no face is named")
	}
	of, ok := b.ByFace[face.Kind]
	if !ok {
		return units.Quantity{}, fmt.Errorf("the plan has no limit for a %s", face.Kind)
	}
	return of.Resolve(kind, room, face)
}

func jobValue(name string, kind units.Kind, room *Room, face *Face) (units.Quantity, error) {
	if of, ok := strings.CutPrefix(name, "design "); ok && face != nil {
		if q := face.Design[of]; q.Known() {
			return q, nil
		}
		return units.Quantity{}, fmt.Errorf("job.yaml gives no %s for the %s", name, face.Name)
	}
	q, err := room.Value(name, kind)
	if err != nil {
		return units.Quantity{}, err
	}
	return q, nil
}

// Value returns a value of the job by the name limits use. The error says what
// the job lacks.
func (r *Room) Value(name string, kind units.Kind) (units.Quantity, error) {
	if q, ok := r.figure(name); ok {
		if q.Known() && q.Kind() == kind {
			return q, nil
		}
		return units.Quantity{}, fmt.Errorf("job.yaml gives no %q that is a %s", name, kind)
	}
	text, ok := r.Values[name]
	if !ok {
		return units.Quantity{}, fmt.Errorf("job.yaml gives no %q; add it to its values", name)
	}
	q, err := units.Parse(kind, text)
	if err != nil {
		return units.Quantity{}, fmt.Errorf("%q in job.yaml: %w", name, err)
	}
	return q, nil
}

// PullDownLoad names what stands in the room while it is pulled down.
const PullDownLoad = "pull-down load"

// FigureText is a figure of the job as it is written, "" when it is not.
func (r *Room) FigureText(name string) string {
	if q, ok := r.figure(name); ok {
		return q.Text
	}
	if name == PullDownLoad {
		return r.PullDownLoad
	}
	if text := r.partText(name); text != "" {
		return text
	}
	return r.Values[name]
}

// partText prints a whole part of job.yaml that checks compute with, "" where it
// is not given.
func (r *Room) partText(name string) string {
	switch {
	case name == "unit as found" && r.UnitAsFound != nil:
		return fmt.Sprint(*r.UnitAsFound)
	case name == "unit as planned" && r.UnitAsPlanned != nil:
		return fmt.Sprint(*r.UnitAsPlanned)
	case name == "outdoor months" && r.Months != nil:
		return fmt.Sprint(r.Months)
	case name == "use" && (r.Use.Doors != nil || r.Use.Appliances != nil || r.Use.People.Known() || r.Use.Restock.Bottles.Known() || r.Use.Water.Known()):
		return fmt.Sprint(r.Use)
	}
	return ""
}

func (r *Room) figure(name string) (units.Quantity, bool) {
	switch name {
	case "set point":
		return r.SetPoint, true
	case "low humidity":
		return r.LowHumidity, true
	case "high humidity":
		return r.HighHumidity, true
	case "pull-down limit":
		return r.PullDownLimit, true
	}
	return units.Quantity{}, false
}

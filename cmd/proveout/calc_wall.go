package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/checks/envelope"
	"proveout/checks/units"
	"proveout/jobs"
	"proveout/phases"
	"proveout/phases/strict"
)

var wallQuestion = &question{
	use:   "wall [FILE.yaml]",
	short: "Thermal resistance of a wall, ceiling or floor, and of its insulation alone",
	long: `The resistance of a whole assembly, air to air, by the combined method of ISO
6946, with the parallel path and the isothermal planes between which it lies, and
beside it the installed resistance of the insulation alone. The two are never the
same thing: framing takes its share of the first.

Layers go from the other side (the house) inwards to the room. Each --layer is a
material and, after commas, what is known of it: a thickness; a resistance (R-19)
or a permeance (0.06 perm, sd 20 m) from the data sheet; "insulation" for the layer
whose depth is measured;
"framing 25 %", or "framing 25 % of MATERIAL", for what shares its plane.

A file holds the same as job.yaml: kind, other side, and as planned with layers.
Without --depth the insulation counts as thick as planned.

With humidities on both sides the vapor of a year is balanced, too: what condenses
and dries again month by month, and the dampest plane inside. The other side has
its air all year, or a summer and a winter of six months each, or, in a file, twelve
months:

  other side: outdoors
  room temp: 13 °C
  room rh: 60 %
  months:
    - {month: January, temperature: 25 °F, humidity: 72 %}
    - …`,
	example: `  proveout calc wall --layer "gypsum board, 1/2 in" --layer "closed-cell spray foam, 3 in, insulation, framing 25 %" --layer "gypsum board, 1/2 in"
  proveout calc wall --kind ceiling --other attic --other-temp 120F --layer "closed-cell spray foam, 5 in, insulation, framing 10 %" --layer "gypsum board, 5/8 in" --depth "4 3/4 in"
  proveout calc wall wall.yaml --explain
  proveout calc wall wall.yaml --other-temp 79F --other-rh 70% --room-rh 60%`,
	inputs: []input{
		{flag: "other-temp", kind: units.TemperatureKind, doc: "temperature on the other side", otherwise: "24 °C"},
		{flag: "room-temp", kind: units.TemperatureKind, doc: "temperature of the room", otherwise: "13 °C"},
		{flag: "depth", kind: units.LengthKind, doc: "depth of the insulation as measured, at its thinnest", optional: true},
		{flag: "at-least", kind: units.ThermalResistanceKind, doc: "resistance wanted of the whole assembly", optional: true},
		{flag: "other-rh", kind: units.HumidityKind, doc: "humidity on the other side, in summer or all year; with --room-rh the year's vapor is balanced", optional: true},
		{flag: "room-rh", kind: units.HumidityKind, doc: "humidity of the room", optional: true},
		{flag: "winter-temp", kind: units.TemperatureKind, doc: "temperature on the other side in winter", optional: true},
		{flag: "winter-rh", kind: units.HumidityKind, doc: "humidity on the other side in winter", optional: true},
	},
	files: "values",
	flags: func(c *cobra.Command) {
		c.Flags().StringArray("layer", nil, "a layer, from the other side inwards; may be given again")
		c.Flags().String("kind", "wall", "wall, ceiling, floor, door or glass")
		c.Flags().String("other", "house", "what is on the other side: "+strings.Join(phases.OtherSides, ", "))
	},
	answer: wallAnswer,
}

// wall is an assembly to compute, with the names of its insulation.
type wall struct {
	kind, other string
	assembly    envelope.Assembly
	insulation  []string
	months      []envelope.Month // beyond the wall, by the file; the room is missing in them
}

func wallAnswer(a *asking) (*answer, error) {
	w, err := a.wall()
	if err != nil {
		return nil, err
	}
	other, room := a.values["other-temp"].Temperature(), a.values["room-temp"].Temperature()
	films, err := envelope.SurfaceResistances(envelope.Face{Kind: envelope.FaceKind(w.kind), Other: envelope.OtherSide(w.other)}, other, room)
	if err != nil {
		return nil, err
	}
	r := &answer{Of: fmt.Sprintf("A %s to the %s, heat flow %s", w.kind, w.other, films.Direction)}
	built, err := w.built(a, films)
	if err != nil {
		return nil, w.onlyLimits(a, films, err)
	}
	whole := built.Whole
	r.add("whole assembly, combined method", a.of(units.ThermalResistanceKind, float64(whole.Total)))
	r.add("parallel path", a.of(units.ThermalResistanceKind, float64(whole.Upper)))
	r.below("whole assembly")
	r.add("isothermal planes", a.of(units.ThermalResistanceKind, float64(whole.Lower)))
	r.below("whole assembly")
	r.add("greatest error of the method", a.of(units.PercentKind, float64(whole.ErrorBound)))
	r.below("whole assembly")
	r.add("transmittance U", a.of(units.TransmittanceKind, float64(whole.Transmittance)))
	if w.insulation != nil {
		r.add("installed insulation alone", a.of(units.ThermalResistanceKind, float64(built.Installed)))
		r.note("The installed figure leaves framing and surfaces out; it is what is printed on a batt, not what the wall does.")
	}
	for _, l := range built.Layers {
		for _, n := range l.Notes {
			r.note("%s: %s", l.Name, n)
		}
	}
	r.Steps = built.Steps
	if limit, ok := a.values["at-least"]; ok {
		got := a.of(units.ThermalResistanceKind, float64(whole.Total))
		r.judge(units.AtLeast(got, limit), "whole assembly "+got.String()+", wanted at least "+limit.String())
	}
	return r, a.addYear(r, w, built.Assembly)
}

// built puts the measured or planned depth into the assembly.
func (w wall) built(a *asking, films envelope.Films) (envelope.AsBuilt, error) {
	depth, measured := a.values["depth"]
	if w.insulation == nil && measured {
		return envelope.AsBuilt{}, &usageError{"--depth needs to know which layer it is of: write \"insulation\" behind that layer"}
	}
	var depths []envelope.Measurement
	for _, l := range w.assembly.Layers {
		if !slices.Contains(w.insulation, l.Name) {
			continue
		}
		m := envelope.Measurement{Layer: l.Name, Depth: l.Thickness}
		if measured && len(depths) == 0 {
			m.Depth = depth.Length()
		}
		depths = append(depths, m)
	}
	if depths == nil {
		whole, err := w.assembly.Resistance(films)
		return envelope.AsBuilt{Whole: whole, Assembly: w.assembly, Steps: whole.Steps}, err
	}
	return w.assembly.AsBuilt(films, depths...)
}

// onlyLimits adds the two limits to the reason why there is no number.
func (w wall) onlyLimits(a *asking, films envelope.Films, err error) error {
	upper, upperErr := w.assembly.ParallelPath(films)
	lower, lowerErr := w.assembly.IsothermalPlanes(films)
	if upperErr != nil || lowerErr != nil {
		return err
	}
	return fmt.Errorf("%w\nparallel path gives %s, isothermal planes %s", err, a.of(units.ThermalResistanceKind, float64(upper)), a.of(units.ThermalResistanceKind, float64(lower)))
}

// wall reads the layers from flags or from a file.
func (a *asking) wall() (wall, error) {
	texts, err := a.c.Flags().GetStringArray("layer")
	if err != nil {
		return wall{}, err
	}
	w := wall{}
	w.kind, _ = a.c.Flags().GetString("kind") // the flags are this command's own
	w.other, _ = a.c.Flags().GetString("other")
	var layers []checks.Layer
	switch {
	case len(texts) > 0 && len(a.files) > 0:
		return w, &usageError{"give the layers in the file or as --layer, not both"}
	case a.doc != nil:
		layers, err = w.read(a.doc)
	case len(texts) == 0:
		return w, &usageError{"no layer is given: --layer \"gypsum board, 1/2 in\", from the other side inwards, or a file\nsee: proveout calc wall --help"}
	default:
		layers, err = readLayers(texts)
	}
	if err != nil {
		return w, err
	}
	for _, l := range layers {
		a.takeSystem(l.Thickness)
		a.takeSystem(l.Resistance)
	}
	return w, w.assemble(layers)
}

// read takes kind, other side, layers and the months outdoors from a file.
func (w *wall) read(doc *strict.Document) ([]checks.Layer, error) {
	m := doc.Map()
	if kind := m.OptionalText("kind"); kind != "" {
		w.kind = kind
	}
	if other := m.OptionalText("other side"); other != "" {
		w.other = other
	}
	layers := jobs.ReadLayers(m, "as planned")
	w.readMonths(m)
	return layers, doc.Err()
}

func (w *wall) assemble(layers []checks.Layer) error {
	for i, l := range layers {
		layer, err := l.Envelope()
		if err != nil {
			return fmt.Errorf("layer %d: %w", i+1, err)
		}
		if l.Resistance.Known() {
			layer.Source = "as given"
		}
		w.assembly.Layers = append(w.assembly.Layers, layer)
		if l.Insulation {
			w.insulation = append(w.insulation, layer.Name)
		}
	}
	return nil
}

// readLayers reads layers as they are typed, and reports all that is wrong.
func readLayers(texts []string) ([]checks.Layer, error) {
	var layers []checks.Layer
	var problems []string
	for _, text := range texts {
		l, err := readLayer(text)
		if err != nil {
			problems = append(problems, fmt.Sprintf("--layer %q: %v", text, err))
			continue
		}
		layers = append(layers, l)
	}
	if problems != nil {
		return nil, &usageError{strings.Join(problems, "\n")}
	}
	return layers, nil
}

// readLayer reads "material, 5 in, insulation, framing 25 %". A material's own
// name may have commas: the rest begins at the first part that can be one.
func readLayer(text string) (checks.Layer, error) {
	parts := strings.Split(text, ",")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	n := 1
	for n < len(parts) && !isProperty(parts[n]) {
		n++
	}
	l := checks.Layer{Material: strings.Join(parts[:n], ", ")}
	for _, part := range parts[n:] {
		if err := setProperty(&l, part); err != nil {
			return l, err
		}
	}
	return l, nil
}

func isProperty(part string) bool {
	return part == "insulation" || strings.HasPrefix(part, "framing") || isResistance(part) || isPermeance(part) ||
		strings.IndexAny(part, "0123456789") == 0
}

func isResistance(part string) bool {
	return strings.HasPrefix(part, "R-") || strings.HasPrefix(part, "RSI")
}

func isPermeance(part string) bool {
	return strings.HasPrefix(part, "sd ") || strings.HasSuffix(part, " perm") || strings.HasSuffix(part, "perms")
}

func setProperty(l *checks.Layer, part string) (err error) {
	switch framing, isFraming := strings.CutPrefix(part, "framing"); {
	case part == "insulation":
		l.Insulation = true
	case isFraming:
		share, material, _ := strings.Cut(framing, " of ")
		l.FramingMaterial = strings.TrimSpace(material)
		l.Framing, err = units.Parse(units.PercentKind, strings.TrimSpace(share))
	case isPermeance(part):
		l.Permeance, err = units.Parse(units.PermeanceKind, part)
	case isResistance(part):
		l.Resistance, err = units.Parse(units.ThermalResistanceKind, part)
	default:
		l.Thickness, err = units.Parse(units.LengthKind, part)
	}
	return err
}

var retarderQuestion = &question{
	use:   "retarder",
	short: "On which side of the insulation a vapor retarder belongs",
	long: `Compares the vapor pressures on both sides over a summer and a winter of six
months each. Rules written for heated houses do not tell: in a cooled room the
vapor mostly comes from the house. Without winter values the summer's hold all
year.`,
	example: `  proveout calc retarder --other-temp 75F --other-rh 50%
  proveout calc retarder --other-temp 90F --other-rh 60% --winter-temp 20F --winter-rh 70% --explain`,
	inputs: []input{
		{flag: "other-temp", kind: units.TemperatureKind, doc: "temperature on the other side, in summer or all year"},
		{flag: "other-rh", kind: units.HumidityKind, doc: "humidity on the other side, in summer or all year"},
		{flag: "winter-temp", kind: units.TemperatureKind, doc: "temperature on the other side in winter", optional: true},
		{flag: "winter-rh", kind: units.HumidityKind, doc: "humidity on the other side in winter", optional: true},
		{flag: "room-temp", kind: units.TemperatureKind, doc: "temperature of the room", otherwise: "13 °C"},
		{flag: "room-rh", kind: units.HumidityKind, doc: "humidity of the room", otherwise: "70 % RH"},
	},
	answer: retarderAnswer,
}

func retarderAnswer(a *asking) (*answer, error) {
	months, err := a.seasons()
	if err != nil {
		return nil, err
	}
	advice, err := envelope.RetarderSide(months)
	if err != nil {
		return nil, err
	}
	r := &answer{Steps: advice.Steps}
	r.addText("side of the insulation", string(advice.Side))
	r.addText("pull into the room", fmt.Sprintf("%.0f Pa·day a year", advice.InwardPull))
	r.addText("pull out of the room", fmt.Sprintf("%.0f Pa·day a year", advice.OutwardPull))
	r.note("%s", advice.Advice)
	return r, nil
}

// seasons are six months of summer and six of winter on both sides.
func (a *asking) seasons() ([]envelope.Month, error) {
	room, err := a.envelopeAir("room-temp", "room-rh")
	if err != nil {
		return nil, err
	}
	_, temp := a.values["winter-temp"]
	_, rh := a.values["winter-rh"]
	if temp != rh {
		return nil, &usageError{"winter needs both: --winter-temp and --winter-rh"}
	}
	flags := [][2]string{{"other-temp", "other-rh"}, {"winter-temp", "winter-rh"}}
	if !temp {
		other, err := a.envelopeAir("other-temp", "other-rh")
		return envelope.SteadyYear(other, room), err
	}
	var months []envelope.Month
	for i, season := range []string{"summer", "winter"} {
		other, err := a.envelopeAir(flags[i][0], flags[i][1])
		if err != nil {
			return nil, err
		}
		for _, m := range envelope.SteadyYear(other, room)[:6] {
			m.Name = season
			months = append(months, m)
		}
	}
	return months, nil
}

func (a *asking) envelopeAir(temp, rh string) (envelope.Air, error) {
	return envelope.AirAt(a.values[temp].Temperature(), a.values[rh].RelativeHumidity())
}

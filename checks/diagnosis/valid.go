package diagnosis

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// within returns an error unless lo ≤ x ≤ hi, which no NaN is.
func within(name string, x, lo, hi float64, unit string) error {
	if x >= lo && x <= hi {
		return nil
	}
	return fmt.Errorf("%s %q is outside %g to %g %s; read or enter it again", name, fmt.Sprintf("%g %s", x, unit), lo, hi, unit)
}

// taken is within for a reading that may be missing.
func taken[T ~float64 | ~int64](name string, r Reading[T], lo, hi float64, unit string) error {
	if !r.Taken {
		return nil
	}
	return within(name, float64(r.Value), lo, hi, unit)
}

// valid reports everything in the description that cannot be.
func (r Room) valid() error {
	errs := []error{
		within("set point", float64(r.Set), 0, 25, "°C"),
		within("volume", float64(r.Volume), 1, 1000, "m³"),
		within("height", float64(r.Height), 1, 6, "m"),
		within("altitude", float64(r.Altitude), -500, 5000, "m"),
		within("least humidity", float64(r.Band.Low), 0, float64(r.Band.High), "% RH"),
		within("greatest humidity", float64(r.Band.High), 1, 100, "% RH"),
		within("water set free inside", float64(r.Use.Water), 0, 100, "kg/day"),
	}
	errs = append(errs, validFaces("as found", r.Faces), r.Unit.valid(), r.Readings.valid())
	for _, side := range slices.Sorted(maps.Keys(r.Design)) {
		errs = append(errs, r.Design[side].valid("design day, "+string(side)))
	}
	for _, side := range slices.Sorted(maps.Keys(r.Year)) {
		if n := len(r.Year[side]); n != 12 {
			errs = append(errs, fmt.Errorf("year of %q has %d months; give 12 monthly means", side, n))
		}
		for _, air := range r.Year[side] {
			errs = append(errs, air.valid("year, "+string(side)))
		}
	}
	if r.Planned != nil {
		errs = append(errs, r.Planned.valid())
	}
	return errors.Join(errs...)
}

func (p Plan) valid() error {
	errs := []error{
		validFaces("as planned", p.Faces),
		within("planned air change", p.AirChange, 0, 20, "1/h"),
		taken("planned intake", p.Intake, -40, 80, "°C"),
	}
	if p.Unit != nil {
		errs = append(errs, p.Unit.valid())
	}
	return errors.Join(errs...)
}

func (a Air) valid(name string) error {
	return errors.Join(
		within(name+": temperature", float64(a.Temperature), -40, 80, "°C"),
		within(name+": humidity", float64(a.Humidity), 0, 100, "% RH"),
	)
}

func validFaces(which string, faces []Face) error {
	var errs []error
	seen := map[string]bool{}
	for _, f := range faces {
		if f.Name == "" || seen[f.Name] {
			errs = append(errs, fmt.Errorf("faces %s: %q is no name of its own; name each face once", which, f.Name))
		}
		seen[f.Name] = true
		if err := f.valid(); err != nil {
			errs = append(errs, fmt.Errorf("face %q %s: %w", f.Name, which, err))
		}
	}
	return errors.Join(errs...)
}

func (f Face) valid() error {
	// The envelope package knows the kinds and sides; 20 and 13 °C are any.
	_, err := envelope.SurfaceResistances(envelope.Face{Kind: f.Kind, Other: f.Side}, 20, 13)
	errs := []error{
		err,
		within("area", float64(f.Area), 0.01, 500, "m²"),
		within("transmittance", float64(f.Transmittance), 0, 10, "W/(m²·K)"),
		within("sun allowance", float64(f.Sun), 0, 40, "K"),
	}
	for _, s := range f.OtherSurface {
		errs = append(errs, within("surface "+s.Place, float64(s.Value), -40, 80, "°C"))
	}
	for _, s := range f.Moisture {
		errs = append(errs, within("moisture "+s.Place, float64(s.Value), 0, 200, "%"))
	}
	return errors.Join(errs...)
}

func (u Unit) valid() error {
	errs := []error{
		taken("split of the data sheet", u.Sheet.Split, 1, 30, "K"),
		taken("intake limit", u.IntakeLimit, 20, 80, "°C"),
	}
	if u.CoilDifference != 0 {
		errs = append(errs, within("coil difference", float64(u.CoilDifference), 2, 20, "K"))
	}
	if u.Sheet.Split.Taken {
		errs = append(errs, u.Sheet.Room.valid("data sheet, room"), within("data sheet, outdoors", float64(u.Sheet.Outdoor), -20, 60, "°C"))
	}
	return errors.Join(errs...)
}

func (r Readings) valid() error {
	errs := []error{
		taken("control offset", r.ControlOffset, -20, 20, "K"),
		taken("condenser intake", r.Intake, -40, 80, "°C"),
		taken("hottest intake", r.Hottest, -40, 90, "°C"),
		taken("duty", r.Duty, 0, 100, "%"),
		taken("starts", r.Starts, 0, 600, "1/h"),
		taken("condensate", r.Condensate, 0, 200, "kg/day"),
		taken("pressure, fans off", r.FansOff, -500, 500, "Pa"),
		taken("pressure, fans on", r.FansOn, -500, 500, "Pa"),
	}
	if r.Run.Taken && r.Run.Value <= 0 {
		errs = append(errs, fmt.Errorf("run of %v; read it again", r.Run.Value))
	}
	if r.WarmUp.Taken && r.WarmUp.Value <= 0 {
		errs = append(errs, fmt.Errorf("warm-up time constant of %v; read it again", r.WarmUp.Value))
	}
	for _, s := range r.Split {
		errs = append(errs, within("split", float64(s), -5, 60, "K"))
	}
	errs = append(errs, r.validAir(), r.validHoles())
	if r.Log != nil {
		errs = append(errs, r.Log.valid())
	}
	return errors.Join(errs...)
}

func (r Readings) validAir() error {
	var errs []error
	for _, a := range r.Air {
		errs = append(errs, taken("room temperature "+a.Place, a.Temperature, -20, 45, "°C"), taken("room humidity "+a.Place, a.Humidity, 0, 100, "% RH"))
	}
	for _, side := range slices.Sorted(maps.Keys(r.Sides)) {
		a := r.Sides[side]
		errs = append(errs, taken("temperature, "+string(side), a.Temperature, -40, 80, "°C"), taken("humidity, "+string(side), a.Humidity, 0, 100, "% RH"))
	}
	return errors.Join(errs...)
}

func (r Readings) validHoles() error {
	var errs []error
	for _, g := range r.Gaps {
		errs = append(errs,
			within("length of gap "+g.Stretch, float64(g.Length), 0.01, 10, "m"),
			within("width of gap "+g.Stretch, float64(g.Width), 0, 0.1, "m"),
			within("height of gap "+g.Stretch, float64(g.Height), 0, 4, "m"))
	}
	for _, o := range r.Openings {
		errs = append(errs, within("opening "+o.Name, float64(o.Area), 1e-6, 1, "m²"), within("height of opening "+o.Name, float64(o.Height), 0, 3, "m"))
	}
	for _, m := range r.Mold {
		errs = append(errs, within("mold "+m.Place, float64(m.Area), 0, 1000, "m²"))
	}
	return errors.Join(errs...)
}

// mean returns the mean of values; it is not taken when there are none.
func mean[T ~float64](values []T) Reading[T] {
	if len(values) == 0 {
		return Reading[T]{}
	}
	sum := 0.0
	for _, v := range values {
		sum += float64(v)
	}
	return Read(T(sum / float64(len(values))))
}

// positive returns x, or 0 when it is negative.
func positive(x units.Power) units.Power { return units.Power(math.Max(0, float64(x))) }

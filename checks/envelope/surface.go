package envelope

import (
	"fmt"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// SurfaceState is what the air on the warm side makes of a surface.
type SurfaceState struct {
	Temperature units.Temperature
	Humidity    units.RelativeHumidity // at the surface; above 100 it is wet
	DewPoint    units.Temperature
	Margin      units.TemperatureDifference // surface over dew point
	Wet         bool                        // at or below the dew point
	AtRisk      bool                        // above the critical 80 %
	Steps       []Step
}

const surfaceSource = "ISO 13788:2012, clause 5 and Annex E (clause number from memory)"

// TemperatureFactor returns f = (θ_s − θ_cold)/(θ_warm − θ_cold) of a surface on
// the warm side, ISO 13788:2012, 5.2 (from memory). For a cooled room the warm
// side is the house. The two airs must differ by 1 K at least.
func TemperatureFactor(surface, warm, cold units.Temperature) (float64, error) {
	if err := plausible(surface, warm, cold); err != nil {
		return 0, err
	}
	if warm.Sub(cold) < 1 {
		return 0, fmt.Errorf("%v °C on the warm side is not 1 K above %v °C on the cold side; a factor needs a difference", float64(warm), float64(cold))
	}
	return float64(surface.Sub(cold)) / float64(warm.Sub(cold)), nil
}

// SurfaceIn returns the state of a surface of temperature t in the given air.
func SurfaceIn(air Air, t units.Temperature) (SurfaceState, error) {
	if err := air.check("warm side"); err != nil {
		return SurfaceState{}, err
	}
	rh, err := air.humidityAt(t)
	if err != nil {
		return SurfaceState{}, err
	}
	dew, err := air.DewPoint()
	if err != nil {
		return SurfaceState{}, err
	}
	s := SurfaceState{Temperature: t, Humidity: rh, DewPoint: dew, Margin: t.Sub(dew), Wet: rh >= 100*(1-slack), AtRisk: rh > CriticalHumidity*(1+slack)}
	s.Steps = []Step{
		{Name: "dew point of the air", Formula: fmt.Sprintf("θ of psat = %.1f Pa", float64(air.VaporPressure)), Value: fmt.Sprintf("%.2f °C", float64(dew)), Source: surfaceSource},
		{Name: "humidity at the surface", Formula: fmt.Sprintf("φ = p/psat(%.2f °C)", float64(t)), Value: fmt.Sprintf("%.1f %%, at most 80 %% as a monthly mean", float64(rh)), Source: surfaceSource},
	}
	return s, nil
}

// WarmSurface returns the state of the warm-side surface of a face of
// transmittance u: θ_s = θ_warm − U Rs (θ_warm − θ_cold). Both u and rs must
// rest on the same films. For mold on opaque parts ISO 13788 takes rs 0.25
// m²·K/W, for glass and frames 0.13 (from memory).
func WarmSurface(u units.Transmittance, rs units.ThermalResistance, warm Air, cold units.Temperature) (SurfaceState, error) {
	if err := plausible(cold); err != nil {
		return SurfaceState{}, err
	}
	if !(u > 0 && rs > 0 && rs <= 0.5 && float64(u)*float64(rs) <= 1) {
		return SurfaceState{}, fmt.Errorf("transmittance %v W/(m²·K) with a surface resistance of %v m²·K/W is not possible; compute U with the same films", float64(u), float64(rs))
	}
	drop := units.TemperatureDifference(float64(u) * float64(rs) * float64(warm.Temperature.Sub(cold)))
	s, err := SurfaceIn(warm, warm.Temperature.Add(-drop))
	if err != nil {
		return SurfaceState{}, err
	}
	step := Step{Name: "surface temperature", Formula: fmt.Sprintf("θs = θ − U Rs Δθ = %.2f − %.4f × %.3f × %.2f", float64(warm.Temperature), float64(u), float64(rs), float64(warm.Temperature.Sub(cold))),
		Value: fmt.Sprintf("%.2f °C", float64(s.Temperature)), Source: surfaceSource}
	s.Steps = append([]Step{step}, s.Steps...)
	return s, nil
}

// PredictSurface returns the state of a surface whose temperature factor was
// measured, in other conditions: the stress case at commissioning.
func PredictSurface(factor float64, warm Air, cold units.Temperature) (SurfaceState, error) {
	if err := plausible(cold); err != nil {
		return SurfaceState{}, err
	}
	if !(factor >= -1 && factor <= 2) {
		return SurfaceState{}, fmt.Errorf("temperature factor %v is outside −1 to 2; measure surface and both airs again", factor)
	}
	rise := units.TemperatureDifference(factor * float64(warm.Temperature.Sub(cold)))
	s, err := SurfaceIn(warm, cold.Add(rise))
	if err != nil {
		return SurfaceState{}, err
	}
	step := Step{Name: "surface temperature", Formula: fmt.Sprintf("θs = θcold + f Δθ = %.2f + %.5f × %.2f", float64(cold), factor, float64(warm.Temperature.Sub(cold))),
		Value: fmt.Sprintf("%.2f °C", float64(s.Temperature)), Source: surfaceSource}
	s.Steps = append([]Step{step}, s.Steps...)
	return s, nil
}

// LeastSurfaceTemperature returns the surface temperature at which the air
// reaches a relative humidity there: 100 % is the dew point, 80 % the mold
// criterion.
func LeastSurfaceTemperature(air Air, limit units.RelativeHumidity) (units.Temperature, error) {
	if err := air.check("warm side"); err != nil {
		return 0, err
	}
	if !(limit > 0 && limit <= 100) {
		return 0, fmt.Errorf("limit of %v %% RH is outside 0 to 100", float64(limit))
	}
	return humidair.ISOSaturationTemperature(air.VaporPressure / units.Pressure(limit.Fraction()))
}

// LeastTemperatureFactor returns the temperature factor below which a surface on
// the warm side exceeds the humidity. It is negative when even a surface as cold
// as the cold side stays below.
func LeastTemperatureFactor(warm Air, cold units.Temperature, limit units.RelativeHumidity) (float64, error) {
	least, err := LeastSurfaceTemperature(warm, limit)
	if err != nil {
		return 0, err
	}
	return TemperatureFactor(least, warm.Temperature, cold)
}

// GreatestTransmittance returns the transmittance above which the warm-side
// surface exceeds a relative humidity: U = (θ_warm − θ_least)/(Rs Δθ), with Rs
// one of the films in U. It is an error when the air itself is at or above the
// limit: no insulation helps then.
func GreatestTransmittance(warm Air, cold units.Temperature, rs units.ThermalResistance, limit units.RelativeHumidity) (units.Transmittance, error) {
	f, err := LeastTemperatureFactor(warm, cold, limit)
	if err != nil {
		return 0, err
	}
	if !(rs > 0 && rs <= 0.5) {
		return 0, fmt.Errorf("surface resistance %v m²·K/W is outside 0 to 0.5; 0.13 is usual", float64(rs))
	}
	if f >= 1 {
		return 0, fmt.Errorf("the air on the warm side is itself above %v %% RH; dry the air, insulation cannot help", float64(limit))
	}
	return units.Transmittance((1 - f) / float64(rs)), nil
}

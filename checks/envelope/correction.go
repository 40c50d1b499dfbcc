package envelope

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// GapLevel grades air gaps in an insulation layer (ISO 6946:2017 annex F, from
// memory).
type GapLevel int

const (
	// NoGaps: no gaps, or gaps that do not matter.
	NoGaps GapLevel = iota
	// GapsBridging: gaps go through the insulation, no air circulates.
	GapsBridging
	// GapsCirculating: gaps through the insulation and air circulating on its
	// warm side.
	GapsCirculating
)

// Fasteners are metal screws or ties through an insulation layer.
type Fasteners struct {
	Conductivity units.Conductivity // of the fastener; below 1 W/(m·K) no correction is due
	Section      units.Area         // of one fastener
	PerArea      float64            // fasteners a square metre
	Insulation   units.Length       // d0, thickness of the insulation
	Penetration  units.Length       // d1, length inside the insulation; 0 means all of it
}

// Correction is what may be added to a transmittance after ISO 6946:2017
// annex F (from memory). The part for rain on inverted roofs is left out.
type Correction struct {
	// Insulation is R1, the resistance of the layer with the gaps or the
	// fasteners: AssemblyResistance.Plane gives it.
	Insulation units.ThermalResistance
	Gaps       GapLevel
	Fasteners  Fasteners
}

// CorrectedTransmittance is U with its corrections.
type CorrectedTransmittance struct {
	Gaps      units.Transmittance // ΔU_g
	Fasteners units.Transmittance // ΔU_f
	// Applied is false when the corrections together stay below 3 % of U and
	// may be left out.
	Applied       bool
	Transmittance units.Transmittance // U_c
	Steps         []Step
}

const correctionSource = "ISO 6946:2017 annex F (from memory)"

// Corrected adds the corrections for gaps and fasteners to the transmittance.
// For fasteners the assembly must have been computed without thermal bridging
// by them. Corrections below 3 % of U are not applied.
func (r AssemblyResistance) Corrected(c Correction) (CorrectedTransmittance, error) {
	if !(c.Insulation > 0 && c.Insulation < r.Total) {
		return CorrectedTransmittance{}, fmt.Errorf("insulation of %v m²·K/W does not lie between 0 and the whole assembly's %s; take it from the layer concerned", float64(c.Insulation), showR(r.Total))
	}
	if c.Gaps < NoGaps || c.Gaps > GapsCirculating {
		return CorrectedTransmittance{}, fmt.Errorf("gap level %d is unknown; write 0, 1 or 2", int(c.Gaps))
	}
	fasteners, err := c.Fasteners.perArea()
	if err != nil {
		return CorrectedTransmittance{}, err
	}
	share := float64(c.Insulation / r.Total)
	level := [3]float64{0, 0.01, 0.04}[c.Gaps]
	u := CorrectedTransmittance{
		Gaps:          units.Transmittance(level * share * share),
		Fasteners:     units.Transmittance(fasteners * share * share),
		Transmittance: r.Transmittance,
	}
	sum := u.Gaps + u.Fasteners
	u.Applied = sum >= 0.03*r.Transmittance
	if u.Applied {
		u.Transmittance += sum
	}
	u.Steps = u.steps(level, fasteners, share)
	return u, nil
}

// perArea is α λ_f A_f n_f / d0, W/(m²·K).
func (f Fasteners) perArea() (float64, error) {
	if f == (Fasteners{}) {
		return 0, nil
	}
	if !(f.Conductivity > 0 && f.Conductivity <= 500 && f.Section > 0 && f.Section <= 0.01 && f.PerArea > 0 && f.PerArea <= 1000) {
		return 0, errors.New("fasteners need a conductivity up to 500 W/(m·K), a section up to 100 cm² and a number up to 1000 a square metre")
	}
	depth := f.Penetration
	if depth == 0 {
		depth = f.Insulation
	}
	if !(f.Insulation > 0 && depth > 0 && depth <= f.Insulation) {
		return 0, fmt.Errorf("fasteners go %v m into insulation of %v m; give both, the insulation at least as much", float64(depth), float64(f.Insulation))
	}
	if f.Conductivity < 1 {
		return 0, nil
	}
	alpha := 0.8 * float64(depth/f.Insulation)
	return alpha * float64(f.Conductivity) * float64(f.Section) * f.PerArea / float64(f.Insulation), nil
}

func (u CorrectedTransmittance) steps(level, fasteners, share float64) []Step {
	verdict := "below 3 % of U, not applied"
	if u.Applied {
		verdict = "at least 3 % of U, applied"
	}
	return []Step{
		{Name: "correction for gaps", Formula: fmt.Sprintf("ΔUg = ΔU'' (R1/RT)² = %.2f × %.4f²", level, share), Value: showU(u.Gaps), Source: correctionSource},
		{Name: "correction for fasteners", Formula: fmt.Sprintf("ΔUf = α λf Af nf/d0 (R1/RT)² = %.5f × %.4f²", fasteners, share), Value: showU(u.Fasteners), Source: correctionSource},
		{Name: "corrected transmittance", Formula: "Uc = U + ΔUg + ΔUf; " + verdict, Value: showU(u.Transmittance), Source: correctionSource},
	}
}

package humidair

import (
	"fmt"

	"proveout/checks/units"
)

// A Salt names a saturated solution that keeps the air above it at a known
// relative humidity, for checking hygrometers.
type Salt int

const (
	LithiumChloride    Salt = iota + 1 // LiCl, about 11 %
	MagnesiumChloride                  // MgCl2, about 33 %
	PotassiumCarbonate                 // K2CO3, about 43 %
	SodiumChloride                     // NaCl, table salt, about 75 %
	PotassiumChloride                  // KCl, about 86 %
	PotassiumSulfate                   // K2SO4, about 98 %
)

// Salts lists all of them, driest first.
var Salts = []Salt{LithiumChloride, MagnesiumChloride, PotassiumCarbonate,
	SodiumChloride, PotassiumChloride, PotassiumSulfate}

// A saltCurve is φ = a0 + a1·t + a2·t² + a3·t³ in %, with t in °C, from 0 °C.
type saltCurve struct {
	name           string
	a0, a1, a2, a3 float64
	hottest        float64
}

// Greenspan 1977, J. Res. NBS 81A, 89, adopted by OIML R 121. Coefficients read
// in copies, but for the sign of a1 of LiCl and K2CO3, which those have
// negative: only the positive one gives the paper's own Table 2 (from memory)
// and the 11.3 % and 43.2 % at 25 °C of ASTM E104. Upper temperatures from
// memory.
var saltCurves = [...]saltCurve{
	LithiumChloride:    {"lithium chloride", 11.2323, 0.00824245, -0.214890e-3, 0, 100},
	MagnesiumChloride:  {"magnesium chloride", 33.6686, -0.00797397, -0.108988e-2, 0, 100},
	PotassiumCarbonate: {"potassium carbonate", 43.1315, 0.00147523, 0, 0, 30},
	SodiumChloride:     {"sodium chloride", 75.5164, 0.0398321, -0.265459e-2, 0.2848e-4, 80},
	PotassiumChloride:  {"potassium chloride", 88.6190, -0.193340, 0.899706e-3, 0, 90},
	PotassiumSulfate:   {"potassium sulfate", 98.7792, -0.0590502, 0, 0, 50},
}

func (s Salt) known() bool { return s >= LithiumChloride && s <= PotassiumSulfate }

func (s Salt) String() string {
	if !s.known() {
		return "unknown salt"
	}
	return saltCurves[s].name
}

// SaltHumidity returns the relative humidity in equilibrium with a saturated
// solution of s at t, from 0 °C up to 30 (K2CO3), 50 (K2SO4), 80 (NaCl), 90
// (KCl) or 100 °C. The paper's uncertainty is 0.1 to 1.1 % RH (from memory); a
// badly made solution may be several percent off.
func SaltHumidity(s Salt, t units.Temperature) (units.RelativeHumidity, error) {
	if !s.known() {
		return 0, fmt.Errorf("salt number %d is unknown: take one of Salts", int(s))
	}
	c := &saltCurves[s]
	if !(t >= 0 && float64(t) <= c.hottest) {
		return 0, &RangeError{"temperature", float64(t), 0, c.hottest, "°C", "Greenspan 1977, " + c.name}
	}
	θ := float64(t)
	return units.RelativeHumidity(c.a0 + θ*(c.a1+θ*(c.a2+θ*c.a3))), nil
}

package envelope

import "proveout/checks/units"

// Exact by definition: international inch and foot, IT Btu. The perm is the
// rounded one that package units reads, 1 grain/(h·ft²·inHg) with mercury at
// 0 °C (NIST SP 811, 2008, appendix B.8).
const (
	metersPerInch    = 0.0254
	squareFoot       = 0.3048 * 0.3048 // m²
	joulesPerBtu     = 1055.05585262   // J
	hour             = 3600.0          // s
	fahrenheitDegree = 5.0 / 9         // K
	resistancePerIP  = hour * squareFoot * fahrenheitDegree / joulesPerBtu
	permeancePerPerm = 5.72135e-11 // kg/(s·m²·Pa)
)

// RValue returns r in h·ft²·°F/Btu, the number after "R-".
func RValue(r units.ThermalResistance) float64 { return float64(r) / resistancePerIP }

// ResistanceFromRValue returns the resistance of a number after "R-", given in
// h·ft²·°F/Btu.
func ResistanceFromRValue(r float64) units.ThermalResistance {
	return units.ThermalResistance(r * resistancePerIP)
}

// IPTransmittance returns u in Btu/(h·ft²·°F).
func IPTransmittance(u units.Transmittance) float64 { return float64(u) * resistancePerIP }

// TransmittanceFromIP returns the transmittance of u given in Btu/(h·ft²·°F).
func TransmittanceFromIP(u float64) units.Transmittance {
	return units.Transmittance(u / resistancePerIP)
}

// IPConductivity returns k in Btu·in/(h·ft²·°F).
func IPConductivity(k units.Conductivity) float64 {
	return float64(k) * resistancePerIP / metersPerInch
}

// ConductivityFromIP returns the conductivity of k given in Btu·in/(h·ft²·°F).
func ConductivityFromIP(k float64) units.Conductivity {
	return units.Conductivity(k * metersPerInch / resistancePerIP)
}

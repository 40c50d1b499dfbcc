package envelope_test

import (
	"testing"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// What package units reads in IP and in SI lands on the same layer: a half inch
// of board, an R-13 batt and a retarder of 0.3 perm, entered both ways. SI
// figures from the exact definitions, with 25 digits.
func TestEnteredEitherWay(t *testing.T) {
	read := func(kind units.Kind, text string) float64 {
		t.Helper()
		q, err := units.Parse(kind, text)
		if err != nil {
			t.Fatal(err)
		}
		return q.Base()
	}
	for _, tt := range []struct {
		kind   units.Kind
		ip, si string
		here   float64 // the same through this package
	}{
		{units.LengthKind, "1/2 in", "12.7 mm", 0.0127},
		{units.ThermalResistanceKind, "R-13", "2.289432387869975929502370 m²·K/W", float64(envelope.ResistanceFromRValue(13))},
		{units.PermeanceKind, "0.3 perm", "sd 11.65226155831519950128321 m", float64(envelope.PermeanceFromPerms(0.3))},
		{units.TransmittanceKind, "0.05 Btu/(h·ft²·°F)", "0.2839131670556744170557 W/(m²·K)", float64(envelope.TransmittanceFromIP(0.05))},
	} {
		ip, si := read(tt.kind, tt.ip), read(tt.kind, tt.si)
		if !near(ip, si, 1e-9*si) || !near(ip, tt.here, 1e-9*tt.here) {
			t.Errorf("%s is read as %v, %s as %v, and is %v here", tt.ip, ip, tt.si, si, tt.here)
		}
	}
}

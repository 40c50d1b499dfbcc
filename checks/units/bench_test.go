package units

import "testing"

func BenchmarkParse(b *testing.B) {
	for _, bm := range []struct {
		kind Kind
		text string
	}{
		{TemperatureKind, "54.9 °F"},
		{LengthKind, "5 1/2 in"},
		{LengthKind, "12 ft 6 in"},
		{ThermalResistanceKind, "R-19"},
		{PressureKind, "−0.02 in. w.c."},
		{HumidityKind, "60 % RH"},
		{TransmittanceKind, "0.05 Btu/(h·ft²·°F)"},
		{CountKind, "240 bottles"},
	} {
		b.Run(bm.text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Parse(bm.kind, bm.text); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkUnderstood(b *testing.B) {
	q, err := Parse(LengthKind, "140 mm")
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if q.Understood(US) == "" {
			b.Fatal("nothing printed")
		}
	}
}

// BenchmarkLookup measures what the first value of a process pays for the
// tables.
func BenchmarkLookup(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		for _, f := range families {
			f.enterSpellings()
		}
	}
}

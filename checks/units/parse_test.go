package units

import "testing"

// accepted lists what people write, with the number and the unit it must be read
// as.
var accepted = []struct {
	kind   Kind
	text   string
	value  float64
	symbol string
}{
	{TemperatureKind, "55 °F", 55, "°F"}, {TemperatureKind, "55F", 55, "°F"}, {TemperatureKind, "55 f", 55, "°F"},
	{TemperatureKind, "55 degF", 55, "°F"}, {TemperatureKind, "55 deg F", 55, "°F"}, {TemperatureKind, "55 deg. F", 55, "°F"},
	{TemperatureKind, "55º F", 55, "°F"}, {TemperatureKind, "55 ℉", 55, "°F"}, {TemperatureKind, "55 degrees Fahrenheit", 55, "°F"},
	{TemperatureKind, "12.8 °C", 12.8, "°C"}, {TemperatureKind, "12,8 °C", 12.8, "°C"}, {TemperatureKind, "+12.8°c", 12.8, "°C"},
	{TemperatureKind, "−5 °C", -5, "°C"}, {TemperatureKind, "–5 °C", -5, "°C"}, {TemperatureKind, "-.5 °C", -0.5, "°C"},
	{TemperatureKind, "286 K", 286, "K"}, {TemperatureKind, "-0 °C", 0, "°C"}, {TemperatureKind, "55\u00a0°F", 55, "°F"},
	{TemperatureDifferenceKind, "10 °F", 10, "°F"}, {TemperatureDifferenceKind, "10 F°", 10, "°F"}, {TemperatureDifferenceKind, "5 K", 5, "K"},

	{LengthKind, "3/8 in", 0.375, "in"}, {LengthKind, "5 1/2 in", 5.5, "in"}, {LengthKind, "5½ in", 5.5, "in"},
	{LengthKind, "5 ½ in", 5.5, "in"}, {LengthKind, "½\"", 0.5, "in"}, {LengthKind, `1-1/8"`, 1.125, "in"},
	{LengthKind, "1 1⁄8″", 1.125, "in"}, {LengthKind, "5.5 in.", 5.5, "in"}, {LengthKind, "5.5in", 5.5, "in"},
	{LengthKind, "12/8 in", 1.5, "in"}, {LengthKind, ".5 INCHES", 0.5, "in"}, {LengthKind, "5.5”", 5.5, "in"},
	{LengthKind, "12 ft 6 in", 150, "in"}, {LengthKind, `12'6"`, 150, "in"}, {LengthKind, "12′ 6″", 150, "in"},
	{LengthKind, `12'-6 1/2"`, 150.5, "in"}, {LengthKind, "12 ft. 6 in.", 150, "in"}, {LengthKind, "12 ft", 12, "ft"},
	{LengthKind, "8'", 8, "ft"}, {LengthKind, "6 mil", 6, "mil"}, {LengthKind, "6-mil", 6, "mil"}, {LengthKind, "500 micron", 500, "µm"},
	{LengthKind, "500 µm", 500, "µm"}, {LengthKind, "500 μm", 500, "µm"}, {LengthKind, "140 mm", 140, "mm"},
	{LengthKind, "140 MM", 140, "mm"}, {LengthKind, "2 m 40 cm", 240, "cm"}, {LengthKind, "2.4 m", 2.4, "m"},
	{AreaKind, "120 sq ft", 120, "ft²"}, {AreaKind, "120 sq. ft.", 120, "ft²"}, {AreaKind, "11 m^2", 11, "m²"}, {AreaKind, "11 m2", 11, "m²"},
	{VolumeKind, "28 m³", 28, "m³"}, {VolumeKind, "1000 cu ft", 1000, "ft³"}, {VolumeKind, "750 mL", 750, "mL"},
	{MassKind, "2 lb 3 oz", 35, "oz"}, {MassKind, "1.3 kg", 1.3, "kg"}, {MassKind, "10 lbs.", 10, "lb"},
	{DurationKind, "24 h", 24, "h"}, {DurationKind, "1 h 30 min", 90, "min"}, {DurationKind, "1h30m", 90, "min"},
	{DurationKind, "90 min", 90, "min"}, {DurationKind, "3 days", 3, "day"}, {DurationKind, "2 days 6 h", 54, "h"}, {DurationKind, "24-hour", 24, "h"},

	{PressureKind, "0.02 in. w.c.", 0.02, "in. w.c."}, {PressureKind, "−0.02 in. w.c.", -0.02, "in. w.c."},
	{PressureKind, "-0.02 in wc", -0.02, "in. w.c."}, {PressureKind, "-0.02 inH2O", -0.02, "in. w.c."}, {PressureKind, "-0.02 in. H₂O", -0.02, "in. w.c."},
	{PressureKind, `-0.02" w.c.`, -0.02, "in. w.c."}, {PressureKind, "-0.02 inches of water", -0.02, "in. w.c."},
	{PressureKind, "60 Pa", 60, "Pa"}, {PressureKind, "101.325 kPa", 101.325, "kPa"}, {PressureKind, "29.92 in. Hg", 29.92, "inHg"},
	{GaugePressureKind, "300 psig", 300, "psig"}, {GaugePressureKind, "300 PSI", 300, "psi"}, {GaugePressureKind, "28 barg", 28, "barg"},
	{GaugePressureKind, "2.5 MPa", 2.5, "MPa"}, {GaugePressureKind, "-14.6 psig", -14.6, "psig"}, {GaugePressureKind, "2000 kPa", 2000, "kPa"},
	{VacuumKind, "500 micron", 500, "micron"}, {VacuumKind, "500 microns", 500, "micron"}, {VacuumKind, "500 µm Hg", 500, "micron"},
	{VacuumKind, "500 mTorr", 500, "mTorr"}, {VacuumKind, "66.7 Pa", 66.7, "Pa"}, {VacuumKind, "0.5 torr", 0.5, "Torr"},
	{AreaLoadKind, "40 psf", 40, "psf"}, {AreaLoadKind, "257 kg/m²", 257, "kg/m²"}, {AreaLoadKind, "2.0 kN/m2", 2, "kN/m²"}, {AreaLoadKind, "40 lb per sq ft", 40, "psf"},
	{LineLoadKind, "350 kg/m", 350, "kg/m"}, {LineLoadKind, "235 plf", 235, "lb/ft"},
	{TorqueKind, "15 in-lb", 15, "in·lb"}, {TorqueKind, "15 N·m", 15, "N·m"}, {TorqueKind, "15 Nm", 15, "N·m"}, {TorqueKind, "20 ft·lbf", 20, "ft·lb"},

	{HumidityKind, "60 % RH", 60, "% RH"}, {HumidityKind, "60%", 60, "% RH"}, {HumidityKind, "60 %rh", 60, "% RH"},
	{HumidityKind, "RH 60 %", 60, "% RH"}, {HumidityKind, "60 percent", 60, "% RH"}, {HumidityKind, "0 % RH", 0, "% RH"}, {HumidityKind, "100 % r.h.", 100, "% RH"},
	{MoistureContentKind, "15 %", 15, "% MC"}, {MoistureContentKind, "15% MC", 15, "% MC"}, {PercentKind, "3 %", 3, "%"}, {PercentKind, "2.42 pct", 2.42, "%"},
	{SlopeKind, "2 %", 2, "%"}, {SlopeKind, "1/8 in/ft", 0.125, "in/ft"}, {SlopeKind, "1/4 in per ft", 0.25, "in/ft"},
	{SlopeKind, `1/4"/ft`, 0.25, "in/ft"}, {SlopeKind, "10 mm/m", 10, "mm/m"}, {SlopeKind, "1:100", 1, "%"}, {SlopeKind, "1 in 100", 1, "%"},
	{CountKind, "12", 12, ""}, {CountKind, "240 bottles", 240, "bottles"}, {CountKind, "12 wood screws", 12, "wood screws"}, {CountKind, "0", 0, ""},

	{ThermalResistanceKind, "R-19", 19, "R"}, {ThermalResistanceKind, "R 19", 19, "R"}, {ThermalResistanceKind, "R19", 19, "R"},
	{ThermalResistanceKind, "r-19", 19, "R"}, {ThermalResistanceKind, "R–19", 19, "R"}, {ThermalResistanceKind, "R-value 19", 19, "R"},
	{ThermalResistanceKind, "RSI 3.3", 3.3, "RSI"}, {ThermalResistanceKind, "RSI-3,3", 3.3, "RSI"},
	{ThermalResistanceKind, "3.3 m²K/W", 3.3, "m²·K/W"}, {ThermalResistanceKind, "3.3 m2 K / W", 3.3, "m²·K/W"}, {ThermalResistanceKind, "R = 3.3 m²·K/W", 3.3, "m²·K/W"},
	{ThermalResistanceKind, "19 h·ft²·°F/Btu", 19, "h·ft²·°F/Btu"}, {ThermalResistanceKind, "19 hr*ft^2*degF/BTU", 19, "h·ft²·°F/Btu"},
	{TransmittanceKind, "0.3 W/m²K", 0.3, "W/(m²·K)"}, {TransmittanceKind, "U 0.3 W/(m²·K)", 0.3, "W/(m²·K)"}, {TransmittanceKind, "0.05 Btu/h·ft²·°F", 0.05, "Btu/(h·ft²·°F)"},
	{ConductivityKind, "0.035 W/mK", 0.035, "W/(m·K)"}, {ConductivityKind, "0.24 Btu·in/h·ft²·°F", 0.24, "Btu·in/(h·ft²·°F)"},
	{PermeanceKind, "0.06 perm", 0.06, "perm"}, {PermeanceKind, "0.06 perms", 0.06, "perm"}, {PermeanceKind, "57 ng", 57, "ng/(s·m²·Pa)"},
	{PermeanceKind, "57 ng/(s·m²·Pa)", 57, "ng/(s·m²·Pa)"}, {PermeanceKind, "57 ng/Pa·s·m²", 57, "ng/(s·m²·Pa)"},
	{PermeanceKind, "5.7e-11 kg/(s·m²·Pa)", 5.7e-11, "kg/(s·m²·Pa)"}, {PermeanceKind, "sd 34 m", 34, "sd m"}, {PermeanceKind, "sd=34m", 34, "sd m"},
	{AirflowKind, "100 CFM", 100, "cfm"}, {AirflowKind, "170 m³/h", 170, "m³/h"}, {AirflowKind, "50 l/s", 50, "L/s"},
	{AirChangeKind, "0.5 ACH", 0.5, "ACH"}, {AirChangeKind, "0.5 /h", 0.5, "ACH"}, {AirChangeKind, "0.5 1/h", 0.5, "ACH"}, {AirChangeKind, "0.5 per hour", 0.5, "ACH"},
	{MassRateKind, "10 kg/day", 10, "kg/day"}, {MassRateKind, "2 qt per day", 2, "qt/day"}, {MassRateKind, "0.9 L/24 h", 0.9, "L/day"},
	{PowerKind, "4000 BTU/hr", 4000, "Btu/h"}, {PowerKind, "2 tons of refrigeration", 2, "ton"}, {PowerKind, "1.2 kW", 1.2, "kW"},
	{EnergyKind, "12 kWh", 12, "kWh"}, {EnergyKind, "5 MJ", 5, "MJ"}, {HeatFluxKind, "4.4 W/m²", 4.4, "W/m²"},
	{VoltageKind, "120 VAC", 120, "V"}, {CurrentKind, "12 amps", 12, "A"}, {CurrentKind, "5 mA", 5, "mA"},
	{ResistanceKind, "500 MΩ", 500, "MΩ"}, {ResistanceKind, "500 mΩ", 500, "mΩ"}, {ResistanceKind, "1 megohm", 1, "MΩ"},
	{ResistanceKind, "0.2 Ω", 0.2, "Ω"}, {ResistanceKind, "0.2 ohm", 0.2, "Ω"}, {ResistanceKind, "5 kohm", 5, "kΩ"},
	{LinearResistanceKind, "1.93 Ω/kft", 1.93, "Ω/kft"}, {LinearResistanceKind, "1.93 ohms per 1000 ft", 1.93, "Ω/kft"}, {LinearResistanceKind, "18.1 Ω/km", 18.1, "Ω/km"},
	{WireSizeKind, "12 AWG", 12, "AWG"}, {WireSizeKind, "AWG 12", 12, "AWG"}, {WireSizeKind, "#12", 12, "AWG"}, {WireSizeKind, "12-gauge", 12, "AWG"},
	{WireSizeKind, "4/0 AWG", -3, "AWG"}, {WireSizeKind, "AWG 1/0", 0, "AWG"}, {WireSizeKind, "2.5 mm²", 2.5, "mm²"}, {WireSizeKind, "2.5 sq. mm", 2.5, "mm²"},
	{SpeedKind, "100 fpm", 100, "fpm"}, {SpeedKind, "0.5 m/s", 0.5, "m/s"}, {DensityKind, "2 lb/ft³", 2, "lb/ft³"}, {DensityKind, "32 kg/m3", 32, "kg/m³"},
}

func TestParse(t *testing.T) {
	for _, tt := range accepted {
		q, err := Parse(tt.kind, " "+tt.text+" ")
		if err != nil {
			t.Errorf("Parse(%s, %q): %v", tt.kind, tt.text, err)
			continue
		}
		if q.Value != tt.value || q.Unit.Symbol != tt.symbol || q.Kind() != tt.kind || q.Text != tt.text || !q.Known() {
			t.Errorf("Parse(%s, %q) = %v %q (%q), want %v %q", tt.kind, tt.text, q.Value, q.Unit.Symbol, q.Text, tt.value, tt.symbol)
		}
	}
}

// TestEveryKindIsRead holds that each kind has a unit in the list above and that
// its examples are read.
func TestEveryKindIsRead(t *testing.T) {
	read := map[Kind]bool{}
	for _, tt := range accepted {
		read[tt.kind] = true
	}
	for _, f := range families {
		if !read[f.kind] || !f.kind.Known() || f.kind.BaseUnit() == "" {
			t.Errorf("%s: not in the list of accepted writings, or without a base unit", f.kind)
		}
		parse(t, f.kind, f.us)
		if f.si != "" {
			parse(t, f.kind, f.si)
		}
	}
	if Kind("heat").Known() || Kind("heat").Example() != "" || Kind("").Known() {
		t.Error("an unknown kind is known")
	}
}

// TestSpellings holds that each spelling in the tables names its own unit, so
// that no two units of a kind share one.
func TestSpellings(t *testing.T) {
	for _, f := range families {
		for i := range f.units {
			m := &f.units[i]
			for _, name := range names(m) {
				s, ok := f.find(name)
				if !ok || s.unit != m {
					t.Errorf("%s: %q does not name %q", f.kind, name, m.symbol)
				}
			}
		}
	}
}

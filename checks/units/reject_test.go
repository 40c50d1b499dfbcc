package units

import (
	"strings"
	"testing"
)

// rejected lists texts that must not become a value, with the whole message.
var rejected = []struct {
	kind    Kind
	text    string
	message string
}{
	{"length", "", `"" is empty; write it as 5 1/2 in or 140 mm`},
	{"length", "5.5", `"5.5" has no unit; write it as 5.5 in or 140 mm`},
	{"length", "140", `"140" has no unit; write it as 140 mm or 5.51 in`},
	{"length", "5 1/2", `"5 1/2" has no unit; write it as 5 1/2 in or 140 mm`},
	{"length", "-5", `"-5" has no unit; write it as 5 1/2 in or 140 mm`},
	{"length", "5.5 inc", `"5.5 inc" has the unknown unit "inc"; did you mean in? length is written in in, ft, mil, yd, mile, mm, cm, m, km or µm`},
	{"length", "5.5 foo", `"5.5 foo" has the unknown unit "foo"; did you mean ft? length is written in in, ft, mil, yd, mile, mm, cm, m, km or µm`},
	{"length", "5.5 psi", `"5.5 psi" measures pressure or gauge pressure, not length; write it as 5 1/2 in or 140 mm`},
	{"length", "5.5 mm²", `"5.5 mm²" measures area or wire size, not length; write it as 5 1/2 in or 140 mm`},
	{"length", "-5 in", `"-5 in" is below 0, the least for length; check the sign and the unit`},
	{"length", "1,234 mm", `"1,234 mm" could mean 1.234 or 1234; write it without the comma`},
	{"length", "1,234.5 mm", `"1,234.5 mm" has more than one point or comma; write it with one decimal point and no other separator`},
	{"length", "1.234,5 mm", `"1.234,5 mm" has more than one point or comma; write it with one decimal point and no other separator`},
	{"length", "1,234,567 mm", `"1,234,567 mm" has more than one point or comma; write it with one decimal point and no other separator`},
	{"length", "1 234 mm", `"1 234 mm" is not a number with a unit; write it as 5 1/2 in or 140 mm`},
	{"length", "1'234 mm", `"1'234 mm" cannot have mm after ft; write it as 5 1/2 in or 140 mm`},
	{"length", "1_000 mm", `"1_000 mm" is not one number with one unit; write it as 5 1/2 in or 140 mm`},
	{"length", "NaN", `"NaN" has no number; write it as 5 1/2 in or 140 mm`},
	{"length", "NaN mm", `"NaN mm" has no number; write it as 5 1/2 in or 140 mm`},
	{"length", "inf mm", `"inf mm" has no number; write it as 5 1/2 in or 140 mm`},
	{"length", "-Inf mm", `"-Inf mm" has no number; write it as 5 1/2 in or 140 mm`},
	{"length", "1e999 mm", `"1e999 mm" is too large a number; check the exponent`},
	{"length", "0x1F mm", `"0x1F mm" is not one number with one unit; write it as 5 1/2 in or 140 mm`},
	{"length", "5. in", `"5. in" is not a number with a unit; write it as 5 1/2 in or 140 mm`},
	{"length", "5.5.5 in", `"5.5.5 in" has more than one point or comma; write it with one decimal point and no other separator`},
	{"length", "5,5,5 in", `"5,5,5 in" has more than one point or comma; write it with one decimal point and no other separator`},
	{"length", ", 5 in", `", 5 in" is not a number with a unit; write it as 5 1/2 in or 140 mm`},
	{"length", "~5 in", `"~5 in" is not a number with a unit; write it as 5 1/2 in or 140 mm`},
	{"length", "<5 in", `"<5 in" is not a number with a unit; write it as 5 1/2 in or 140 mm`},
	{"length", "5 in..", `"5 in.." has the unknown unit "in.."; did you mean in? length is written in in, ft, mil, yd, mile, mm, cm, m, km or µm`},
	{"length", "5 in*", `"5 in*" has the unknown unit "in*"; did you mean in? length is written in in, ft, mil, yd, mile, mm, cm, m, km or µm`},
	{"length", "5 m m", `"5 m m" has the unknown unit "m m"; did you mean mm? length is written in in, ft, mil, yd, mile, mm, cm, m, km or µm`},
	{"length", "5 mm)", `"5 mm)" has the unknown unit "mm)"; did you mean mm? length is written in in, ft, mil, yd, mile, mm, cm, m, km or µm`},
	{"length", "5 °mm", `"5 °mm" has the unknown unit "°mm"; did you mean mm? length is written in in, ft, mil, yd, mile, mm, cm, m, km or µm`},
	{"length", "5 5/4 in", `"5 5/4 in" has a fraction that is not less than 1; write it as 5 1/2 in or 140 mm`},
	{"length", "5/0 in", `"5/0 in" divides by zero; write it as 5 1/2 in or 140 mm`},
	{"length", "5 1/0 in", `"5 1/0 in" divides by zero; write it as 5 1/2 in or 140 mm`},
	{"length", "1.5/2 in", `"1.5/2 in" is not one number with one unit; write it as 5 1/2 in or 140 mm`},
	{"length", "5 in 3 mm", `"5 in 3 mm" cannot have mm after in; write it as 5 1/2 in or 140 mm`},
	{"length", "12'6", `"12'6" has a number without a unit; write it as 5 1/2 in or 140 mm`},
	{"length", "12 ft 14 in", `"12 ft 14 in" has 14 in beside ft, and 12 in make 1 ft; write it as 5 1/2 in or 140 mm`},
	{"length", "12.5 ft 6 in", `"12.5 ft 6 in" needs a whole number of ft; write it as 5 1/2 in or 140 mm`},
	{"length", "6 in 12 ft", `"6 in 12 ft" cannot have ft after in; write it as 5 1/2 in or 140 mm`},
	{"length", "-12 ft 6 in", `"-12 ft 6 in" needs a whole number of ft; write it as 5 1/2 in or 140 mm`},
	{"length", "12 ft.6 in", `"12 ft.6 in" has a point that may end ft or start a number; write it as 5 1/2 in or 140 mm`},
	{"length", "12 ft .5 in", `"12 ft .5 in" has a point that may end ft or start a number; write it as 5 1/2 in or 140 mm`},
	{"count", "12 -", `"12 -" is not a whole number with at most a word after it; write it as 12`},
	{"count", "12 wood--screws", `"12 wood--screws" is not a whole number with at most a word after it; write it as 12`},
	{"length", "6-8 ft", `"6-8 ft" has a number without a unit; write it as 5 1/2 in or 140 mm`},
	{"length", "5 in or so", `"5 in or so" has the unknown unit "in or so"; length is written in in, ft, mil, yd, mile, mm, cm, m, km or µm`},
	{"length", "5 in 140 mm", `"5 in 140 mm" cannot have mm after in; write it as 5 1/2 in or 140 mm`},
	{"length", "in", `"in" has no number; write it as 5 1/2 in or 140 mm`},
	{"length", "five in", `"five in" has no number; write it as 5 1/2 in or 140 mm`},
	{"length", "5.5\nin", `"5.5\nin" has a character that does not print; write it as 5 1/2 in or 140 mm`},
	{"length", "5.5\tin", `"5.5\tin" has a character that does not print; write it as 5 1/2 in or 140 mm`},
	{"length", "5.5\u202ein", `"5.5\u202ein" has a character that does not print; write it as 5 1/2 in or 140 mm`},
	{"length", "5.5\xffin", `"5.5\xffin" has a character that does not print; write it as 5 1/2 in or 140 mm`},
	{"length", "5555555555555555555555555555555555555555555555555555555555555555 mm", `"5555555555555555" starts a text that is too long for a value; write it as 5 1/2 in or 140 mm`},
	{"length", "٥ in", `"٥ in" has no number; write it as 5 1/2 in or 140 mm`},
	{"length", "５ in", `"５ in" has no number; write it as 5 1/2 in or 140 mm`},
	{"temperature", "55", `"55" has no unit; write it as 55 °F or 12.8 °C`},
	{"temperature", "13", `"13" has no unit; write it as 13 °C or 55.4 °F`},
	{"temperature", "55°", `"55°" has no unit; write it as 55 °F or 12.8 °C`},
	{"temperature", "-500 °F", `"-500 °F" is below -459.67 °F, absolute zero; check the sign and the unit`},
	{"temperature", "-273.16 °C", `"-273.16 °C" is below -273.15 °C, absolute zero; check the sign and the unit`},
	{"temperature", "-1 K", `"-1 K" is below 0 K, absolute zero; check the sign and the unit`},
	{"temperature", "55 °R", `"55 °R" has the unknown unit "°R"; temperature is written in °F, °C or K`},
	{"temperature", "55 % RH", `"55 % RH" measures relative humidity, not temperature; write it as 55 °F or 12.8 °C`},
	{"temperature", "1,234 °F", `"1,234 °F" could mean 1.234 or 1234; write it without the comma`},
	{"temperature difference", "10", `"10" has no unit; write it as 10 °F or 5.56 K`},
	{"relative humidity", "60", `"60" has no unit; write it as 60 % RH`},
	{"relative humidity", "0.6", `"0.6" has no unit; write it as 0.6 % RH`},
	{"relative humidity", "120 %", `"120 %" is above 100 % RH, saturated air; check the number and the unit`},
	{"relative humidity", "-1 %", `"-1 %" is below 0, the least for relative humidity; check the sign and the unit`},
	{"relative humidity", "RH -5 %", `"RH -5 %" is not a number with a unit; write it as 60 % RH`},
	{"relative humidity", "60 °F", `"60 °F" measures temperature or temperature difference, not relative humidity; write it as 60 % RH`},
	{"moisture content", "-2 %", `"-2 %" is below 0, the least for moisture content; check the sign and the unit`},
	{"percent", "3", `"3" has no unit; write it as 3 %`},
	{"percent", "12 % MC", `"12 % MC" measures moisture content, not percent; write it as 3 %`},
	{"gauge pressure", "300", `"300" has no unit; write it as 300 psig or 20.7 barg`},
	{"gauge pressure", "-20 psig", `"-20 psig" is below -14.6959 psig, a full vacuum; check the sign and the unit`},
	{"gauge pressure", "300 psia", `"300 psia" is absolute, and a gauge pressure is wanted; subtract the barometer and write psig or barg`},
	{"gauge pressure", "2.5 mPa", `"2.5 mPa" could mean millipascal or megapascal; write MPa or kPa`},
	{"gauge pressure", "60 in. w.c.", `"60 in. w.c." measures pressure, not gauge pressure; write it as 300 psig or 20.7 barg`},
	{"pressure", "300 psig", `"300 psig" measures gauge pressure, not pressure; write it as -0.02 in. w.c. or -5 Pa`},
	{"pressure", "60", `"60" has no unit; write it as 60 Pa or 0.241 in. w.c.`},
	{"vacuum", "500", `"500" has no unit; write it as 500 micron or 66.7 Pa`},
	{"vacuum", "-5 micron", `"-5 micron" is below 0, a perfect vacuum; check the sign and the unit`},
	{"vacuum", "200 kPa", `"200 kPa" is above 110 kPa, atmospheric pressure; check the number and the unit`},
	{"vacuum", "29 inHg", `"29 inHg" could mean above a perfect vacuum or below the atmosphere; write micron or Pa`},
	{"thermal resistance", "19", `"19" has no unit; write it as R-19 or RSI 3.35`},
	{"thermal resistance", "R -19", `"R -19" is not a number with a unit; write it as R-19 or RSI 3.35`},
	{"thermal resistance", "R19 RSI", `"R19 RSI" names two different units; write it as R-19 or RSI 3.35`},
	{"thermal resistance", "RSI 3.3 h·ft²·°F/Btu", `"RSI 3.3 h·ft²·°F/Btu" names two different units; write it as R-19 or RSI 3.35`},
	{"thermal resistance", "0.05 Btu/h·ft²·°F", `"0.05 Btu/h·ft²·°F" measures thermal transmittance, not thermal resistance; write it as R-19 or RSI 3.35`},
	{"thermal transmittance", "U 0.3", `"U 0.3" could be in Btu/(h·ft²·°F) or W/(m²·K); write it as 0.3 Btu/(h·ft²·°F) or 0.3 W/(m²·K)`},
	{"thermal transmittance", "0.3", `"0.3" has no unit; write it as 0.3 W/(m²·K) or 0.0528 Btu/(h·ft²·°F)`},
	{"permeance", "34 m", `"34 m" measures length, not permeance; write it as 0.06 perm or 3.43 ng/(s·m²·Pa)`},
	{"permeance", "sd 34", `"sd 34" has no unit; write it as sd 34 m`},
	{"permeance", "sd 34 perm", `"sd 34 perm" has the unknown unit "sd perm"; did you mean perm? permeance is written in perm, ng/(s·m²·Pa), kg/(s·m²·Pa) or sd m`},
	{"permeance", "sd 0 m", `"sd 0 m" is not a finite value; check the number`},
	{"permeance", "-1 perm", `"-1 perm" is below 0, the least for permeance; check the sign and the unit`},
	{"mass", "2 tons", `"2 tons" could mean 2000 lb or 1000 kg; write it in lb or kg`},
	{"mass", "-1 lb", `"-1 lb" is below 0, the least for mass; check the sign and the unit`},
	{"duration", "30 m", `"30 m" could mean minutes or months; write min or days`},
	{"duration", "2 months", `"2 months" has no fixed length; write it in days or weeks`},
	{"duration", "1 h 90 min", `"1 h 90 min" has 90 min beside h, and 60 min make 1 h; write it as 24 h`},
	{"duration", "-1 h", `"-1 h" is below 0, the least for duration; check the sign and the unit`},
	{"duration", "1e6 weeks", `"1e6 weeks" is above 14881 weeks, 285 years; check the number and the unit`},
	{"power", "5 mW", `"5 mW" could mean milliwatt or megawatt; write W or kW`},
	{"power", "20 MBtu/h", `"20 MBtu/h" could mean a thousand or a million Btu/h; write Btu/h`},
	{"energy", "5 mJ", `"5 mJ" could mean millijoule or megajoule; write MJ or kWh`},
	{"voltage", "5 MV", `"5 MV" could mean millivolt or megavolt; write mV or V`},
	{"resistance", "500 mohm", `"500 mohm" could mean milliohm or megohm; write mΩ or MΩ`},
	{"resistance", "500 MOHM", `"500 MOHM" could mean milliohm or megohm; write mΩ or MΩ`},
	{"count", "12.5", `"12.5" is not a whole number; write it as 12`},
	{"count", "-3", `"-3" is below 0, the least for count; check the sign and the unit`},
	{"count", "3 in", `"3 in" measures length, not count; write it as 12`},
	{"count", "3 %", `"3 %" is not a whole number with at most a word after it; write it as 12`},
	{"count", "1,234", `"1,234" could mean 1.234 or 1234; write it without the comma`},
	{"count", "1e3", `"1e3" is not a whole number; write it as 12`},
	{"count", "3 bottles 4", `"3 bottles 4" is not a whole number with at most a word after it; write it as 12`},
	{"slope", "1:0", `"1:0" is not a number with a unit; write it as 1/8 in/ft or 1 %`},
	{"slope", "1/8 in", `"1/8 in" measures length, not slope; write it as 1/8 in/ft or 1 %`},
	{"slope", "1:", `"1:" is not a number with a unit; write it as 1/8 in/ft or 1 %`},
	{"wire size", "12", `"12" has no unit; write it as 12 AWG or 3.31 mm²`},
	{"wire size", "12.5 AWG", `"12.5 AWG" is not a wire gauge; write 4/0 to 1/0 AWG or 0 to 50 AWG`},
	{"wire size", "00 AWG", `"00 AWG" is not a wire gauge; write 4/0 to 1/0 AWG or 0 to 50 AWG`},
	{"wire size", "-3 AWG", `"-3 AWG" is not a wire gauge; write 4/0 to 1/0 AWG or 0 to 50 AWG`},
	{"wire size", "5/0 AWG", `"5/0 AWG" is not a wire gauge; write 4/0 to 1/0 AWG or 0 to 50 AWG`},
	{"wire size", "1/0 mm²", `"1/0 mm²" divides by zero; write it as 12 AWG or 2.5 mm²`},
	{"wire size", "AWG 12 mm²", `"AWG 12 mm²" names two different units; write it as 12 AWG or 2.5 mm²`},
	{"wire size", "99 AWG", `"99 AWG" is not a wire gauge; write 4/0 to 1/0 AWG or 0 to 50 AWG`},
	{"lenght", "5 in", `unknown kind "lenght"; did you mean length?`},
	{"warmth", "5 in", `unknown kind "warmth"; write one of temperature, temperature difference, relative humidity, moisture content, percent, slope, count, length, area, volume, mass, duration, speed, density, torque, pressure, gauge pressure, vacuum, area load, line load, airflow, air changes, mass per day, permeance, energy, power, heat flux, thermal resistance, thermal transmittance, thermal conductivity, voltage, current, resistance, resistance per length, wire size`},
}

func TestReject(t *testing.T) {
	for _, tt := range rejected {
		q, err := Parse(tt.kind, tt.text)
		if err == nil {
			t.Errorf("Parse(%s, %q) = %v %s, want an error", tt.kind, tt.text, q.Value, q.Unit.Symbol)
			continue
		}
		if err.Error() != tt.message {
			t.Errorf("Parse(%s, %q):\n got %s\nwant %s", tt.kind, tt.text, err, tt.message)
		}
		if q.Known() {
			t.Errorf("Parse(%s, %q) returned a known value beside its error", tt.kind, tt.text)
		}
	}
}

// TestBadRunes puts characters that do not print, and bytes that are no text,
// into a good value.
func TestBadRunes(t *testing.T) {
	for _, bad := range []string{"\x00", "\x1b", "\u200b", "\u202e", "\ufeff", "\xff", "\u0007"} {
		if q, err := Parse(LengthKind, "5.5"+bad+" in"); err == nil || q.Known() {
			t.Errorf("Parse accepts %q", "5.5"+bad+" in")
		}
	}
}

func TestTextLength(t *testing.T) {
	for n, good := range map[int]bool{maxText: true, maxText + 1: false} {
		text := strings.Repeat("0", n-len("5 in")) + "5 in"
		if _, err := Parse(LengthKind, text); (err == nil) != good {
			t.Errorf("Parse of %d bytes: %v", n, err)
		}
	}
}

// names returns the spellings of a unit.
func names(m *measure) []string {
	var all []string
	for name := range strings.SplitSeq(m.symbol+"|"+m.names, "|") {
		if name != "" {
			all = append(all, strings.TrimPrefix(name, "="))
		}
	}
	return all
}

package units

// Lengths, areas, volumes, masses, times, and what is made of them. Where an
// exact definition is a short decimal it stands as a fraction of whole numbers,
// 254/10 000 m to the inch, so that 5.5 in and 139.7 mm give the same float:
// international yard and pound, 1959; mile 1609.344 m; NIST SP 811 B.8.

var length = family{
	kind: LengthKind, base: "m",
	low: 0, high: unbounded,
	us: "5 1/2 in", si: "140 mm",
	everyUS: []rung{{"mil", 0.0005}, {"in", 0.9}, {"ft", 0}},
	everySI: []rung{{"mm", 1}, {"m", 0}},
	units: []measure{
		{symbol: "in", system: US, num: 254, den: 1e4, decimals: 2, names: `inch|inches|"|''`},
		{symbol: "ft", system: US, num: 3048, den: 1e4, decimals: 2, names: "foot|feet|'"},
		{symbol: "mil", system: US, num: 254, den: 1e7, decimals: 1, names: "mils|thou"},
		{symbol: "yd", system: US, num: 9144, den: 1e4, decimals: 2, names: "yard|yards"},
		{symbol: "mile", system: US, num: 1609344, den: 1e3, decimals: 2, names: "miles|mi", plural: "miles"},
		{symbol: "mm", system: SI, num: 1, den: 1e3, decimals: 1, names: "millimeter|millimeters|millimetre|millimetres"},
		{symbol: "cm", system: SI, num: 1, den: 1e2, decimals: 2, names: "centimeter|centimeters|centimetre|centimetres"},
		{symbol: "m", system: SI, num: 1, den: 1, decimals: 3, names: "meter|meters|metre|metres"},
		{symbol: "km", system: SI, num: 1e3, den: 1, decimals: 3, names: "kilometer|kilometers|kilometre|kilometres"},
		{symbol: "µm", system: SI, num: 1, den: 1e6, decimals: 0, names: "micron|microns|micrometer|micrometers|micrometre|micrometres"},
	},
	chains: [][]string{{"ft", "in"}, {"m", "cm", "mm"}},
}

var area = family{
	kind: AreaKind, base: "m²",
	low: 0, high: unbounded,
	us: "120 ft²", si: "11 m²",
	everyUS: []rung{{"in²", 0.09}, {"ft²", 0}},
	everySI: []rung{{"cm²", 0.1}, {"m²", 0}},
	units: []measure{
		{symbol: "ft²", system: US, num: foot * foot, den: 1, decimals: 1, names: "sq ft|sqft|sf|square foot|square feet|sq feet"},
		{symbol: "in²", system: US, num: inch * inch, den: 1, decimals: 2, names: "sq in|sqin|square inch|square inches"},
		{symbol: "yd²", system: US, num: 9 * foot * foot, den: 1, decimals: 2, names: "sq yd|square yard|square yards"},
		{symbol: "m²", system: SI, num: 1, den: 1, decimals: 2, names: "sq m|sqm|square meter|square meters|square metre|square metres"},
		{symbol: "cm²", system: SI, num: 1, den: 1e4, decimals: 1, names: "sq cm|square centimeters|square centimetres"},
		{symbol: "mm²", system: SI, num: 1, den: 1e6, decimals: 0, names: "sq mm|square millimeters|square millimetres"},
	},
}

var volume = family{
	kind: VolumeKind, base: "m³",
	low: 0, high: unbounded,
	us: "1000 ft³", si: "28 m³",
	everyUS: []rung{{"gal", foot * foot * foot}, {"ft³", 0}},
	everySI: []rung{{"L", 1}, {"m³", 0}},
	units: []measure{
		{symbol: "ft³", system: US, num: foot * foot * foot, den: 1, decimals: 1, names: "cu ft|cuft|cf|cubic foot|cubic feet"},
		{symbol: "in³", system: US, num: inch * inch * inch, den: 1, decimals: 2, names: "cu in|cubic inch|cubic inches"},
		{symbol: "yd³", system: US, num: 27 * foot * foot * foot, den: 1, decimals: 2, names: "cu yd|cubic yard|cubic yards"},
		{symbol: "gal", system: US, num: gallon, den: 1, decimals: 2, names: "gallon|gallons|US gal"},
		{symbol: "qt", system: US, num: quart, den: 1, decimals: 2, names: "quart|quarts"},
		{symbol: "pt", system: US, num: pint, den: 1, decimals: 2, names: "pint|pints"},
		{symbol: "fl oz", system: US, num: ounce, den: 1, decimals: 1, names: "floz|fluid ounce|fluid ounces"},
		{symbol: "m³", system: SI, num: 1, den: 1, decimals: 2, names: "cu m|cubic meter|cubic meters|cubic metre|cubic metres"},
		{symbol: "L", system: SI, num: 1, den: 1e3, decimals: 2, names: "liter|liters|litre|litres"},
		{symbol: "mL", system: SI, num: 1, den: 1e6, decimals: 0, names: "milliliter|milliliters|millilitre|millilitres"},
	},
}

var mass = family{
	kind: MassKind, base: "kg",
	low: 0, high: unbounded,
	us: "10 lb", si: "4.5 kg",
	everyUS: []rung{{"oz", pound}, {"lb", 0}},
	everySI: []rung{{"g", 1}, {"kg", 0}},
	units: []measure{
		{symbol: "lb", system: US, num: 45359237, den: 1e8, decimals: 2, names: "lbs|pound|pounds|lbm"},
		{symbol: "oz", system: US, num: 45359237, den: 16e8, decimals: 1, names: "ounce|ounces"},
		{symbol: "kg", system: SI, num: 1, den: 1, decimals: 2, names: "kilogram|kilograms|kilo|kilos"},
		{symbol: "g", system: SI, num: 1, den: 1e3, decimals: 1, names: "gram|grams"},
		{symbol: "tonne", system: SI, num: 1e3, den: 1, decimals: 2, names: "tonnes", plural: "tonnes"},
	},
	chains:  [][]string{{"lb", "oz"}},
	refused: []refusal{{"ton|tons|t", "could mean 2000 lb or 1000 kg", "write it in lb or kg"}},
}

var duration = family{
	kind: DurationKind, base: "s",
	low: 0, high: 9e9, highest: "285 years", // what a time.Duration can hold
	us:      "24 h",
	everyUS: []rung{{"s", 120}, {"min", 2 * hour}, {"h", 3 * day}, {"day", 0}},
	units: []measure{
		{symbol: "s", num: 1, den: 1, decimals: 1, names: "sec|secs|second|seconds"},
		{symbol: "min", num: 60, den: 1, decimals: 1, names: "mins|minute|minutes"},
		{symbol: "h", num: hour, den: 1, decimals: 1, names: "hr|hrs|hour|hours"},
		{symbol: "day", num: day, den: 1, decimals: 1, names: "d|days", plural: "days"},
		{symbol: "week", num: 7 * day, den: 1, decimals: 1, names: "wk|wks|weeks", plural: "weeks"},
	},
	chains: [][]string{{"week", "day", "h", "min", "s"}},
	refused: []refusal{
		{"m", "could mean minutes or months", "write min or days"},
		{"mo|month|months|yr|y|year|years", "has no fixed length", "write it in days or weeks"},
	},
}

var speed = family{
	kind: SpeedKind, base: "m/s",
	low: 0, high: unbounded,
	us: "100 fpm", si: "0.5 m/s",
	everyUS: []rung{{"fpm", 0}}, everySI: []rung{{"m/s", 0}},
	units: []measure{
		{symbol: "fpm", system: US, num: 3048, den: 60e4, decimals: 0, names: "ft/min|ft/minute|feet/minute"},
		{symbol: "ft/s", system: US, num: 3048, den: 1e4, decimals: 2, names: "fps|ft/sec|feet/second"},
		{symbol: "mph", system: US, num: 1609344, den: 3600e3, decimals: 1, names: "mi/h|miles/hour"},
		{symbol: "m/s", system: SI, num: 1, den: 1, decimals: 3, names: "m/sec|meters/second|metres/second"},
		{symbol: "km/h", system: SI, num: 1, den: 3.6, decimals: 1, names: "kph|kmh|km/hr"},
	},
}

var density = family{
	kind: DensityKind, base: "kg/m³",
	low: 0, high: unbounded,
	us: "2 lb/ft³", si: "32 kg/m³",
	everyUS: []rung{{"lb/ft³", 0}}, everySI: []rung{{"kg/m³", 0}},
	units: []measure{
		{symbol: "lb/ft³", system: US, num: pound, den: foot * foot * foot, decimals: 2, names: "pcf|lbs/ft3|lb/cu ft|lbs/cu ft|pounds/cubic foot"},
		{symbol: "kg/m³", system: SI, num: 1, den: 1, decimals: 1, names: "kg/cubic meter|kg/cubic metre"},
		{symbol: "g/cm³", system: SI, num: 1e3, den: 1, decimals: 3, names: "g/cc|g/ml"},
	},
}

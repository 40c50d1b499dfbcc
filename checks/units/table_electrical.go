package units

// Circuits.

var voltage = family{
	kind: VoltageKind, base: "V",
	low: -unbounded, high: unbounded,
	us:      "120 V",
	everyUS: []rung{{"V", 0}},
	units: []measure{
		{symbol: "V", num: 1, den: 1, decimals: 2, names: "volt|volts|VAC|V AC|volts AC|VDC|V DC|volts DC"},
		{symbol: "mV", num: 1, den: 1e3, decimals: 1, names: "millivolt|millivolts"},
		{symbol: "kV", num: 1e3, den: 1, decimals: 3, names: "kilovolt|kilovolts"},
	},
	refused: []refusal{{"=MV|=Mv", "could mean millivolt or megavolt", "write mV or V"}},
}

var current = family{
	kind: CurrentKind, base: "A",
	low: -unbounded, high: unbounded,
	us:      "12 A",
	everyUS: []rung{{"mA", 0.1}, {"A", 0}},
	units: []measure{
		{symbol: "A", num: 1, den: 1, decimals: 2, names: "amp|amps|ampere|amperes"},
		{symbol: "mA", num: 1, den: 1e3, decimals: 1, names: "milliamp|milliamps|milliampere|milliamperes"},
	},
	refused: []refusal{{"=MA|=Ma", "could mean milliampere or megaampere", "write mA or A"}},
}

var resistance = family{
	kind: ResistanceKind, base: "Ω",
	low: 0, high: unbounded,
	us:      "500 MΩ",
	everyUS: []rung{{"mΩ", 1}, {"Ω", 1e3}, {"kΩ", 1e6}, {"MΩ", 0}},
	units: []measure{
		{symbol: "mΩ", num: 1, den: 1e3, decimals: 1, names: "=mOhm|=mOhms|milliohm|milliohms"},
		{symbol: "Ω", num: 1, den: 1, decimals: 2, names: "ohm|ohms"},
		{symbol: "kΩ", num: 1e3, den: 1, decimals: 2, names: "=KΩ|kohm|kohms|kilohm|kilohms|kiloohm|kiloohms"},
		{symbol: "MΩ", num: 1e6, den: 1, decimals: 2, names: "=MOhm|=Mohm|=MOhms|=Mohms|megohm|megohms|megaohm|megaohms"},
		{symbol: "GΩ", num: 1e9, den: 1, decimals: 3, names: "gohm|gohms|gigohm|gigohms|gigaohm|gigaohms"},
	},
	refused: []refusal{{"mohm|mohms", "could mean milliohm or megohm", "write mΩ or MΩ"}},
}

var linearResistance = family{
	kind: LinearResistanceKind, base: "Ω/m",
	low: 0, high: unbounded,
	us: "1.93 Ω/kft", si: "6.33 Ω/km",
	everyUS: []rung{{"Ω/kft", 0}}, everySI: []rung{{"Ω/km", 0}},
	units: []measure{
		{symbol: "Ω/kft", system: US, num: 1, den: 1000 * foot, decimals: 3, names: "ohm/kft|ohms/kft|Ω/1000 ft|ohm/1000 ft|ohms/1000 ft|ohms/1000 feet"},
		{symbol: "Ω/ft", system: US, num: 1, den: foot, decimals: 5, names: "ohm/ft|ohms/ft|ohms/foot"},
		{symbol: "Ω/km", system: SI, num: 1, den: 1e3, decimals: 3, names: "ohm/km|ohms/km|=mΩ/m"},
		{symbol: "Ω/m", system: SI, num: 1, den: 1, decimals: 5, names: "ohm/m|ohms/m"},
	},
}

var wireSize = family{
	kind: WireSizeKind, base: "mm²",
	low: 0, high: unbounded,
	us: "12 AWG", si: "2.5 mm²",
	everyUS: []rung{{"AWG", 0}}, everySI: []rung{{"mm²", 0}},
	units: []measure{
		{symbol: "AWG", system: US, decimals: 0, names: "ga|gauge|gage|AWG gauge", curve: gauge},
		{symbol: "kcmil", system: US, num: 1000 * circularMil, den: 1, decimals: 1, names: "MCM"},
		{symbol: "mm²", system: SI, num: 1, den: 1, decimals: 2, names: "sq mm|sqmm|square mm|square millimeter|square millimeters|square millimetre|square millimetres"},
	},
	labels: []label{{name: "awg", unit: "AWG"}, {name: "#", unit: "AWG"}, {name: "gauge", unit: "AWG"}},
}

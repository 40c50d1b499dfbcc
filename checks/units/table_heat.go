package units

// What lets heat through, and what holds it.

var thermalResistance = family{
	kind: ThermalResistanceKind, base: "m²·K/W",
	low: 0, high: unbounded,
	us: "R-19", si: "RSI 3.35",
	everyUS: []rung{{"R", 0}}, everySI: []rung{{"m²·K/W", 0}},
	units: []measure{
		{symbol: "R", system: US, num: rValue, den: 1, decimals: 1, prefix: "R-"},
		{symbol: "RSI", system: SI, num: 1, den: 1, decimals: 2, prefix: "RSI "},
		{symbol: "m²·K/W", system: SI, num: 1, den: 1, decimals: 2, names: "K m2/W|m2 C/W|C m2/W|m2 deg C/W|m2 degC/W"},
		{symbol: "h·ft²·°F/Btu", system: US, num: rValue, den: 1, decimals: 2, names: "hr ft2 F/Btu|ft2 h F/Btu|ft2 hr F/Btu|ft2 F h/Btu|ft2 F hr/Btu|F ft2 h/Btu|F ft2 hr/Btu|h ft2 deg F/Btu|hr ft2 deg F/Btu|h ft2 degF/Btu|hr ft2 degF/Btu|ft2 deg F h/Btu|ft2 degF h/Btu|h sq ft F/Btu|hr sq ft F/Btu"},
	},
	labels: []label{{name: "r", unit: "R", loose: true}, {name: "r value", unit: "R", loose: true}, {name: "rsi", unit: "RSI"}, {name: "rsi value", unit: "RSI"}},
}

var transmittance = family{
	kind: TransmittanceKind, base: "W/(m²·K)",
	low: 0, high: unbounded,
	us: "0.05 Btu/(h·ft²·°F)", si: "0.284 W/(m²·K)",
	everyUS: []rung{{"Btu/(h·ft²·°F)", 0}}, everySI: []rung{{"W/(m²·K)", 0}},
	units: []measure{
		{symbol: "W/(m²·K)", system: SI, num: 1, den: 1, decimals: 3, names: "W/K m2|W/m2 C|W/m2 degC|W/m2 deg C|W/m2/K"},
		{symbol: "Btu/(h·ft²·°F)", system: US, num: btuTransmittance, den: 1, decimals: 3, names: "Btu/hr ft2 F|Btu/ft2 h F|Btu/ft2 hr F|Btu/h/ft2/F|Btu/h ft2 deg F|Btu/hr ft2 deg F|Btu/h ft2 degF|Btu/hr ft2 degF|Btu/h sq ft F|Btu/hr sq ft F"},
	},
	labels: []label{{name: "u", why: bareU}, {name: "u value", why: bareU}, {name: "u factor", why: bareU}},
}

const bareU = "could be in Btu/(h·ft²·°F) or W/(m²·K)"

var conductivity = family{
	kind: ConductivityKind, base: "W/(m·K)",
	low: 0, high: unbounded,
	us: "0.24 Btu·in/(h·ft²·°F)", si: "0.035 W/(m·K)",
	everyUS: []rung{{"Btu·in/(h·ft²·°F)", 0}}, everySI: []rung{{"W/(m·K)", 0}},
	units: []measure{
		{symbol: "W/(m·K)", system: SI, num: 1, den: 1, decimals: 4, names: "W/mK|W/m C|W/m degC|W/m deg C|W/K m|W/m/K"},
		{symbol: "Btu·in/(h·ft²·°F)", system: US, num: btuInchConduct, den: 1, decimals: 3, names: "Btu in/hr ft2 F|Btu in/ft2 h F|Btu in/ft2 hr F|Btu in/h ft2 degF|Btu in/hr ft2 degF"},
		{symbol: "Btu/(h·ft·°F)", system: US, num: btuFootConduct, den: 1, decimals: 4, names: "Btu/hr ft F|Btu ft/h ft2 F|Btu/h ft degF|Btu/hr ft degF"},
	},
}

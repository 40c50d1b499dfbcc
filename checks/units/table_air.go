package units

// Moving air, moving water, energy.

var airflow = family{
	kind: AirflowKind, base: "m³/s",
	low: 0, high: unbounded,
	us: "100 cfm", si: "170 m³/h",
	everyUS: []rung{{"cfm", 0}}, everySI: []rung{{"m³/h", 0}},
	units: []measure{
		{symbol: "cfm", system: US, num: foot * foot * foot, den: 60, decimals: 1, names: "ft3/min|cu ft/min|cubic feet/minute"},
		{symbol: "m³/h", system: SI, num: 1, den: hour, decimals: 1, names: "m3/hr|m3/hour|cmh|cubic meters/hour|cubic metres/hour"},
		{symbol: "L/s", system: SI, num: 1, den: 1e3, decimals: 1, names: "L/sec|lps|liters/second|litres/second"},
		{symbol: "m³/s", system: SI, num: 1, den: 1, decimals: 3, names: "m3/sec"},
	},
}

var airChange = family{
	kind: AirChangeKind, base: "1/h",
	low: 0, high: unbounded,
	us:      "0.5 ACH",
	everyUS: []rung{{"ACH", 0}},
	units: []measure{
		{symbol: "ACH", num: 1, den: 1, decimals: 2, names: "/h|1/h|/hr|1/hr|/hour|h-1|h⁻¹|air changes/hour|air changes/h|air change/hour"},
	},
}

var massRate = family{
	kind: MassRateKind, base: "kg/day",
	low: 0, high: unbounded,
	us: "2 qt/day", si: "1.9 kg/day",
	everyUS: []rung{{"qt/day", 0}}, everySI: []rung{{"kg/day", 0}},
	units: []measure{
		{symbol: "kg/day", system: SI, num: 1, den: 1, decimals: 2, names: "kg/d|kg/24 h"},
		{symbol: "g/day", system: SI, num: 1, den: 1e3, decimals: 1, names: "g/d|g/24 h"},
		{symbol: "L/day", system: SI, num: waterDensity, den: 1e3, decimals: 2, names: "L/d|L/24 h|liter/day|liters/day|litre/day|litres/day"},
		{symbol: "lb/day", system: US, num: pound, den: 1, decimals: 2, names: "lbs/day|lb/d|pounds/day"},
		{symbol: "gal/day", system: US, num: waterDensity * gallon, den: 1, decimals: 2, names: "gpd|gal/d|gallon/day|gallons/day"},
		{symbol: "qt/day", system: US, num: waterDensity * quart, den: 1, decimals: 2, names: "qt/d|quart/day|quarts/day"},
		{symbol: "pt/day", system: US, num: waterDensity * pint, den: 1, decimals: 1, names: "pt/d|pint/day|pints/day"},
	},
}

var permeance = family{
	kind: PermeanceKind, base: "kg/(s·m²·Pa)",
	low: 0, high: unbounded,
	us: "0.06 perm", si: "3.43 ng/(s·m²·Pa)",
	everyUS: []rung{{"perm", 0}}, everySI: []rung{{"ng/(s·m²·Pa)", 0}},
	units: []measure{
		{symbol: "perm", system: US, num: perm, den: 1, decimals: 3, names: "perms|US perm|US perms"},
		{symbol: "ng/(s·m²·Pa)", system: SI, num: 1, den: 1e12, decimals: 2, names: "ng|ng/Pa s m2|ng/s m2Pa|ng/sm2 Pa|ng/m2 s Pa|ng/s Pa m2|ng/Pa m2 s"},
		{symbol: "kg/(s·m²·Pa)", system: SI, num: 1, den: 1, decimals: 2, names: "kg/Pa s m2|kg/s m2Pa|kg/m2 s Pa"},
		{symbol: "sd m", system: SI, num: ReferenceAirPermeability, den: 1, decimals: 2, names: "m sd", curve: reciprocal, prefix: "sd "},
	},
	labels: []label{{name: "sd", layer: true}, {name: "s_d", layer: true}, {name: "sd value", layer: true}},
}

var energy = family{
	kind: EnergyKind, base: "J",
	low: 0, high: unbounded,
	us:      "12 kWh",
	everyUS: []rung{{"Wh", 3.6e5}, {"kWh", 0}},
	units: []measure{
		{symbol: "kWh", num: 3600e3, den: 1, decimals: 2, names: "kW h|kilowatt hour|kilowatt hours"},
		{symbol: "Wh", num: 3600, den: 1, decimals: 1, names: "W h|watt hour|watt hours"},
		{symbol: "Btu", system: US, num: btu, den: 1, decimals: 0, names: "Btus"},
		{symbol: "MJ", system: SI, num: 1e6, den: 1, decimals: 2, names: "megajoule|megajoules"},
		{symbol: "kJ", system: SI, num: 1e3, den: 1, decimals: 1, names: "kilojoule|kilojoules"},
		{symbol: "J", system: SI, num: 1, den: 1, decimals: 0, names: "joule|joules"},
	},
	refused: []refusal{{"=mJ|=mj", "could mean millijoule or megajoule", "write MJ or kWh"}},
}

var power = family{
	kind: PowerKind, base: "W",
	low: -unbounded, high: unbounded,
	us: "4000 Btu/h", si: "1170 W",
	everyUS: []rung{{"Btu/h", 0}}, everySI: []rung{{"W", 1e4}, {"kW", 0}},
	units: []measure{
		{symbol: "W", num: 1, den: 1, decimals: 1, names: "watt|watts"},
		{symbol: "kW", num: 1e3, den: 1, decimals: 3, names: "kilowatt|kilowatts"},
		{symbol: "Btu/h", system: US, num: btuPerHour, den: 1, decimals: 0, names: "Btuh|Btu h|Btu/hr|Btu/hour|Btus/hour"},
		{symbol: "MBH", system: US, num: 1000 * btuPerHour, den: 1, decimals: 2, names: "kBtu/h|kBtu/hr|kBtuh"},
		{symbol: "ton", system: US, num: ton, den: 1, decimals: 2, names: "tons|ton of refrigeration|tons of refrigeration|tons refrigeration|TR", plural: "tons"},
		{symbol: "hp", system: US, num: horsepower, den: 1, decimals: 2, names: "horsepower"},
	},
	refused: []refusal{
		{"mW", "could mean milliwatt or megawatt", "write W or kW"},
		{"MBtu/h|MBtuh|MMBtu/h", "could mean a thousand or a million Btu/h", "write Btu/h"},
	},
}

var heatFlux = family{
	kind: HeatFluxKind, base: "W/m²",
	low: -unbounded, high: unbounded,
	us: "1.4 Btu/(h·ft²)", si: "4.4 W/m²",
	everyUS: []rung{{"Btu/(h·ft²)", 0}}, everySI: []rung{{"W/m²", 0}},
	units: []measure{
		{symbol: "Btu/(h·ft²)", system: US, num: btuHeatFlux, den: 1, decimals: 2, names: "Btu/hr ft2|Btu/ft2 h|Btu/h/ft2|Btu/h sq ft|Btu/hr sq ft"},
		{symbol: "W/m²", system: SI, num: 1, den: 1, decimals: 2, names: "W/sq m"},
		{symbol: "W/ft²", system: US, num: 1, den: foot * foot, decimals: 2, names: "W/sq ft"},
	},
}

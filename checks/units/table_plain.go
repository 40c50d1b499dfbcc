package units

// Temperatures, shares in percent, and counts.

var temperature = family{
	kind: TemperatureKind, base: "°C",
	low: -273.15, high: unbounded, lowest: "absolute zero", // 0 K, exact: SI brochure, 9th edition
	us: "55 °F", si: "12.8 °C",
	everyUS: []rung{{"°F", 0}}, everySI: []rung{{"°C", 0}},
	units: []measure{
		// t/°C = (t/°F − 32)·5/9, exact: NIST SP 811 B.8
		{symbol: "°F", system: US, num: 5, den: 9, zero: 32, decimals: 1, names: fahrenheitNames},
		{symbol: "°C", system: SI, num: 1, den: 1, decimals: 1, names: celsiusNames},
		{symbol: "K", system: SI, num: 1, den: 1, zero: 273.15, decimals: 2, names: "kelvin|kelvins"},
	},
}

const (
	fahrenheitNames = "deg F|degF|degree F|degrees F|fahrenheit|degree fahrenheit|degrees fahrenheit|deg fahrenheit"
	celsiusNames    = "deg C|degC|degree C|degrees C|celsius|degree celsius|degrees celsius|deg celsius"
)

var temperatureDifference = family{
	kind: TemperatureDifferenceKind, base: "K",
	low: -unbounded, high: unbounded,
	us: "10 °F", si: "5.6 K",
	everyUS: []rung{{"°F", 0}}, everySI: []rung{{"K", 0}},
	units: []measure{
		{symbol: "°F", system: US, num: 5, den: 9, decimals: 1, names: fahrenheitNames},
		{symbol: "K", system: SI, num: 1, den: 1, decimals: 1, names: "kelvin|kelvins"},
		{symbol: "°C", system: SI, num: 1, den: 1, decimals: 1, names: celsiusNames},
	},
}

var humidity = family{
	kind: HumidityKind, base: "% RH",
	low: 0, high: 100, highest: "saturated air",
	us:      "60 % RH",
	everyUS: []rung{{"% RH", 0}},
	units: []measure{
		{symbol: "% RH", num: 1, den: 1, decimals: 1, names: "%|percent|per cent|pct|percent RH|% r h|% relative humidity|percent relative humidity"},
	},
	labels: []label{{name: "rh", unit: "% RH"}, {name: "relative humidity"}},
}

var moistureContent = family{
	kind: MoistureContentKind, base: "% MC",
	low: 0, high: unbounded,
	us:      "12 % MC",
	everyUS: []rung{{"% MC", 0}},
	units: []measure{
		{symbol: "% MC", num: 1, den: 1, decimals: 1, names: "%|percent|per cent|pct|percent MC|% m c|% moisture content|percent moisture content"},
	},
	labels: []label{{name: "mc", unit: "% MC"}, {name: "moisture content"}},
}

var percent = family{
	kind: PercentKind, base: "%",
	low: -unbounded, high: unbounded,
	us:      "3 %",
	everyUS: []rung{{"%", 0}},
	units:   []measure{{symbol: "%", num: 1, den: 1, decimals: 2, names: "percent|per cent|pct"}},
}

var slope = family{
	kind: SlopeKind, base: "%",
	low: -unbounded, high: unbounded,
	us: "1/8 in/ft", si: "1 %",
	everyUS: []rung{{"in/ft", 0}}, everySI: []rung{{"%", 0}},
	units: []measure{
		{symbol: "in/ft", system: US, num: 100, den: 12, decimals: 2, names: `inch/ft|inches/ft|"/ft|in/foot|inch/foot|inches/foot|"/foot|"/'`},
		{symbol: "%", num: 1, den: 1, decimals: 2, names: "percent|per cent|pct"},
		{symbol: "mm/m", system: SI, num: 1, den: 10, decimals: 1},
		{symbol: "cm/m", system: SI, num: 1, den: 1, decimals: 2},
	},
}

var count = family{
	kind: CountKind, base: "1",
	low: 0, high: 1 << 53,
	us:      "12",
	everyUS: []rung{{"", 0}},
	units:   []measure{{symbol: "", num: 1, den: 1, decimals: 2}},
}

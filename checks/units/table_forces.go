package units

// Torques, pressures and loads.

var torque = family{
	kind: TorqueKind, base: "N·m",
	low: 0, high: unbounded,
	us: "15 in·lb", si: "1.7 N·m",
	everyUS: []rung{{"in·lb", 20}, {"ft·lb", 0}}, everySI: []rung{{"N·m", 0}},
	units: []measure{
		{symbol: "in·lb", system: US, num: inch * poundForce, den: 1, decimals: 1, names: "inlb|in lbs|inlbs|in lbf|lb in|lbf in|inch pound|inch pounds"},
		{symbol: "ft·lb", system: US, num: foot * poundForce, den: 1, decimals: 1, names: "ftlb|ft lbs|ftlbs|ft lbf|lb ft|lbf ft|foot pound|foot pounds"},
		{symbol: "N·m", system: SI, num: 1, den: 1, decimals: 2, names: "Nm|newton meter|newton meters|newton metre|newton metres"},
	},
}

var pressure = family{
	kind: PressureKind, base: "Pa",
	low: -unbounded, high: unbounded,
	us: "-0.02 in. w.c.", si: "-5 Pa",
	everyUS: []rung{{"in. w.c.", 5000}, {"psi", 0}}, everySI: []rung{{"Pa", 1e4}, {"kPa", 0}},
	units: []measure{
		{symbol: "in. w.c.", system: US, num: inchWater, den: 1, decimals: 3, names: inchWaterNames},
		{symbol: "psi", system: US, num: poundPerSquareInch, den: 1, decimals: 2, names: "psia|psid|lb/in2|lbf/in2"},
		{symbol: "inHg", system: US, num: inchMercury, den: 1, decimals: 2, names: "in Hg|inches Hg|inches of mercury|inch Hg"},
		{symbol: "Pa", system: SI, num: 1, den: 1, decimals: 2, names: "pascal|pascals"},
		{symbol: "hPa", system: SI, num: 100, den: 1, decimals: 1},
		{symbol: "kPa", system: SI, num: 1e3, den: 1, decimals: 2},
		{symbol: "mbar", system: SI, num: 100, den: 1, decimals: 1, names: "millibar|millibars"},
		{symbol: "bar", system: SI, num: 1e5, den: 1, decimals: 3},
		{symbol: "mm w.c.", system: SI, num: millimeterWater, den: 1, decimals: 2, names: "mm wc|mmwc|mm w g|mm wg|mmH2O|mm H2O"},
		{symbol: "mmHg", system: SI, num: millimeterMercury, den: 1, decimals: 2, names: "mm Hg"},
		{symbol: "atm", num: atmosphere, den: 1, decimals: 3},
	},
}

const inchWaterNames = "in wc|inwc|iwc|in w g|in wg|inwg|iwg|in H2O|inH2O|in water|in of water|inch w c|inch wc|inches w c|inches wc|inches of water|inches H2O|\" w c|\" wc|\" w g|\" wg|\" H2O"

var gaugePressure = family{
	kind: GaugePressureKind, base: "Pa gauge",
	low: -atmosphere, high: unbounded, lowest: "a full vacuum",
	us: "300 psig", si: "20.7 barg",
	everyUS: []rung{{"psig", 0}}, everySI: []rung{{"barg", 0}},
	units: []measure{
		{symbol: "psig", system: US, num: poundPerSquareInch, den: 1, decimals: 1, names: "psi g|psi gauge|lb/in2 g", margin: "psi"},
		{symbol: "psi", system: US, num: poundPerSquareInch, den: 1, decimals: 1, names: "lb/in2|lbf/in2"},
		{symbol: "barg", system: SI, num: 1e5, den: 1, decimals: 2, names: "bar g|bar gauge", margin: "bar"},
		{symbol: "bar", system: SI, num: 1e5, den: 1, decimals: 2},
		{symbol: "kPa", system: SI, num: 1e3, den: 1, decimals: 1, names: "kPag|kPa g|kPa gauge"},
		{symbol: "MPa", system: SI, num: 1e6, den: 1, decimals: 3, names: "MPag|MPa g|MPa gauge"},
		{symbol: "Pa", system: SI, num: 1, den: 1, decimals: 0, names: "pascal|pascals"},
		{symbol: "kgf/cm²", system: SI, num: standardGravity * 1e4, den: 1, decimals: 2, names: "kg/cm2"},
	},
	refused: []refusal{
		{"psia|bara|bar a|kPa a|kPaa", "is absolute, and a gauge pressure is wanted", "subtract the barometer and write psig or barg"},
		{"=mPa|=mpa", "could mean millipascal or megapascal", "write MPa or kPa"},
	},
}

var vacuum = family{
	kind: VacuumKind, base: "Pa absolute",
	// The highest barometer at the surface is about 1085 hPa: WMO records (from memory).
	low: 0, high: 110e3, lowest: "a perfect vacuum", highest: "atmospheric pressure",
	us: "500 micron", si: "66.7 Pa",
	everyUS: []rung{{"micron", 0}}, everySI: []rung{{"Pa", 0}},
	units: []measure{
		{symbol: "micron", system: US, num: torr, den: 1e3, decimals: 0, names: "microns|µm|µm Hg|µmHg|micron Hg|microns Hg|microns of mercury", plural: "micron"},
		{symbol: "mTorr", system: US, num: torr, den: 1e3, decimals: 0, names: "millitorr"},
		{symbol: "Torr", system: US, num: torr, den: 1, decimals: 3},
		{symbol: "mmHg", system: US, num: millimeterMercury, den: 1, decimals: 3, names: "mm Hg"},
		{symbol: "Pa", system: SI, num: 1, den: 1, decimals: 1, names: "pascal|pascals"},
		{symbol: "kPa", system: SI, num: 1e3, den: 1, decimals: 3},
		{symbol: "mbar", system: SI, num: 100, den: 1, decimals: 3, names: "millibar|millibars"},
		{symbol: "hPa", system: SI, num: 100, den: 1, decimals: 3},
	},
	refused: []refusal{{"inHg|in Hg", "could mean above a perfect vacuum or below the atmosphere", "write micron or Pa"}},
}

var areaLoad = family{
	kind: AreaLoadKind, base: "Pa",
	low: 0, high: unbounded,
	us: "40 psf", si: "1.9 kPa",
	everyUS: []rung{{"psf", 0}}, everySI: []rung{{"kPa", 0}},
	units: []measure{
		{symbol: "psf", system: US, num: poundPerSquareFoot, den: 1, decimals: 1, names: "lb/ft2|lbs/ft2|lbf/ft2|lb/sq ft|lbs/sq ft|pounds/square foot"},
		{symbol: "kPa", system: SI, num: 1e3, den: 1, decimals: 2},
		{symbol: "Pa", system: SI, num: 1, den: 1, decimals: 0},
		{symbol: "kN/m²", system: SI, num: 1e3, den: 1, decimals: 2, names: "kN/sq m"},
		{symbol: "kg/m²", system: SI, num: standardGravity, den: 1, decimals: 1, names: "kg/sq m|kgf/m2"},
	},
}

var lineLoad = family{
	kind: LineLoadKind, base: "kg/m",
	low: 0, high: unbounded,
	us: "235 lb/ft", si: "350 kg/m",
	everyUS: []rung{{"lb/ft", 0}}, everySI: []rung{{"kg/m", 0}},
	units: []measure{
		{symbol: "lb/ft", system: US, num: pound, den: foot, decimals: 1, names: "plf|lbs/ft|lb/foot|lbf/ft|pounds/foot"},
		{symbol: "kg/m", system: SI, num: 1, den: 1, decimals: 1, names: "kg/meter|kg/metre|kgf/m"},
		{symbol: "kN/m", system: SI, num: 1e3, den: standardGravity, decimals: 2},
	},
}

package units

// Conversion constants, each in SI units. "Exact" ones are definitions; Go keeps
// them as exact fractions until they are used. Sources: NIST Special Publication
// 811 (2008), Appendix B, for the definitions and the rounded factors that
// testdata/tables/nist-sp811-conversions.csv holds them to.
const (
	inch  = 0.0254     // m, exact: international yard and pound, 1959; SP 811 B.6
	foot  = 12 * inch  // m, exact
	pound = 0.45359237 // kg, exact: international yard and pound, 1959; SP 811 B.8

	standardGravity    = 9.80665                 // m/s², exact: 3rd CGPM, 1901
	poundForce         = pound * standardGravity // N, exact
	poundPerSquareInch = poundForce / (inch * inch)
	poundPerSquareFoot = poundForce / (foot * foot)

	// The International Table Btu: 1 Btu/(lb·°F) is 4186.8 J/(kg·K), exact.
	// 5th International Conference on the Properties of Steam, 1956; SP 811 B.8.
	btu  = 4186.8 * pound * 5 / 9 // J, 1055.05585262
	hour = 3600                   // s
	day  = 24 * hour              // s

	atmosphere = 101325            // Pa, exact: standard atmosphere, 10th CGPM, 1954
	torr       = atmosphere / 760. // Pa, exact: SP 811 B.8; the vacuum trade's micron is a thousandth of it

	// Columns of liquid at their conventional densities, under standard gravity.
	// SP 811 B.8, "conventional": mercury 13 595.1 kg/m³, water 1000 kg/m³.
	millimeterMercury = 13595.1 * standardGravity / 1000 // Pa, 133.322387415
	inchMercury       = 13595.1 * standardGravity * inch // Pa, 3386.388640341
	inchWater         = 1000 * standardGravity * inch    // Pa, 249.08891
	millimeterWater   = 1000 * standardGravity / 1000    // Pa, 9.80665

	gallon = 231 * inch * inch * inch // m³, exact: US liquid gallon; SP 811 B.8
	quart  = gallon / 4
	pint   = gallon / 8
	ounce  = gallon / 128 // fluid ounce

	waterDensity = 1000 // kg/m³, by convention: condensate is measured in a jug

	horsepower = 550 * foot * poundForce // W, exact: 550 ft·lbf/s; SP 811 B.8
	ton        = 12000 * btu / hour      // W: ton of refrigeration, 12 000 Btu/h; SP 811 B.8

	btuPerHour       = btu / hour
	fahrenheit       = 5. / 9                                         // K, exact
	rValue           = fahrenheit * foot * foot * hour / btu          // m²·K/W, 0.17611018…
	btuTransmittance = btu / (hour * foot * foot * fahrenheit)        // W/(m²·K), 5.678263…
	btuInchConduct   = btu * inch / (hour * foot * foot * fahrenheit) // W/(m·K), 0.14422789…
	btuFootConduct   = btu * foot / (hour * foot * foot * fahrenheit) // W/(m·K), 1.7307347…
	btuHeatFlux      = btu / (hour * foot * foot)                     // W/m², 3.1545907…

	// 1 grain/(h·ft²·inHg) with mercury at 0 °C; SP 811 B.8 prints 5.721 35 E-11.
	// The exact definitions above give 5.721349E-11, which is 1e-7 less.
	perm = 5.72135e-11 // kg/(s·m²·Pa)

	// Area of a circle of 0.001 in diameter, in mm². SP 811 B.8, circular mil.
	circularMil = 3.14159265358979323846 / 4 * 0.0254 * 0.0254
)

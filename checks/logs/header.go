package logs

import (
	"slices"
	"strings"
	"unicode"
)

// unitMeaning is what a unit in a header stands for.
type unitMeaning struct {
	quantity Quantity
	unit     string // its usual spelling
	convert  conversion
}

// unitWords are the spellings of units, folded by foldUnit. "%" alone is not
// among them: it is relative humidity only beside a word for it.
var unitWords = map[string]unitMeaning{
	"°c": {Temperature, "°C", asWritten}, "degc": {Temperature, "°C", asWritten},
	"celsius": {Temperature, "°C", asWritten}, "gradc": {Temperature, "°C", asWritten},
	"°f": {Temperature, "°F", fahrenheit}, "degf": {Temperature, "°F", fahrenheit},
	"fahrenheit": {Temperature, "°F", fahrenheit},
	"kelvin":     {Temperature, "K", kelvin},
	"%rh":        {RelativeHumidity, "% RH", asWritten}, "%rf": {RelativeHumidity, "% RH", asWritten},
	"%hr": {RelativeHumidity, "% RH", asWritten}, "%ur": {RelativeHumidity, "% RH", asWritten},
	"%rv": {RelativeHumidity, "% RH", asWritten}, "%r.h.": {RelativeHumidity, "% RH", asWritten},
	"rh%": {RelativeHumidity, "% RH", asWritten}, "%r.f.": {RelativeHumidity, "% RH", asWritten},
	"kw": {Power, "kW", kilo}, "watt": {Power, "W", asWritten}, "watts": {Power, "W", asWritten},
	"ma": {Current, "mA", milli}, "amp": {Current, "A", asWritten}, "amps": {Current, "A", asWritten},
	"mv": {Voltage, "mV", milli}, "volt": {Voltage, "V", asWritten}, "volts": {Voltage, "V", asWritten},
	"kwh": {Energy, "kWh", asWritten}, "wh": {Energy, "Wh", milli}, "mwh": {Energy, "MWh", kilo},
	"w/m2": {HeatFlux, "W/m²", asWritten},
	"inwc": {Pressure, "in. w.c.", waterInch}, "inh2o": {Pressure, "in. w.c.", waterInch}, "pascal": {Pressure, "Pa", asWritten},
}

// shortUnits are one or two letters: units only in brackets, behind a comma or at
// the end of a name.
var shortUnits = map[string]unitMeaning{
	"c": {Temperature, "°C", asWritten}, "f": {Temperature, "°F", fahrenheit},
	"k": {Temperature, "K", kelvin}, "w": {Power, "W", asWritten},
	"a": {Current, "A", asWritten}, "v": {Voltage, "V", asWritten},
	"pa": {Pressure, "Pa", asWritten},
}

// Words by which headers of several languages name a quantity.
var (
	humidityWords = []string{"rh", "rf", "hr", "ur", "rv", "humidity", "humid", "feuchte", "luftfeuchte",
		"luftfeuchtigkeit", "feuchtigkeit", "humidité", "humidite", "humedad", "umidità", "umidita", "umidade",
		"vocht", "vochtigheid", "luchtvochtigheid", "fukt", "luftfuktighet", "fuktighet", "fugtighed", "luftfugtighed",
		"kosteus", "wilgotność", "vlhkost"}
	dewWords = []string{"dew", "dewpoint", "td", "dp", "taupunkt", "rosée", "rosee", "rocío", "rocio", "rugiada", "orvalho",
		"dauwpunt", "daggpunkt", "duggpunkt", "dugpunkt", "kastepiste", "rosy"}
	temperatureWords = []string{"temp", "temperature", "temperatur", "température", "temperatura", "temperatuur",
		"lämpötila", "teplota", "t"}
	stateWords = []string{"on/off", "ein/aus", "state", "status", "door", "defrost", "compressor", "relay", "fan",
		"tür", "porte", "puerta", "porta", "kompressor", "abtauung"}
	numberingWords = []string{"#", "no", "no.", "nr", "nr.", "n°", "nº", "num", "index", "record", "sample", "lfd", "id"}
)

// headerColumn reads name, quantity and unit from a header cell and, below it,
// the cell of a units row.
func headerColumn(name, unitsRow string) (c Column, problem string) {
	c.Name = strings.TrimSpace(name)
	found := unitsIn(name)
	if below := unitsIn("[" + unitsRow + "]"); unitsRow != "" && len(below) > 0 {
		found = below
	}
	words := headerWords(name)
	percent := slices.Contains(words, "%") || strings.TrimSpace(unitsRow) == "%"
	if len(found) == 0 && percent {
		c.Unit = "%"
		if containsAny(words, humidityWords) {
			c.Quantity, c.Unit = RelativeHumidity, "% RH"
			return c, ""
		}
		return c, quoted([]byte(c.Name)) + " is a percentage, of what is not said; say whether it is % RH"
	}
	return nameUnit(c, found, words)
}

func nameUnit(c Column, found []unitMeaning, words []string) (Column, string) {
	switch {
	case len(found) > 1:
		return c, quoted([]byte(c.Name)) + " names more than one unit; say which is meant"
	case len(found) == 1:
		c.Quantity, c.Unit = found[0].quantity, found[0].unit
		if c.Quantity == Temperature && containsAny(words, dewWords) {
			c.Quantity = DewPoint
		}
		return c, ""
	case containsAny(words, dewWords) || containsAny(words, temperatureWords):
		return c, quoted([]byte(c.Name)) + " has no unit; say whether it is °C or °F"
	case containsAny(words, humidityWords):
		return c, quoted([]byte(c.Name)) + " has no unit; say whether it is % RH"
	}
	return c, quoted([]byte(c.Name)) + " has no unit that is known and is kept as written"
}

// meaningOf returns what a unit, as a person or a file writes it, stands for.
func meaningOf(unit string) (unitMeaning, bool) {
	found := unitsIn("[" + unit + "]")
	if len(found) != 1 {
		return unitMeaning{}, false
	}
	return found[0], true
}

// unitsIn returns the different units that a header cell names.
func unitsIn(name string) []unitMeaning {
	var found []unitMeaning
	add := func(m unitMeaning) {
		same := func(o unitMeaning) bool { return o.unit == m.unit }
		if !slices.ContainsFunc(found, same) {
			found = append(found, m)
		}
	}
	words := headerWords(name)
	for i, w := range words {
		if m, ok := unitWords[w]; ok {
			add(m)
		} else if m, ok := shortUnits[w]; ok && setApart(name, w, i == len(words)-1 && i > 0) {
			add(m)
		}
	}
	return found
}

// setApart reports whether a short unit stands in brackets, behind a
// comma or slash, or last in the name.
func setApart(name, unit string, last bool) bool {
	folded := foldUnit(name)
	for _, around := range []string{"(" + unit + ")", "[" + unit + "]", "," + unit + ",", "," + unit + "("} {
		if strings.Contains(folded, around) {
			return true
		}
	}
	return last
}

// headerWords splits a header cell into folded words; the signs that units
// are written with stay within a word.
func headerWords(name string) []string {
	s := degreeSigns.Replace(strings.ToLower(name))
	return strings.FieldsFunc(s, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("°%/#.", r)
	})
}

// foldUnit writes a unit without case and spaces and with one degree sign.
func foldUnit(s string) string {
	s = degreeSigns.Replace(strings.ToLower(s))
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, s)
}

// degreeSigns maps the characters that pass for a degree sign, also a sign
// that was mangled on its way through two character sets, and joins "° C",
// "deg. C", "% RH" to one word.
var degreeSigns = strings.NewReplacer(
	"â°", "°", "º", "°", "˚", "°", "℃", "°c", "℉", "°f", "\uFFFDc", "°c", "\uFFFDf", "°f",
	"° c", "°c", "° f", "°f", "º c", "°c", "º f", "°f", "deg c", "degc", "deg f", "degf", "deg. c", "degc",
	"deg. f", "degf", "grad c", "gradc", "% rh", "%rh", "% r.h.", "%r.h.", "% rf", "%rf", "% r.f.", "%r.f.",
	"% hr", "%hr", "% ur", "%ur", "% rv", "%rv", "w/m²", "w/m2", "\u00a0", " ",
	"in. w.c.", "inwc", "in w.c.", "inwc", "in. wc", "inwc", "in wc", "inwc", "in. h2o", "inh2o", "in h2o", "inh2o", "in. h₂o", "inh2o")

func containsAny(words, wanted []string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(wanted, w) })
}

// stateValues are the cells of on/off columns.
var stateValues = map[string]float64{
	"on": 1, "off": 0, "open": 1, "closed": 0, "true": 1, "false": 0, "yes": 1, "no": 0,
	"ein": 1, "an": 1, "aus": 0, "offen": 1, "zu": 0, "marche": 1, "arrêt": 0, "arret": 0,
	"ouvert": 1, "fermé": 0, "abierto": 1, "cerrado": 0, "aan": 1, "uit": 0, "1": 1, "0": 0,
}

// stateOf reads the cell of an on/off column.
func stateOf(cell []byte) (v float64, ok bool) {
	if len(cell) == 1 && (cell[0] == '0' || cell[0] == '1') {
		return float64(cell[0] - '0'), true
	}
	v, ok = stateValues[strings.ToLower(string(cell))]
	return v, ok
}

// plausibleRange is what a value in the unit of its quantity may be. The
// limits of humidity leave room for sensors that overshoot at saturation, those
// of temperature for an attic or a hot gas line but not for the numbers by
// which loggers say that a probe is missing (−127, −99.9, 850, 999.9): common
// practice.
func plausibleRange(q Quantity) (low, high float64) {
	switch q {
	case Temperature, DewPoint:
		return -80, 150
	case RelativeHumidity:
		return 0, 110
	}
	return -maxFloat, maxFloat
}

const maxFloat = 0x1p1023 * (1 + (1 - 0x1p-52))

package units

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxText is the longest text of a value, in bytes.
const maxText = 64

// Parse reads a value of the kind as people write it, such as "5 1/2 in",
// "12 ft 6 in", "55F", "R-19" or "-0.02 in. w.c.". A count may stand without a
// unit; any other value may not. The error quotes the text and says what is
// wrong with it and what to write: no unit, an unknown or ambiguous one, a comma
// with two meanings, or a value that nature does not have.
func Parse(kind Kind, text string) (Quantity, error) {
	f := kind.family()
	if f == nil {
		return Quantity{}, unknownKind(kind)
	}
	text = strings.TrimSpace(text)
	if err := f.readable(text); err != nil {
		return Quantity{}, err
	}
	q, err := f.read(text)
	if err != nil {
		return Quantity{}, err
	}
	if err := f.possible(q); err != nil {
		return Quantity{}, err
	}
	return q, nil
}

// readable refuses a text that is empty, too long, or more than one line.
func (f *family) readable(text string) error {
	switch {
	case text == "":
		return f.refuse(text, problem{reason: "is empty"})
	case len(text) > maxText:
		return f.refuse(strings.ToValidUTF8(text[:16], ""), problem{reason: "starts a text that is too long for a value"})
	}
	for i := 0; i < len(text); {
		if c := text[i]; ' ' <= c && c <= '~' {
			i++
			continue
		}
		r, size := utf8.DecodeRuneInString(text[i:])
		if r == utf8.RuneError && size == 1 || !unicode.IsGraphic(r) {
			return f.refuse(text, problem{reason: "has a character that does not print"})
		}
		i += size
	}
	return nil
}

// read reads text, without judging whether the value is possible.
func (f *family) read(text string) (Quantity, error) {
	switch f.kind {
	case CountKind:
		return f.readCount(text)
	case SlopeKind:
		if q, ok := f.readRatio(text); ok {
			return q, nil
		}
	}
	label, body, bad := f.label(text)
	if bad != nil {
		return Quantity{}, f.refuse(text, *bad)
	}
	n, rest, bad := f.scan(body)
	if bad != nil {
		return Quantity{}, f.refuse(text, *bad)
	}
	rest = afterNumber(rest)
	if len(f.chains) > 0 && numberStart(rest) > 0 {
		return f.readChain(text, n, rest)
	}
	m, bad := f.unitAfter(n, label, rest)
	if bad != nil {
		return Quantity{}, f.refuse(text, *bad)
	}
	return Quantity{Text: text, Value: n.value, Unit: f.unit(m)}, nil
}

// label reads the word before the number, and returns what follows it.
func (f *family) label(text string) (before *label, body string, bad *problem) {
	start := numberStart(text)
	switch {
	case start < 0:
		return nil, "", &problem{reason: "has no number"}
	case start == 0 || start == signLength(text):
		return nil, text, nil
	}
	name, body := trimLabel(text[:start]), text[start:]
	var s spelling
	s.spell(name)
	for i := range f.labels {
		if string(s.fold()) == f.labels[i].name {
			return &f.labels[i], body, nil
		}
	}
	return nil, "", &problem{reason: "is not a number with a unit"}
}

// trimLabel drops what parts a label from its number: spaces, an equals sign or
// colon, and a dash that touches the label. A dash after a space stays, because
// it may be a minus.
func trimLabel(s string) string {
	for _, dash := range [...]string{"-", "–", "−", "‑"} {
		if name, ok := strings.CutSuffix(s, dash); ok && name != "" && isLetter(name[len(name)-1]) {
			return name
		}
	}
	s = strings.TrimSpace(s)
	if name, ok := strings.CutSuffix(s, "="); ok {
		return strings.TrimSpace(name)
	}
	return strings.TrimSuffix(s, ":")
}

// scan reads the number; of a wire size also the 1/0 to 4/0 of large gauges,
// which continue below gauge 0 as −1, −2 and −3.
func (f *family) scan(body string) (n number, rest string, bad *problem) {
	if f.kind == WireSizeKind && len(body) >= 3 && isDigit(body[0]) && body[0] != '0' && body[1:3] == "/0" && digits(body[3:]) == 0 {
		return number{text: body[:3], value: float64('1') - float64(body[0]), whole: true}, body[3:], nil
	}
	return scanNumber(body)
}

// afterNumber drops the space between number and unit, or the hyphen of "6-mil".
func afterNumber(rest string) string {
	if len(rest) > 1 && rest[0] == '-' && isLetter(rest[1]) {
		return rest[1:]
	}
	return strings.TrimSpace(rest)
}

// unitAfter returns the unit of a value from the label before its number and the
// text after it.
func (f *family) unitAfter(n number, before *label, text string) (*measure, *problem) {
	if before != nil && before.layer && text != "" {
		text = "sd " + text
	}
	if strings.Trim(text, "°º˚") == "" {
		return f.unitOfLabel(n, before)
	}
	s, ok := f.find(text)
	switch {
	case !ok:
		return nil, f.unknownUnit(n, text)
	case s.refusal != nil:
		return nil, &problem{s.refusal.why, s.refusal.advice}
	case s.unit.curve == gauge:
		return s.unit, checkGauge(n)
	case strings.HasSuffix(n.text, "/0"):
		return nil, &problem{reason: "divides by zero"}
	case before != nil && !before.agrees(f.measure(before.unit), s.unit):
		return nil, &problem{reason: "names two different units"}
	}
	return s.unit, nil
}

func (f *family) unitOfLabel(n number, before *label) (*measure, *problem) {
	switch {
	case before != nil && before.layer:
		return nil, &problem{"has no unit", "write it as sd " + n.text + " m"}
	case before == nil || before.unit == "" && before.why == "":
		return nil, &problem{"has no unit", f.suggestion(n)}
	case before.unit == "":
		return nil, &problem{before.why, f.withEitherUnit(n)}
	}
	m := f.measure(before.unit)
	if m.curve == gauge {
		return m, checkGauge(n)
	}
	return m, nil
}

// agrees reports whether the unit m may follow a number whose label stands for
// the unit named.
func (before *label) agrees(named, m *measure) bool {
	switch {
	case named == nil || m == named:
		return true
	case m.prefix != "":
		return false
	}
	return before.loose || m.num/m.den == named.num/named.den && m.curve == named.curve
}

// checkGauge refuses a gauge that no wire has: 12.5, 00 (which is 2/0), 99.
func checkGauge(n number) *problem {
	if !n.whole || n.value < -3 || n.value > 50 || signLength(n.text) > 0 || len(n.text) > 1 && n.text[0] == '0' {
		return &problem{"is not a wire gauge", "write 4/0 to 1/0 AWG or 0 to 50 AWG"}
	}
	return nil
}

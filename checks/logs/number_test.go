package logs

import (
	"bytes"
	"math"
	"math/big"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"
)

func plainFormat(decimal byte) numberFormat {
	return numberFormat{decimal: decimal, convert: asWritten, low: -maxFloat, high: maxFloat}
}

// TestNumberAgainstStrconv holds the fast parser to strconv, bit for bit, over
// decimals of every length that loggers write and beyond.
func TestNumberAgainstStrconv(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 300_000 {
		text := randomDecimal(random)
		want, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		for _, mark := range []byte{'.', ','} {
			f := plainFormat(mark)
			cell := []byte(strings.Replace(text, ".", string(mark), 1))
			if got, reason := f.parse(cell); reason != "" || !sameBits(got, want) {
				t.Fatalf("parse(%q) = %v %q, want %v", cell, got, reason, want)
			}
		}
	}
}

func randomDecimal(random *rand.Rand) string {
	var b []byte
	if random.IntN(3) == 0 {
		b = append(b, "-+"[random.IntN(2)])
	}
	whole, places := random.IntN(20), random.IntN(20)
	if whole+places == 0 {
		whole = 1
	}
	for range whole {
		b = append(b, byte('0'+random.IntN(10)))
	}
	if places > 0 || random.IntN(4) == 0 {
		b = append(b, '.')
	}
	for range places {
		b = append(b, byte('0'+random.IntN(10)))
	}
	return string(b)
}

var conversions = map[string]conversion{"written": asWritten, "°F": fahrenheit, "K": kelvin, "kilo": kilo, "milli": milli}

// exactly converts with rational numbers of any length (math/big), rounded once.
func (c conversion) exactly(text string) float64 {
	v, _ := new(big.Rat).SetString(text)
	v.Add(v, big.NewRat(c.shift, 100))
	v.Mul(v, big.NewRat(c.mul, c.div))
	f, _ := v.Float64()
	return f
}

// TestConversionsAreRoundedOnce compares with exact fractions: up to 12 digits
// bit for bit, beyond within 3 units in the last place of the number written.
func TestConversionsAreRoundedOnce(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for range 20_000 {
		text := randomDecimal(random)
		digits := len(strings.Trim(text, "+-.")) - strings.Count(text, ".")
		for name, c := range conversions {
			f := plainFormat('.')
			f.convert = c
			got, reason := f.parse([]byte(text))
			want := c.exactly(text)
			if reason != "" {
				t.Fatalf("%s of %q: %s", name, text, reason)
			}
			if digits <= 12 && !sameBits(got, want) && got != want {
				t.Fatalf("%s of %q = %v, want %v", name, text, got, want)
			}
			written, _ := strconv.ParseFloat(text, 64)
			scale := max(math.Abs(written), math.Abs(float64(c.shift)/100)) * float64(c.mul) / float64(c.div)
			if math.Abs(got-want) > 3*0x1p-52*scale {
				t.Fatalf("%s of %q = %v, want %v within 3 units in the last place", name, text, got, want)
			}
		}
	}
}

// Fixed points of the scales: definition of the degree Fahrenheit (212 °F and
// 32 °F are 100 °C and 0 °C, −40 is −40), and tenths that come back exactly.
func TestFahrenheit(t *testing.T) {
	f := plainFormat('.')
	f.convert = fahrenheit
	for text, want := range map[string]float64{"212": 100, "32": 0, "-40": -40, "55.4": 13, "53.6": 12, "57.2": 14, "58.1": 14.5} {
		if got, reason := f.parse([]byte(text)); got != want || reason != "" {
			t.Errorf("%s °F = %v °C %q, want %v", text, got, reason, want)
		}
	}
}

func TestOddNumbers(t *testing.T) {
	for _, tt := range []struct {
		cell           string
		decimal, group byte
		suffix         string
		want           float64
		reason         string
	}{
		{"1,234.5", '.', ',', "", 1234.5, ""},
		{"1,234", '.', ',', "", 1234, ""},
		{"1,234,567", '.', ',', "", 1234567, ""},
		{"1234567", '.', ',', "", 1234567, ""},
		{"1.234,5", ',', '.', "", 1234.5, ""},
		{"1 234,5", ',', ' ', "", 1234.5, ""},
		{"1\u202f234,5", ',', ' ', "", 1234.5, ""},
		{"1'234.5", '.', '\'', "", 1234.5, ""},
		{"\u22122.5", '.', 0, "", -2.5, ""},
		{"1.5e3", '.', 0, "", 1500, ""},
		{"13.4 °C", '.', 0, "°C", 13.4, ""},
		{"13.4°c", '.', 0, "°C", 13.4, ""},
		{"13.4", '.', 0, "°C", 13.4, ""},
		{"55 °F", '.', 0, "°C", 0, "the unit is not that of the column, °c"},
		{"13.4 °C", '.', 0, "", 0, "not a number"},
		{"1,23,456", '.', ',', "", 0, "not a number"},
		{"12345,678", '.', ',', "", 0, "not a number"},
		{"1,234", '.', 0, "", 0, "not a number"},
		{"13.4.1", '.', 0, "", 0, "not a number"},
		{"1e999", '.', 0, "", 0, "number out of range"},
		{"NaN", '.', 0, "", 0, "not a number"},
		{"inf", '.', 0, "", 0, "not a number"},
		{"0x10", '.', 0, "", 0, "not a number"},
		{"1_000", '.', 0, "", 0, "not a number"},
		{"-", '.', 0, "", 0, "not a number"},
		{".", '.', 0, "", 0, "not a number"},
		{"---", '.', 0, "", 0, "not a number"},
	} {
		f := plainFormat(tt.decimal)
		f.group, f.suffix, f.written = tt.group, foldUnit(tt.suffix), tt.suffix
		got, reason := f.parse([]byte(tt.cell))
		if got != tt.want || reason != tt.reason {
			t.Errorf("parse(%q) = %v %q, want %v %q", tt.cell, got, reason, tt.want, tt.reason)
		}
	}
}

var strictNumber = regexp.MustCompile(`^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,4})?$`)

// FuzzNumber: what is accepted is a number for strconv too, the same to the
// bit; what has the form of one is accepted.
func FuzzNumber(f *testing.F) {
	for _, s := range []string{"13.4", "-0", "9007199254740993", "0.1e-5", "1.7976931348623157e308", "123456789012345678901234567890.1", "\u221213.4"} {
		f.Add([]byte(s))
	}
	format := plainFormat('.')
	f.Fuzz(func(t *testing.T, cell []byte) {
		got, reason := format.parse(cell)
		text := strings.TrimRightFunc(string(bytes.Replace(cell, []byte("\u2212"), []byte("-"), 1)), unicode.IsSpace)
		want, err := strconv.ParseFloat(text, 64)
		if shaped := strictNumber.MatchString(text); (reason == "") != (shaped && err == nil) {
			t.Fatalf("parse(%q) = %v %q; strconv %v %v", cell, got, reason, want, err)
		}
		if reason == "" && !sameBits(got, want) {
			t.Fatalf("parse(%q) = %v, want %v", cell, got, want)
		}
	})
}

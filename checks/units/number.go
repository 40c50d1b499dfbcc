package units

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// number is a number as written at the start of a value.
type number struct {
	text  string
	value float64
	whole bool // digits alone: no fraction, no decimals, no exponent
}

// problem is a reason why a text cannot be read and what to type instead; the
// advice is empty where the kind's own examples serve.
type problem struct{ reason, advice string }

// scanNumber reads a number at the start of s: 12, -0.02, 12,8, 5 1/2, 1-1/8,
// 5½, 3/8, 5.7e-11. It returns what follows it.
func scanNumber(s string) (n number, rest string, bad *problem) {
	sign := signLength(s)
	size := 0
	n.value, size, n.whole, bad = scanMagnitude(s[sign:])
	if bad != nil {
		return n, s, bad
	}
	n.text, rest = s[:sign+size], s[sign+size:]
	if size == 0 || strings.HasPrefix(rest, ".") {
		return n, s, &problem{reason: "is not a number with a unit"}
	}
	if sign > 0 && s[0] != '+' && n.value != 0 {
		n.value = -n.value
	}
	return n, rest, nil
}

// signLength returns how many bytes of s are a plus or a minus: the hyphen, the
// minus sign U+2212, or the en dash that word processors put in its place.
func signLength(s string) int {
	switch {
	case s == "":
		return 0
	case s[0] == '-' || s[0] == '+':
		return 1
	case strings.HasPrefix(s, "−") || strings.HasPrefix(s, "–"):
		return len("−")
	}
	return 0
}

func scanMagnitude(s string) (value float64, size int, whole bool, bad *problem) {
	if num, den, size := vulgarFraction(s); size > 0 {
		return num / den, size, false, nil
	}
	n := digits(s)
	if n > 0 {
		if value, size, bad = scanFraction(s, n); size > 0 || bad != nil {
			return value, size, false, bad
		}
	}
	return scanDecimal(s, n)
}

// scanFraction reads a fraction whose first n bytes are digits: 3/8, 5 1/2,
// 1-1/8, 5½, 5 ½. It returns size 0 when there is none.
func scanFraction(s string, n int) (value float64, size int, bad *problem) {
	if n == len(s) {
		return 0, 0, nil
	}
	if num, den, size := slashFraction(s); size > 0 {
		return properly(0, num, den, size)
	}
	gap := 0
	if s[n] == ' ' || s[n] == '-' {
		gap = 1
	}
	whole, err := strconv.ParseFloat(s[:n], 64)
	if err != nil {
		return 0, 0, nil
	}
	if num, den, size := vulgarFraction(s[n+gap:]); size > 0 {
		return whole + num/den, n + gap + size, nil
	}
	if num, den, size := slashFraction(s[n+gap:]); gap > 0 && size > 0 {
		if num >= den && den > 0 {
			return 0, 0, &problem{reason: "has a fraction that is not less than 1"}
		}
		return properly(whole, num, den, n+gap+size)
	}
	return 0, 0, nil
}

func properly(whole, num, den float64, size int) (float64, int, *problem) {
	if den == 0 {
		return 0, 0, &problem{reason: "divides by zero"}
	}
	return (whole*den + num) / den, size, nil
}

// slashFraction reads digits, a slash and digits.
func slashFraction(s string) (num, den float64, size int) {
	n := digits(s)
	slash := 0
	switch {
	case n == 0:
		return 0, 0, 0
	case strings.HasPrefix(s[n:], "/"):
		slash = 1
	case strings.HasPrefix(s[n:], "⁄"): // U+2044 fraction slash
		slash = len("⁄")
	}
	d := digits(s[n+slash:])
	if slash == 0 || d == 0 || n > 9 || d > 9 {
		return 0, 0, 0
	}
	num, _ = strconv.ParseFloat(s[:n], 64) // digits alone parse
	den, _ = strconv.ParseFloat(s[n+slash:n+slash+d], 64)
	return num, den, n + slash + d
}

// vulgarFraction reads one of the fractions that have a character.
func vulgarFraction(s string) (num, den float64, size int) {
	if s == "" || s[0] < utf8.RuneSelf {
		return 0, 0, 0
	}
	r, size := utf8.DecodeRuneInString(s)
	switch r {
	case '½':
		return 1, 2, size
	case '¼':
		return 1, 4, size
	case '¾':
		return 3, 4, size
	case '⅛':
		return 1, 8, size
	case '⅜':
		return 3, 8, size
	case '⅝':
		return 5, 8, size
	case '⅞':
		return 7, 8, size
	case '⅓':
		return 1, 3, size
	case '⅔':
		return 2, 3, size
	}
	return 0, 0, 0
}

// scanDecimal reads a decimal number with n digits before its point or comma.
func scanDecimal(s string, n int) (value float64, size int, whole bool, bad *problem) {
	size, whole = n, true
	if rest := s[n:]; rest != "" && (rest[0] == '.' || rest[0] == ',') {
		d := digits(rest[1:])
		if d == 0 || n == 0 && rest[0] == ',' {
			return 0, 0, false, nil
		}
		size, whole = n+1+d, false
		if bad := separators(s, n, d); bad != nil {
			return 0, 0, false, bad
		}
	}
	if size == 0 {
		return 0, 0, false, nil
	}
	if e := exponent(s[size:]); e > 0 {
		size, whole = size+e, false
	}
	value, err := strconv.ParseFloat(strings.Replace(s[:size], ",", ".", 1), 64)
	if err != nil {
		return 0, 0, false, &problem{"is too large a number", "check the exponent"}
	}
	return value, size, whole, nil
}

// separators refuses a number whose comma may group thousands. s has n digits, a
// point or comma, and d digits.
func separators(s string, n, d int) *problem {
	rest := s[n+1+d:]
	if rest != "" && (rest[0] == ',' || rest[0] == '.' && digits(rest[1:]) > 0) {
		return &problem{"has more than one point or comma", "write it with one decimal point and no other separator"}
	}
	if s[n] == ',' && d == 3 {
		point, plain := s[:n]+"."+s[n+1:n+1+d], s[:n]+s[n+1:n+1+d]
		return &problem{"could mean " + point + " or " + plain, "write it without the comma"}
	}
	return nil
}

// exponent returns the length of the decimal exponent at the start of s.
func exponent(s string) int {
	if s == "" || s[0]|0x20 != 'e' {
		return 0
	}
	sign := 0
	if len(s) > 1 && (s[1] == '+' || s[1] == '-') {
		sign = 1
	}
	if d := digits(s[1+sign:]); d > 0 {
		return 1 + sign + d
	}
	return 0
}

// digits returns how many ASCII digits s starts with.
func digits(s string) int {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return n
}

// numberStart returns where the first number of s starts: at a digit, at the
// point or sign before it, or at the character of a fraction; -1 if nowhere.
func numberStart(s string) int {
	for i := range s {
		if isDigit(s[i]) || s[i] == '.' && digits(s[i+1:]) > 0 {
			return i
		}
		if _, _, size := vulgarFraction(s[i:]); size > 0 {
			return i
		}
	}
	return -1
}

package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"proveout/checks/logs"
	"proveout/jobs"
)

// settle answers what kept a file from being read: by the order of dates that was
// said, or by asking on a terminal. Otherwise the error says what to type.
func (r *logReader) settle(l *readLog, order logs.DateOrder, err error) error {
	var date *logs.AmbiguousDate
	var number *logs.AmbiguousNumber
	switch {
	case errors.As(err, &date):
		return r.settleDate(l, order, date)
	case errors.As(err, &number):
		return r.settleNumber(l, number)
	case errors.Is(err, logs.ErrNoZone):
		return r.settleZone(l, err)
	}
	return err
}

func (r *logReader) settleDate(l *readLog, order logs.DateOrder, e *logs.AmbiguousDate) error {
	if reading, ok := e.Reading(order); ok {
		l.answers.Layout = reading.Layout
		return nil
	}
	mixed := len(e.Readings) == 0 || e.Readings[0].Line > 0
	if mixed {
		return e
	}
	if order != "" {
		return fmt.Errorf("line %d: %q cannot be read %s\n%s", e.Line, e.Text, order, typeDates(e))
	}
	if !r.e.terminal {
		return fmt.Errorf("line %d: %q can be read in %d ways\n%s%s", e.Line, e.Text, len(e.Readings), typeDates(e), l.orProfile())
	}
	r.e.sayf("%s, line %d: %s can be\n", terminalText(l.name), e.Line, terminalText(e.Text))
	for i, reading := range e.Readings {
		r.e.sayf("  %d  %s\n", i+1, reading.Time.Format("2 January 2006"))
	}
	return r.e.askUntil("Which one is it, 1 to "+strconv.Itoa(len(e.Readings)), "", func(text string) error {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 || n > len(e.Readings) {
			return fmt.Errorf("type a number from 1 to %d", len(e.Readings))
		}
		l.answers.Layout = e.Readings[n-1].Layout
		return nil
	})
}

// typeDates are the flags that answer an ambiguous date.
func typeDates(e *logs.AmbiguousDate) string {
	var ways []string
	for _, reading := range e.Readings {
		flag := string(logs.OrderOf(reading.Layout))
		if flag == "" {
			flag = strconv.Quote(reading.Layout)
		}
		ways = append(ways, fmt.Sprintf("--dates %s (%s)", flag, reading.Time.Format("2 January 2006")))
	}
	return "say which it is: " + strings.Join(ways, " or ")
}

// orProfile points to the profiles that fit.
func (l *readLog) orProfile() string {
	if len(l.fits) == 0 {
		return ""
	}
	return "\nor take the profile that fits: --profile " + strings.Join(l.fits, " or --profile ")
}

func (r *logReader) settleNumber(l *readLog, e *logs.AmbiguousNumber) error {
	decimal := strings.ReplaceAll(e.Text, string(e.Mark), ".")
	whole := strings.ReplaceAll(e.Text, string(e.Mark), "")
	mark := logs.MarkWord(e.Mark)
	other := "point"
	if e.Mark == '.' {
		other = "comma"
	}
	if !r.e.terminal {
		return fmt.Errorf("line %d: %q can be %s or %s\nsay which it is: --decimal %s (%s) or --decimal %s (%s)%s",
			e.Line, e.Text, decimal, whole, mark, decimal, other, whole, l.orProfile())
	}
	r.e.sayf("%s, line %d: %s can be %s or %s\n", terminalText(l.name), e.Line, terminalText(e.Text), decimal, whole)
	return r.e.askUntil("Decimal mark of the file, point or comma", "", func(text string) (err error) {
		l.answers.Decimal, err = logs.ParseDecimal(text)
		return err
	})
}

func (r *logReader) settleZone(l *readLog, err error) error {
	if !r.e.terminal {
		return fmt.Errorf("%w\nsay where the logger's clock belongs: --zone America/Chicago, or --zone -06:00 if it does not follow summer time%s", err, l.orProfile())
	}
	return r.e.askUntil("Where the logger's clock belongs, like America/Chicago, or -06:00 without summer time", "", func(text string) (err error) {
		l.answers.Zone, err = jobs.ParseZone(text)
		return err
	})
}

// askRest asks on a terminal for units that the file does not tell and for rows of
// the hour that comes twice; again reports that there is something new to read by.
func (r *logReader) askRest(l *readLog) (again bool, err error) {
	if !r.e.terminal {
		return false, nil
	}
	for _, c := range l.Dialect.Columns {
		if c.Role != logs.Value || c.Quantity != logs.Unknown || l.asked[c.Name] {
			continue
		}
		said, err := r.askUnit(l, c.Name)
		if err != nil {
			return false, err
		}
		again = again || said
	}
	if l.Preview.Open == 0 || l.askedDoubled {
		return again, nil
	}
	said, err := r.askDoubled(l)
	return again || said, err
}

// askUnit asks what a column without a known unit holds.
func (r *logReader) askUnit(l *readLog, name string) (said bool, err error) {
	if l.asked == nil {
		l.asked = map[string]bool{}
	}
	l.asked[name] = true
	question := fmt.Sprintf("Column %q of %s has no unit that is known. Unit, like °C, °F or %% RH (empty: keep it as it is)", name, l.name)
	err = r.e.askUntil(terminalText(question), "", func(text string) error {
		if text == "" {
			return nil
		}
		meaning, err := logs.ParseMeaning(text)
		if err != nil {
			return err
		}
		meaning.Name, said = name, true
		l.answers.Columns = append(l.answers.Columns, meaning)
		return nil
	})
	return said, err
}

// askDoubled asks which pass the rows belong to that nothing tells apart.
func (r *logReader) askDoubled(l *readLog) (said bool, err error) {
	l.askedDoubled = true
	question := fmt.Sprintf("%s of %s in the hour that comes twice: first or second pass (empty: leave them out)", plural(l.Preview.Open, "row"), l.name)
	err = r.e.askUntil(terminalText(question), "", func(text string) (err error) {
		l.answers.Doubled, err = logs.ParseDoubled(text)
		return err
	})
	return l.answers.Doubled != logs.ByOrder, err
}

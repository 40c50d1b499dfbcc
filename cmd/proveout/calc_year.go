package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"proveout/checks/cooling"
	"proveout/checks/logs"
	"proveout/checks/units"
)

var yearQuestion = &question{
	use:   "year FOUND.yaml [REBUILT.yaml]",
	short: "Heat, electricity and cost of a year; what it costs to leave a room as it is",
	long: `Adds up what a room asks of its cooling unit over a year outdoors, and what
electricity that takes: a share of the best that a machine could do between its
coil and its condenser. With two files it compares the room as found with the same
room rebuilt, units replaced counted. The files are those of calc load, with sides
called house and, for what faces the weather, outdoors; the first, or --weather,
gives the year:

  months:
    - {month: January, temperature: 25 °F}
    - … twelve of them

--weather is a logger's file of outdoor temperatures over a year, by hours. Heat
taken from a heated house in winter is paid for a second time; that is not counted.`,
	example: `  proveout calc year room.yaml --price 0.18
  proveout calc year found.yaml rebuilt.yaml --price 0.18 --unit-price 2800 --units-a-year 0.33 --explain`,
	inputs: []input{
		{flag: "share", kind: units.PercentKind, doc: "of Carnot's performance; 35 % is a good unit, 25 % a poor one (assumed)", otherwise: "30 %"},
		{flag: "coil", kind: units.TemperatureDifferenceKind, doc: "room above evaporating temperature", otherwise: "8.5 K"},
	},
	files: "many",
	flags: func(c *cobra.Command) {
		c.Flags().Float64("price", 0, "price of a kWh, in your currency")
		c.Flags().Float64("unit-price", 0, "price of a cooling unit, installed")
		c.Flags().Float64("units-a-year", 0, "units replaced a year as found, such as 0.33")
		c.Flags().String("weather", "", "logger's file of hourly outdoor temperatures")
		logFlags(c)
	},
	answer: yearAnswer,
}

func yearAnswer(a *asking) (*answer, error) {
	if len(a.files) > 2 {
		return nil, &usageError{"give one room, or the room as found and as rebuilt"}
	}
	first, err := a.roomFile()
	if err != nil {
		return nil, err
	}
	outdoors, err := a.outdoors(first)
	if err != nil {
		return nil, err
	}
	r := &answer{}
	name := "as found"
	if len(a.files) == 1 {
		name = "the room"
	}
	found, err := a.roomYear(r, name, first, outdoors)
	if err != nil || len(a.files) == 1 {
		return r, err
	}
	second, err := readRoomFile(a.env.path(a.files[1]))
	if err != nil {
		return nil, err
	}
	rebuilt, err := a.roomYear(r, "as rebuilt", second, outdoors)
	if err != nil {
		return nil, err
	}
	rebuilt.UnitsPerYear = 0
	broken, err := cooling.StayingBroken(found, rebuilt)
	if err != nil {
		return nil, err
	}
	r.addNumber("electricity saved a year", fmt.Sprintf("%.0f kWh", broken.Extra.KilowattHours()), broken.Extra.KilowattHours(), "kWh")
	r.addNumber("cost of staying broken a year", fmt.Sprintf("%.2f", float64(broken.PerYear)), float64(broken.PerYear), "")
	r.Steps = append(r.Steps, broken.Steps...)
	return r, nil
}

// coldest is where a temperature outdoors is worth naming, °C.
const coldest = -40

// outdoors is the year that the months of the file or a weather file give.
func (a *asking) outdoors(f *roomFile) ([]cooling.Hours, error) {
	file, err := a.c.Flags().GetString("weather")
	if err != nil {
		return nil, err
	}
	switch {
	case file != "" && f.months != nil:
		return nil, &usageError{"give the months in the file or --weather, not both"}
	case file == "" && len(f.months) == 12:
		return cooling.Months([12]units.Temperature(f.months)), nil
	case file == "":
		return nil, &usageError{"the file gives no year outdoors; add months: with twelve temperatures, or --weather FILE.csv"}
	}
	log, err := a.readLog(file)
	if err != nil {
		return nil, err
	}
	temperatures := log.Find(logs.Temperature)
	if len(temperatures) != 1 {
		return nil, fmt.Errorf("%s has %d columns of temperature; one is wanted", file, len(temperatures))
	}
	from, to, err := a.span(log.Dialect.Zone)
	if err != nil {
		return nil, err
	}
	hours, err := hourly(temperatures[0], from, to)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	series := make([]units.Temperature, len(hours))
	for i, t := range hours {
		series[i] = units.Temperature(t)
	}
	return cooling.Hourly(series), nil
}

// roomYear adds what one room takes in the year, and returns what it costs.
func (a *asking) roomYear(r *answer, of string, f *roomFile, outdoors []cooling.Hours) (cooling.Expense, error) {
	demand, err := f.room.Demand(f.sides, "outdoors", "house")
	if err != nil {
		return cooling.Expense{}, err
	}
	e := cooling.Efficiency{
		Share:       a.values["share"].Base() / 100,
		Evaporating: f.room.Air.Temperature.Add(-a.values["coil"].TemperatureDifference()),
	}
	var unit cooling.Capacity
	if f.unit != nil {
		unit = cooling.Held{Capacity: f.unit}
	}
	y, err := demand.Year(outdoors, e, unit)
	if err != nil && unit != nil {
		r.note("The hours in which the unit is too small are not counted: %v.", err)
		unit = nil
		y, err = demand.Year(outdoors, e, nil)
	}
	if err != nil {
		return cooling.Expense{}, err
	}
	r.Steps = append(r.Steps, y.Steps...)
	expense, err := a.expense(y)
	if err != nil {
		return expense, err
	}
	r.addText(of, fmt.Sprintf("%.0f h outdoors", y.Hours))
	add := func(name string, v float64, unit string) {
		r.addNumber(name, fmt.Sprintf("%.0f %s", v, unit), v, unit)
		r.below(of)
	}
	add("heat to remove", y.Heat.KilowattHours(), "kWh")
	add("electricity", y.Electricity.KilowattHours(), "kWh")
	r.addNumber("heat over electricity", fmt.Sprintf("%.2f", y.MeanCOP), y.MeanCOP, "")
	r.below(of)
	if unit != nil {
		add("hours in which the unit is too small", y.Short, "h")
	}
	if balance, ok := demand.Balance(); ok && balance > coldest {
		r.add("needs no cooling below outdoors", a.of(units.TemperatureKind, float64(balance)))
		r.below(of)
	}
	if expense.PricePerKWh > 0 {
		costs := float64(expense.PricePerKWh) * y.Electricity.KilowattHours()
		r.addNumber("electricity costs", fmt.Sprintf("%.2f", costs), costs, "")
		r.below(of)
	}
	return expense, nil
}

// expense is a year with the prices of the flags.
func (a *asking) expense(y cooling.Year) (cooling.Expense, error) {
	price, errP := a.c.Flags().GetFloat64("price")
	unit, errU := a.c.Flags().GetFloat64("unit-price")
	replaced, errR := a.c.Flags().GetFloat64("units-a-year")
	return cooling.Expense{Year: y, PricePerKWh: cooling.Money(price), UnitPrice: cooling.Money(unit), UnitsPerYear: replaced}, firstError(errP, errU, errR)
}

package cooling

import (
	"errors"
	"fmt"
	"slices"

	"proveout/checks/units"
)

// Money is an amount in the currency of its price.
type Money float64

// Expense is what a room costs by the year.
type Expense struct {
	Year         Year
	PricePerKWh  Money
	UnitsPerYear float64 // cooling units replaced a year, as 0.33
	UnitPrice    Money   // of one, installed
}

// Cost is a year's cost of a room.
type Cost struct {
	Electricity, Units Money
}

// Total returns both.
func (c Cost) Total() Money { return c.Electricity + c.Units }

// Cost returns the year's cost.
func (e Expense) Cost() (Cost, error) {
	err := errors.Join(
		within("hours of the year", e.Year.Hours, 8000, 8784, "h"),
		within("price per kWh", float64(e.PricePerKWh), 0, 1e6, ""),
		within("units replaced a year", e.UnitsPerYear, 0, 12, ""),
		within("price of a unit", float64(e.UnitPrice), 0, 1e9, ""),
	)
	if err != nil {
		return Cost{}, fmt.Errorf("cost of a year: %w", err)
	}
	return Cost{
		Electricity: e.PricePerKWh * Money(e.Year.Electricity.KilowattHours()),
		Units:       e.UnitPrice * Money(e.UnitsPerYear),
	}, nil
}

// Broken is the cost of leaving a room as it was found.
type Broken struct {
	Found, Rebuilt Cost
	PerYear        Money  // found − rebuilt
	Extra          Energy // electricity a year
	Steps          []Step
}

// StayingBroken compares a room as found with the same room rebuilt, over the same
// outdoor year. What is taken from a heated house in winter is paid for a second
// time; that is not counted.
func StayingBroken(found, rebuilt Expense) (Broken, error) {
	f, errFound := found.Cost()
	r, errRebuilt := rebuilt.Cost()
	if err := errors.Join(errFound, errRebuilt); err != nil {
		return Broken{}, err
	}
	if difference := found.Year.Hours - rebuilt.Year.Hours; difference > 1 || difference < -1 {
		return Broken{}, fmt.Errorf("cost of staying broken: %g h as found and %g h as rebuilt; use the same outdoor year", found.Year.Hours, rebuilt.Year.Hours)
	}
	b := Broken{Found: f, Rebuilt: r, PerYear: f.Total() - r.Total(), Extra: found.Year.Electricity - rebuilt.Year.Electricity}
	b.Steps = []Step{
		{Name: "electricity as found", Formula: "kWh · price", Value: fmt.Sprintf("%.0f kWh, %.2f", found.Year.Electricity.KilowattHours(), f.Electricity)},
		{Name: "electricity as rebuilt", Formula: "kWh · price", Value: fmt.Sprintf("%.0f kWh, %.2f", rebuilt.Year.Electricity.KilowattHours(), r.Electricity)},
		{Name: "units replaced as found", Formula: "a year · price", Value: fmt.Sprintf("%.2f", f.Units)},
		{Name: "units replaced as rebuilt", Formula: "a year · price", Value: fmt.Sprintf("%.2f", r.Units)},
		{Name: "cost of staying broken", Formula: "found − rebuilt", Value: fmt.Sprintf("%.0f kWh, %.2f a year", b.Extra.KilowattHours(), b.PerYear)},
	}
	return b, nil
}

// DegreeDays sums, over daily mean temperatures, what lies above (cooling) and below
// (heating) a base, K·day. Sums of hourly values are larger, by a fifth in a mild
// summer: do not mix the two.
func DegreeDays(dailyMeans []units.Temperature, base units.Temperature) (cooling, heating float64, err error) {
	if len(dailyMeans) == 0 {
		return 0, 0, errors.New("degree days: no days; give the daily mean temperatures")
	}
	for i, t := range dailyMeans {
		if err := errors.Join(airTemperature("day", t), airTemperature("base", base)); err != nil {
			return 0, 0, fmt.Errorf("degree days: day %d: %w", i+1, err)
		}
		cooling += max(0, float64(t-base))
		heating += max(0, float64(base-t))
	}
	return cooling, heating, nil
}

// DailyMeans averages an hourly series by whole days; hours of an unfinished last day
// are an error.
func DailyMeans(hourly []units.Temperature) ([]units.Temperature, error) {
	if len(hourly) == 0 || len(hourly)%24 != 0 {
		return nil, fmt.Errorf("daily means: %d hours are not whole days; give 24 values for each day", len(hourly))
	}
	var means []units.Temperature
	for d := range slices.Chunk(hourly, 24) {
		sum := units.Temperature(0)
		for _, t := range d {
			sum += t
		}
		means = append(means, sum/24)
	}
	return means, nil
}

// HeatByDegreeDays returns the heat of a year from cooling degree days to the
// balance temperature, 24 h · UA_out · CDD.
func (d Demand) HeatByDegreeDays(coolingDegreeDays float64) (Energy, error) {
	if err := errors.Join(d.valid(), within("degree days", coolingDegreeDays, 0, 60000, "K·day")); err != nil {
		return 0, fmt.Errorf("heat by degree days: %w", err)
	}
	return Energy(float64(d.Outdoors) * coolingDegreeDays * day), nil
}

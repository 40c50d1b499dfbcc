package checks

import (
	"errors"
	"fmt"

	"proveout/checks/cooling"
	"proveout/checks/diagnosis"
	"proveout/checks/units"
)

// Costs are prices by which leaving a room as it is can be counted. They are the
// company's own, in one currency.
type Costs struct {
	Currency     string  // "$", "€"
	Electricity  float64 // of a kWh; 0 when no prices are known
	CoolingUnit  float64 // installed
	UnitsPerYear float64 // replaced as found
}

// usualShare is the performance of a small air-cooled unit as a share of the best
// that a machine could do (assumed: 0.25 poor, 0.35 good).
const usualShare = 0.30

// Waiting is what it costs by the year to leave a room as it was found.
type Waiting struct {
	cooling.Broken
	Currency string
	Steps    []Step
}

// waiting compares the room as found with the room as planned; nil while prices,
// the outdoor months, the leak or the plan are not known. As found the unit takes
// out no more than it can: a room that does not hold costs less electricity than
// one that would.
func (d Diagnosis) waiting(prices Costs) (*Waiting, error) {
	if !(prices.Electricity > 0) || d.Planned == nil || len(d.Months) != 12 || len(d.Planned.Months) != 12 {
		return nil, nil
	}
	unit := d.Room.Unit
	if p := d.Room.Planned; p != nil && p.Unit != nil {
		unit = *p.Unit
	}
	found, errFound := d.expense(d.Months, d.Room.Unit, prices)
	planned, errPlanned := d.expense(d.Planned.Months, unit, prices)
	if err := errors.Join(errFound, errPlanned); err != nil {
		return nil, err
	}
	found.UnitsPerYear = prices.UnitsPerYear
	broken, err := cooling.StayingBroken(found, planned)
	if err != nil {
		return nil, err
	}
	w := &Waiting{Broken: broken, Currency: prices.Currency}
	w.Steps = append([]Step{{
		Name: "performance of the unit", Formula: "η·T_e/(T_c − T_e), T_c = max(T_rejects + 12 K, 30 °C), η = 0.30",
		Value: fmt.Sprintf("mean %.2f as found, %.2f as planned", found.Year.MeanCOP, planned.Year.MeanCOP), Source: "assumed share of Carnot; months of job.yaml",
	}}, broken.Steps...)
	return w, nil
}

// Sentences say it in plain words.
func (w Waiting) Sentences() []string {
	var all []string
	if kWh := w.Extra.KilowattHours(); kWh >= 1 {
		all = append(all, fmt.Sprintf("Electricity: about %.0f kWh a year more than the room as planned, %s.", kWh, w.amount(w.Found.Electricity-w.Rebuilt.Electricity)))
	}
	if w.Found.Units > 0 {
		all = append(all, fmt.Sprintf("Cooling units that wear out: %s a year, at the pace so far.", w.amount(w.Found.Units)))
	}
	if w.PerYear > 0 {
		all = append(all, fmt.Sprintf("Together about %s a year. What damp does to walls, corks and labels is not counted, nor are repairs.", w.amount(w.PerYear)))
	}
	return all
}

func (w Waiting) amount(m cooling.Money) string {
	return fmt.Sprintf("%s %.0f", w.Currency, float64(m))
}

func (d Diagnosis) expense(months []diagnosis.Month, unit diagnosis.Unit, prices Costs) (cooling.Expense, error) {
	coil := unit.CoilDifference
	if coil == 0 {
		coil = 8.5 // as the diagnosis takes it
	}
	e := cooling.Efficiency{Share: usualShare, Evaporating: d.Room.Set.Add(-coil)}
	var year []cooling.Stretch
	for i, h := range cooling.Months([12]units.Temperature{}) {
		m := months[i]
		heat := m.Load
		if m.Able.Taken {
			heat = min(heat, m.Able.Value)
		}
		year = append(year, cooling.Stretch{Hours: h.Hours, Heat: heat, Rejects: m.Rejects})
	}
	y, err := e.Spend(year)
	return cooling.Expense{
		Year: y, PricePerKWh: cooling.Money(prices.Electricity), UnitPrice: cooling.Money(prices.CoolingUnit),
	}, err
}

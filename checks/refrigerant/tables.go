package refrigerant

import (
	_ "embed" // the tables
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"
	"sync"

	"proveout/checks/units"
)

// What the tables span. lowestSaturated to highestSaturated in steps of 1 K,
// lowestDew to highestDew in steps of dewStep.
const (
	lowestSaturated  units.Temperature = -40
	highestSaturated units.Temperature = 65
	lowestDew        units.Temperature = -30
	highestDew       units.Temperature = 20
	dewStep                            = 2
)

// superheats are the columns of superheat at each dew temperature, K.
var superheats = [...]float64{0, 5, 10, 15, 20, 30}

//go:embed fluids.csv
var fluidsCSV string

//go:embed saturation.csv
var saturationCSV string

//go:embed superheat.csv
var superheatCSV string

// saturated is one row of saturation.csv in base units.
type saturated struct {
	bubble, dew                   float64 // Pa
	liquidDensity, vaporDensity   float64 // kg/m³
	liquidEnthalpy, vaporEnthalpy float64 // J/kg
	liquidViscosity               float64 // Pa·s
}

// superheated is one row of superheat.csv.
type superheated struct{ density, enthalpy, viscosity float64 }

// fluids is parsed once, on first use; its test reads every row.
var fluids = sync.OnceValues(func() ([]*Fluid, error) {
	all, err := readFluids(fluidsCSV)
	if err != nil {
		return nil, err
	}
	byName := map[string]*Fluid{}
	for _, f := range all {
		byName[f.Name] = f
	}
	if err := eachRow(saturationCSV, func(row fields) { row.saturated(byName[row.text[0]]) }); err != nil {
		return nil, fmt.Errorf("saturation table: %w", err)
	}
	if err := eachRow(superheatCSV, func(row fields) { row.superheated(byName[row.text[0]]) }); err != nil {
		return nil, fmt.Errorf("superheat table: %w", err)
	}
	for _, f := range all {
		if len(f.saturated) != int(highestSaturated-lowestSaturated)+1 || len(f.vapor) != (int(highestDew-lowestDew)/dewStep+1)*len(superheats) {
			return nil, fmt.Errorf("%s: %d rows at saturation and %d of superheat are not the whole table", f.Name, len(f.saturated), len(f.vapor))
		}
	}
	return all, nil
})

func readFluids(text string) ([]*Fluid, error) {
	var all []*Fluid
	err := eachRow(text, func(row fields) {
		all = append(all, &Fluid{
			Name: row.text[0], Parts: row.text[1], Group: SafetyGroup(row.text[2]),
			GroupSet: row.text[3] + " (" + row.text[4] + ")",
		})
	})
	return all, err
}

// fields is one row of a table; err keeps its first bad number.
type fields struct {
	text []string
	err  *error
}

// eachRow reads a table without its head.
func eachRow(text string, row func(fields)) error {
	r := csv.NewReader(strings.NewReader(text))
	r.Comment, r.ReuseRecord = '#', true
	if _, err := r.Read(); err != nil {
		return err
	}
	for {
		record, err := r.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		row(fields{record, &err})
		if err != nil {
			line, _ := r.FieldPos(0)
			return fmt.Errorf("line %d: %w", line, err)
		}
	}
}

// number returns a column in base units.
func (row fields) number(column int, factor float64) float64 {
	x, err := strconv.ParseFloat(row.text[column], 64)
	if err != nil && *row.err == nil {
		*row.err = fmt.Errorf("%q is not a number", row.text[column])
	}
	return x * factor
}

func (row fields) saturated(f *Fluid) {
	if f == nil || units.Temperature(row.number(1, 1)) != lowestSaturated+units.Temperature(len(f.saturated)) {
		*row.err = fmt.Errorf("%s at %s °C is out of order", row.text[0], row.text[1])
		return
	}
	f.saturated = append(f.saturated, saturated{
		bubble: row.number(2, 1000), dew: row.number(3, 1000),
		liquidDensity: row.number(4, 1), vaporDensity: row.number(5, 1),
		liquidEnthalpy: row.number(6, 1000), vaporEnthalpy: row.number(7, 1000),
		liquidViscosity: row.number(10, 1e-6),
	})
}

func (row fields) superheated(f *Fluid) {
	if f == nil {
		*row.err = fmt.Errorf("%s is not among the refrigerants", row.text[0])
		return
	}
	i := len(f.vapor)
	dew := lowestDew + units.Temperature(i/len(superheats)*dewStep)
	if units.Temperature(row.number(1, 1)) != dew || row.number(3, 1) != superheats[i%len(superheats)] {
		*row.err = fmt.Errorf("%s at %s °C and %s K is out of order", row.text[0], row.text[1], row.text[3])
		return
	}
	f.vapor = append(f.vapor, superheated{density: row.number(4, 1), enthalpy: row.number(5, 1000), viscosity: row.number(7, 1e-6)})
}

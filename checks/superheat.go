package checks

import (
	"fmt"

	"proveout/checks/refrigerant"
	"proveout/checks/units"
)

// lineNeeds are the readings of a pressure with the tube beside it.
func lineNeeds(line, pressure, temperature string) []Need {
	return []Need{
		{Name: line + " pressure", Kind: units.GaugePressureKind, Example: pressure, Doc: "on the gauge, unit running steadily for 15 min near set point"},
		{Name: line + " tube temperature", Kind: units.TemperatureKind, Example: temperature, Doc: "of the tube beside the gauge, insulated from the air"},
		{Name: "gauge uncertainty", Kind: units.GaugePressureKind, Example: "1 psig", Doc: "from the gauge's certificate or data sheet"},
		{Name: "thermometer uncertainty", Kind: units.TemperatureDifferenceKind, Example: "1 °F", Doc: "from its certificate or data sheet"},
	}
}

const saturationSource = "saturation by CoolProp 8.0.1dev tables (computed), gauge with the standard barometer of the altitude; limits: the unit's data sheet"

// Superheat asks how far the suction gas is above the dew temperature of its
// pressure.
var Superheat = &Check{
	Name:    "superheat",
	Doc:     "suction gas above the dew temperature of its pressure",
	Source:  saturationSource,
	Result:  units.TemperatureDifferenceKind,
	Figures: []string{"unit as planned", "unit as found"},
	Needs:   lineNeeds("suction", "35 psig", "45 °F"),
	Each: func(c Case, f Fact) Point {
		return saturated(c, f, "suction", refrigerant.LineReading.Superheat)
	},
}

// Subcooling asks how far the liquid is below the bubble temperature of its
// pressure.
var Subcooling = &Check{
	Name:    "subcooling",
	Doc:     "liquid below the bubble temperature of its pressure",
	Source:  saturationSource,
	Result:  units.TemperatureDifferenceKind,
	Figures: []string{"unit as planned", "unit as found"},
	Needs:   lineNeeds("liquid", "150 psig", "100 °F"),
	Each: func(c Case, f Fact) Point {
		return saturated(c, f, "liquid", refrigerant.LineReading.Subcooling)
	},
}

func saturated(c Case, f Fact, line string, distance func(refrigerant.LineReading) (refrigerant.Distance, error)) Point {
	fluid, err := fluidOf(c.Room)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	air, err := barometer(c.Room)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	p, err := refrigerant.Absolute(f.Values[line+" pressure"].GaugePressure(), air)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	d, err := distance(refrigerant.LineReading{
		Fluid: fluid, Absolute: p, GaugeUncertainty: f.Values["gauge uncertainty"].GaugePressure(),
		Tube: f.Values[line+" tube temperature"].Temperature(), TubeUncertainty: f.Values["thermometer uncertainty"].TemperatureDifference(),
	})
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	point := Point{Place: f.Place, Steps: d.Steps, measured: true}
	point.Quantity = units.Of(units.TemperatureDifferenceKind, float64(d.Value), c.Room.Units)
	point.Uncertainty = units.Of(units.TemperatureDifferenceKind, float64(d.Uncertainty), c.Room.Units)
	point.Value = point.Quantity.String() + " of " + fluid.Name
	return point
}

// fluidOf returns the refrigerant that job.yaml names for the unit. Its safety group
// must be the one that the plan goes by.
func fluidOf(room *Room) (*refrigerant.Fluid, error) {
	unit := room.planned()
	if unit == nil || unit.Refrigerant == "" {
		return nil, fmt.Errorf("job.yaml names no refrigerant; write it from the plate under unit as planned: refrigerant")
	}
	fluid, err := refrigerant.FluidNamed(unit.Refrigerant)
	if err != nil {
		return nil, err
	}
	if class := room.Properties["refrigerant class"]; class != "" && class != string(fluid.Group) {
		return nil, fmt.Errorf("job.yaml says refrigerant class %s, and %s is of group %s; correct the one that is wrong", class, fluid.Name, fluid.Group)
	}
	return fluid, nil
}

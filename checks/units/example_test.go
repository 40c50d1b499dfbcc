package units_test

import (
	"fmt"

	"proveout/checks/units"
)

func ExampleParse() {
	depth, err := units.Parse(units.LengthKind, "5 1/2 in")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(depth, "is", depth.In(units.SI))
	_, err = units.Parse(units.LengthKind, "5.5")
	fmt.Println(err)
	// Output:
	// 5 1/2 in is 139.7 mm
	// "5.5" has no unit; write it as 5.5 in or 140 mm
}

// The same writing is a thickness or a vacuum, by the kind asked for.
func ExampleParse_byKind() {
	film, _ := units.Parse(units.LengthKind, "500 micron")
	pipe, _ := units.Parse(units.VacuumKind, "500 micron")
	fmt.Println(film.In(units.US), "and", pipe.In(units.SI))
	// Output: 0.02 in and 66.7 Pa
}

func ExampleQuantity_Understood() {
	depth, _ := units.Parse(units.LengthKind, "140 mm")
	fmt.Println(depth.Understood(units.SI))
	fmt.Println(depth.Understood(units.US))
	// Output:
	// 140 mm
	// 140 mm (5.51 in)
}

func ExampleDifference() {
	surface, _ := units.Parse(units.TemperatureKind, "63.4 °F")
	dewPoint := units.Of(units.TemperatureKind, 15.763, units.US)
	margin := units.Difference(surface, dewPoint)
	wanted, _ := units.Parse(units.TemperatureDifferenceKind, "3 °F")
	fmt.Println("dew point", dewPoint, "margin", margin, units.AtLeast(margin, wanted))
	// Output: dew point 60.4 °F margin 3 °F true
}

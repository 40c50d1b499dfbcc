package diagnosis

import (
	"maps"
	"math"
	"slices"

	"proveout/checks/airflow"
	"proveout/checks/envelope"
	"proveout/checks/humidair"
	"proveout/checks/units"
)

// climate is the air around the room at one time: on the visit or on the design day.
type climate struct {
	name   string
	sides  map[envelope.OtherSide]SideAir
	intake Reading[units.Temperature]
}

// visit returns the climate as read.
func (r Room) visit() climate {
	return climate{name: "at the visit", sides: r.Readings.Sides, intake: r.Readings.Intake}
}

// summer returns the climate of the design day; the intake is the hottest one logged.
func (r Room) summer() climate {
	c := climate{name: "on the design day", sides: map[envelope.OtherSide]SideAir{}, intake: r.Readings.Hottest}
	for side, air := range r.Design {
		c.sides[side] = SideAir{Read(air.Temperature), Read(air.Humidity)}
	}
	return c
}

// state returns the air of a side; ok is false without temperature or humidity.
func (c climate) state(side envelope.OtherSide, p units.Pressure) (airflow.State, bool) {
	air := c.sides[side]
	if !air.Temperature.Taken || !air.Humidity.Taken {
		return airflow.State{}, false
	}
	s, err := airflow.Air{Temperature: air.Temperature.Value, Humidity: air.Humidity.Value, Pressure: p}.State()
	return s, err == nil
}

// missing returns the sides of faces without a temperature, in order.
func (c climate) missing(faces []Face) []envelope.OtherSide {
	lacks := map[envelope.OtherSide]bool{}
	for _, f := range faces {
		if !c.sides[f.Side].Temperature.Taken {
			lacks[f.Side] = true
		}
	}
	return slices.Sorted(maps.Keys(lacks))
}

// inside is the room's air by the readings out of the supply air.
type inside struct {
	temperature Reading[units.Temperature]
	humidity    Reading[units.RelativeHumidity]
	warmest     units.Temperature
	coldest     units.Temperature
	places      int // with a temperature
	warmestAt   string
	coldestAt   string
	state       airflow.State // with temperature and humidity
	stated      bool
	leftOut     int           // readings in the supply air
	atSet       airflow.State // at set point and the middle of the band
}

func (r Room) inside(p units.Pressure) (inside, error) {
	var in inside
	var ts []units.Temperature
	var hs []units.RelativeHumidity
	for _, a := range r.Readings.Air {
		if a.InSupply {
			in.leftOut++
			continue
		}
		if a.Humidity.Taken {
			hs = append(hs, a.Humidity.Value)
		}
		if !a.Temperature.Taken {
			continue
		}
		t := a.Temperature.Value
		if len(ts) == 0 || t > in.warmest {
			in.warmest, in.warmestAt = t, a.Place
		}
		if len(ts) == 0 || t < in.coldest {
			in.coldest, in.coldestAt = t, a.Place
		}
		ts = append(ts, t)
	}
	in.temperature, in.humidity, in.places = mean(ts), mean(hs), len(ts)
	var err error
	in.atSet, err = airflow.Air{Temperature: r.Set, Humidity: (r.Band.Low + r.Band.High) / 2, Pressure: p}.State()
	if err == nil && in.temperature.Taken && in.humidity.Taken {
		in.state, err = airflow.Air{Temperature: in.temperature.Value, Humidity: in.humidity.Value, Pressure: p}.State()
		in.stated = err == nil
	}
	return in, err
}

// sideOf turns the name of a load's side back.
func sideOf(name string) envelope.OtherSide { return envelope.OtherSide(name) }

// dewPoint returns that of an air.
func dewPoint(s airflow.State) (units.Temperature, error) {
	return humidair.DewPoint(s.Temperature, s.Humidity)
}

// stackPressure returns the size of the pressure that the room's own stack makes, Pa.
func stackPressure(house, room airflow.State, height units.Length) float64 {
	return math.Abs(float64(airflow.StackPressure(house.Density, room.Density, height)))
}

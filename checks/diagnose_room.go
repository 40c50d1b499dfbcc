package checks

import (
	"cmp"
	"fmt"
	"time"

	"proveout/checks/airflow"
	"proveout/checks/cooling"
	"proveout/checks/diagnosis"
	"proveout/checks/envelope"
	"proveout/checks/humidair"
	"proveout/checks/units"
)

// room takes from job.yaml what the room is and what goes on in it.
func (v *visit) room() {
	r := v.c.Room
	v.out = diagnosis.Room{
		Name: r.Job, Set: known[units.Temperature](r.SetPoint), Show: r.Units,
		Band:     diagnosis.Band{Low: known[units.RelativeHumidity](r.LowHumidity), High: known[units.RelativeHumidity](r.HighHumidity)},
		Height:   known[units.Length](r.Height),
		Readings: diagnosis.Readings{Sides: map[envelope.OtherSide]diagnosis.SideAir{}},
	}
	if volume, ok := r.Volume(); ok {
		v.out.Volume = volume
	}
	if r.Altitude.Known() {
		v.out.Altitude = r.Altitude.Length()
	} else {
		v.assume("the altitude: sea level was assumed")
	}
	for i := range r.Faces {
		v.out.Faces = append(v.out.Faces, v.faceAsFound(&r.Faces[i]))
	}
	v.out.Use = v.use()
	v.out.Contents = v.contents()
	v.out.Unit.RejectsTo = rejects(r.UnitAsFound)
}

// faceAsFound is a face by its layers, or by a transmittance that stands for them.
func (v *visit) faceAsFound(f *Face) diagnosis.Face {
	face := bare(f)
	face.Sun = known[units.TemperatureDifference](f.Sun)
	face.Transmittance = known[units.Transmittance](f.Transmittance)
	if face.Transmittance == 0 {
		face.Assembly = v.assembly(f.Name, f.AsFound)
	}
	return face
}

func bare(f *Face) diagnosis.Face {
	return diagnosis.Face{
		Name: f.Name, Kind: envelope.FaceKind(f.Kind), Side: envelope.OtherSide(f.OtherSide), Area: known[units.Area](f.Area),
	}
}

// known is a quantity's base value, 0 when it is not known.
func known[T ~float64](q units.Quantity) T {
	if !q.Known() {
		return 0
	}
	return T(q.Base())
}

// assembly makes the layers of a face; with one that nobody knows the face is unknown.
func (v *visit) assembly(face string, layers []Layer) envelope.Assembly {
	a := envelope.Assembly{Name: face}
	for i, l := range layers {
		layer, err := layerOf(v.c.Room.Materials, l)
		if err != nil {
			v.rejectJob(face, fmt.Errorf("layer %d: %w", i+1, err))
			return envelope.Assembly{Name: face}
		}
		a.Layers = append(a.Layers, layer)
	}
	return a
}

// rejects is the space that a unit's condenser stands in.
func rejects(u *Unit) envelope.OtherSide {
	if u == nil {
		return ""
	}
	return envelope.OtherSide(u.Rejects)
}

// unitOf is a cooling unit by its data sheet.
func unitOf(u *Unit) (diagnosis.Unit, error) {
	unit := diagnosis.Unit{
		Name: cmp.Or(u.Model, "the unit"), RejectsTo: rejects(u),
		CoilDifference: known[units.TemperatureDifference](u.Difference),
	}
	var err error
	if unit.Capacity, err = capacityOf(u); err != nil {
		return unit, err
	}
	if u.HighestIntake.Known() {
		unit.IntakeLimit = diagnosis.Read(u.HighestIntake.Temperature())
	}
	if u.Split.Known() && u.Room.Known() && u.Humidity.Known() && u.Outdoor.Known() {
		unit.Sheet = diagnosis.Sheet{
			Split:   diagnosis.Read(u.Split.TemperatureDifference()),
			Room:    diagnosis.Air{Temperature: u.Room.Temperature(), Humidity: u.Humidity.RelativeHumidity()},
			Outdoor: u.Outdoor.Temperature(),
		}
	}
	return unit, nil
}

// usualDifference is the room above the coil in a unit made for 60 % RH (common
// practice); the diagnosis says when it was assumed.
const usualDifference = 8.5

// capacityOf is a unit's capacity table, or its one rating with the slopes of its
// refrigerant.
func capacityOf(u *Unit) (cooling.Capacity, error) {
	if u.Table != nil {
		var points []cooling.RatedPoint
		for _, p := range u.Table {
			points = append(points, cooling.RatedPoint{
				Room: known[units.Temperature](p.Room), Outdoor: known[units.Temperature](p.Outdoor), Capacity: known[units.Power](p.Capacity),
			})
		}
		return cooling.NewTable(points)
	}
	if !u.Capacity.Known() || !u.Room.Known() || !u.Outdoor.Known() {
		return nil, fmt.Errorf("it lacks a capacity, or the room and outdoor temperature that it holds at")
	}
	slopes, err := cooling.RefrigerantSlopes(u.Refrigerant)
	if err != nil {
		return nil, err
	}
	difference := units.TemperatureDifference(usualDifference)
	if u.Difference.Known() {
		difference = u.Difference.TemperatureDifference()
	}
	return cooling.Rating{
		Capacity: u.Capacity.Power(), Room: u.Room.Temperature(), Outdoor: u.Outdoor.Temperature(), Difference: difference, Slopes: slopes,
	}, nil
}

// use is what goes on in the room in a day.
func (v *visit) use() diagnosis.Use {
	u := v.c.Room.Use
	out := diagnosis.Use{People: known[float64](u.People), PeopleFor: known[float64](u.PeopleStay) / 3600, Water: known[units.Mass](u.Water)}
	for _, d := range u.Doors {
		if face := v.c.Room.Face(d.Door); face != nil {
			out.Doors = append(out.Doors, doorOf(d, face.OtherSide))
		}
	}
	for _, a := range u.Appliances {
		out.Appliances = append(out.Appliances, cooling.Appliance{Name: a.Name, Power: known[units.Power](a.Power), Hours: seconds(a.Runs).Hours()})
	}
	out.Restock.Bottle = cooling.StandardBottle
	if r := u.Restock; r.Bottles.Known() && r.Temperature.Known() && r.Over.Known() {
		out.Restock = cooling.Restock{Bottle: cooling.StandardBottle, Count: r.Bottles.Base(), Arriving: r.Temperature.Temperature(), Over: r.Over.Duration()}
	}
	return out
}

func doorOf(d DoorUse, side string) cooling.Door {
	return cooling.Door{
		Name: d.Door + " in use", Side: side,
		Doorway: cooling.Doorway{Height: known[units.Length](d.Height), Area: units.Area(known[float64](d.Height) * known[float64](d.Width))},
		DoorUse: cooling.DoorUse{
			Passages: known[float64](d.Passages), PerPassage: seconds(d.Each), Standing: seconds(d.Standing), Period: 24 * time.Hour,
		},
	}
}

func seconds(q units.Quantity) time.Duration {
	if !q.Known() {
		return 0
	}
	return q.Duration()
}

// Figures of what has to warm up with the room.
const (
	bottleFilm    = 6.0    // W/(m²·K), still air (assumed)
	bottleExposed = 0.6    // share of a bottle in a rack that sees moving air (assumed)
	boardHeat     = 8900.0 // J/(m²·K), gypsum board 12.7 mm: 700 kg/m³ · 1000 J/(kg·K), ISO 10456 (from memory)
)

// contents is what has to warm up and cool down, nil when the volume is not known.
func (v *visit) contents() *cooling.Contents {
	pressure, err := humidair.StandardPressure(v.out.Altitude)
	if err != nil || v.out.Volume == 0 {
		return nil
	}
	air, err := airflow.Air{Temperature: v.out.Set, Humidity: v.out.Band.Low, Pressure: pressure}.State()
	if err != nil {
		return nil
	}
	light := cooling.AirHeat(v.out.Volume, air)
	for _, f := range v.out.Faces {
		if f.Kind != envelope.Glass {
			light += cooling.HeatCapacity(boardHeat * float64(f.Area))
		}
	}
	return &cooling.Contents{
		Bottle: cooling.StandardBottle, Count: float64(max(1, v.c.Room.Bottles)), Film: bottleFilm, Exposed: bottleExposed, Light: light,
	}
}

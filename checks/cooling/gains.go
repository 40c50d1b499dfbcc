package cooling

import (
	"errors"
	"fmt"
	"time"

	"proveout/checks/airflow"
	"proveout/checks/humidair"
	"proveout/checks/units"
)

// Restock is warm bottles put into the room.
type Restock struct {
	Bottle   Bottle
	Count    float64           // bottles
	Arriving units.Temperature // when they come in
	Over     time.Duration     // the time in which they come, or are to be cooled
}

// Heat returns the mean heat flow n·C·(T_in − T_r)/time. Wine in bottle has no
// heat of respiration.
func (r Restock) Heat(room units.Temperature) (units.Power, error) {
	if r.Count == 0 {
		return 0, nil
	}
	err := errors.Join(
		r.Bottle.valid(),
		within("bottles", r.Count, 0, 1e6, ""),
		within("time of restocking", r.Over.Hours(), 0.1, 24*366, "h"),
		airTemperature("arriving bottles", r.Arriving),
		airTemperature("room", room),
	)
	if err != nil {
		return 0, fmt.Errorf("restocking: %w", err)
	}
	heat := r.Count * float64(r.Bottle.HeatCapacity()) * float64(r.Arriving.Sub(room))
	return units.Power(heat / r.Over.Seconds()), nil
}

// Appliance is anything that turns electricity into heat in the room: lights and
// their drivers, the evaporator fan. All of its input counts.
type Appliance struct {
	Name  string
	Power units.Power
	Hours float64 // of running a day, 0 to 24
}

// Mean returns the heat averaged over the day.
func (a Appliance) Mean() units.Power { return a.Power * units.Power(a.Hours/24) }

// PersonHeat returns the total heat of a person at work in a cold room, 272 − 6·t
// W, −25 to 25 °C. ASHRAE Refrigeration ch. 24 (from memory).
func PersonHeat(room units.Temperature) (units.Power, error) {
	if err := within("room", float64(room), -25, 25, "°C"); err != nil {
		return 0, fmt.Errorf("heat of a person: %w", err)
	}
	return units.Power(272 - 6*float64(room)), nil
}

// MotorHeat returns the heat that a motor of shaft power and efficiency leaves in
// the room: P/η with motor and load inside, P with the load alone, P·(1/η − 1)
// with the motor alone. ASHRAE Fundamentals ch. 18 (from memory).
func MotorHeat(shaft units.Power, efficiency float64, motorInside, loadInside bool) (units.Power, error) {
	if err := errors.Join(within("shaft power", float64(shaft), 0, 1e5, "W"), within("motor efficiency", efficiency, 0.01, 1, "")); err != nil {
		return 0, fmt.Errorf("motor heat: %w", err)
	}
	var heat units.Power
	if loadInside {
		heat = shaft
	}
	if motorInside {
		heat += shaft * units.Power(1/efficiency-1)
	}
	return heat, nil
}

// Diffusion returns the vapor that passes through the material of a face,
// permeance·A·(p_other − p_r), and its latent heat. It is positive into the room.
func (f Face) Diffusion(other, room airflow.Air) (airflow.Carried, error) {
	outside, err := humidair.VaporPressure(other.Temperature, other.Humidity)
	if err != nil {
		return airflow.Carried{}, err
	}
	inside, err := humidair.VaporPressure(room.Temperature, room.Humidity)
	if err != nil {
		return airflow.Carried{}, err
	}
	if err := f.valid(); err != nil {
		return airflow.Carried{}, fmt.Errorf("face %q: %w", f.Name, err)
	}
	water := float64(f.Permeance) * float64(f.Area) * float64(outside-inside)
	return airflow.Carried{
		Water:  airflow.MassRate(water),
		Latent: units.Power(water * (latent + vaporHeat*float64(other.Temperature))),
	}, nil
}

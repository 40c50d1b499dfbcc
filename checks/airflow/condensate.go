package airflow

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// Condensate is the water that a cooling unit drained in a steady day, read as a
// meter of the house air that leaked in.
type Condensate struct {
	Water units.Mass // of one day, 0 to 200 kg
	// Inside is the water of the same day that did not come with air: people,
	// wet cleaning, a humidifier, new concrete.
	Inside units.Mass
}

// Infiltration is the leak that a day's condensate stands for.
type Infiltration struct {
	DryAir MassRate
	Flow   units.Airflow // of house air
	// Kept is the water that each m³ of house air leaves in the room, kg.
	Kept  float64
	Steps []Step
}

// Infiltration returns the leak when the room's humidity was the same at the end
// of the day as at its start. It counts water that diffused through the walls as
// leaked air too, and so is on the high side; and it is an error when the house's
// air holds hardly more water than the room's, since then condensate says nothing.
func (c Condensate) Infiltration(house, room State) (Infiltration, error) {
	err := errors.Join(
		within("condensate", float64(c.Water), 0, 200, "kg/day"),
		within("water from inside", float64(c.Inside), 0, float64(c.Water), "kg/day"),
	)
	if err != nil {
		return Infiltration{}, fmt.Errorf("condensate: %w", err)
	}
	const least = 0.0005 // kg/kg; the two humidity sensors together are no better
	if house.Ratio-room.Ratio < least {
		return Infiltration{}, fmt.Errorf("condensate: house air holds %.1f g/kg and room air %.1f g/kg; measure on a day with at least %.1f g/kg between them",
			1000*house.Ratio, 1000*room.Ratio, 1000*least)
	}
	var i Infiltration
	i.DryAir = MassRate(float64(c.Water-c.Inside) / 86400 / float64(house.Ratio-room.Ratio))
	i.Flow = units.Airflow(float64(i.DryAir) * float64(house.Volume))
	i.Kept = float64(house.Ratio-room.Ratio) / float64(house.Volume)
	i.Steps = []Step{
		{Name: "water left by house air", Formula: "(W_house − W_room) / v_house", Value: fmt.Sprintf("%.2f g/m³", 1000*i.Kept), Source: "ASHRAE Fundamentals ch. 1"},
		{Name: "condensate", Value: fmt.Sprintf("%.2f kg/day, of it %.2f from inside", c.Water, c.Inside), Source: "weighed"},
		{Name: "house air leaking in", Formula: "condensate / water left", Value: flowText(i.Flow), Source: "mass balance, steady room"},
	}
	return i, nil
}

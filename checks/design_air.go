package checks

import (
	"fmt"

	"proveout/checks/envelope"
)

// year returns twelve months on both sides of a face, January first. Outdoors
// are the months of the place where job.yaml gives them; elsewhere, and without
// them, the design conditions of summer hold for the warm half of the year and
// those of winter for the other, which is more than any mean brings. The room is
// at its set point and its highest humidity.
func (r *Room) year(f *Face) ([]envelope.Month, error) {
	inside, err := airOf(Space{Name: "the room", Temperature: r.SetPoint, Humidity: r.HighHumidity})
	if err != nil {
		return nil, err
	}
	months := envelope.SteadyYear(inside, inside)
	for i := range months {
		name, space := r.monthOf(f.OtherSide, i)
		if space == nil {
			return nil, fmt.Errorf("job.yaml gives no design conditions for %s in %s", f.OtherSide, name)
		}
		if months[i].Other, err = airOf(*space); err != nil {
			return nil, err
		}
		if name != "" && space.Season != "" {
			months[i].Name = name
		}
	}
	return months, nil
}

// monthOf returns the air of a space in a month, 0 to 11, and the season it
// stands for, "" for a month of its own.
func (r *Room) monthOf(space string, month int) (season string, air *Space) {
	if space == "outdoors" && len(r.Months) == 12 {
		m := r.Months[month]
		return "", &Space{Name: "outdoors in " + m.Name, Temperature: m.Temperature, Humidity: m.Humidity}
	}
	season = "winter"
	if r.warmHalf(month) {
		season = "summer"
	}
	return season, r.Space(space, season)
}

// warmHalf reports whether a month, 0 to 11, lies in the warm half of the year:
// April to September, or the other half where July is colder than January.
func (r *Room) warmHalf(month int) bool {
	south := len(r.Months) == 12 && known[float64](r.Months[6].Temperature) < known[float64](r.Months[0].Temperature)
	return (month >= 3 && month < 9) != south
}

// stress returns the airs of a space that a surface must stay dry in: that of
// the season stress where job.yaml gives one, otherwise each that it gives.
func (r *Room) stress(space string) []Space {
	var all []Space
	for _, s := range r.Spaces {
		switch {
		case s.Name != space:
		case s.Season == "stress":
			return []Space{s}
		default:
			all = append(all, s)
		}
	}
	return all
}

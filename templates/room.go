package templates

import (
	"cmp"
	"fmt"
	"strconv"

	"proveout/checks/units"
)

// roomFacts are the room's size and what it is to hold.
func (d Dossier) roomFacts() []fact {
	r := d.Room
	year := "not known"
	if r.YearBuilt > 0 {
		year = strconv.Itoa(r.YearBuilt)
	}
	all := []fact{
		{"Inside length, width, height", fmt.Sprintf("%s by %s by %s", r.Length, r.Width, r.Height)},
	}
	if v, ok := r.Volume(); ok {
		all = append(all, fact{"Volume", units.Of(units.VolumeKind, float64(v), r.Units).String() + " (computed)"})
	}
	all = append(all,
		fact{"Set point", r.SetPoint.String()},
		fact{"Humidity", d.humidityBand()},
		fact{"Bottles", strconv.Itoa(r.Bottles)},
		fact{"Pull-down", fmt.Sprintf("within %s, %s", r.PullDownLimit, cmp.Or(r.PullDownLoad, "empty"))},
		fact{"House built", year},
	)
	if r.Altitude.Known() {
		all = append(all, fact{"Altitude", r.Altitude.String()})
	}
	if r.GuardBand {
		all = append(all, fact{"Acceptance", "guard band: a value within its instrument's uncertainty of the limit does not pass"})
	} else {
		all = append(all, fact{"Acceptance", "simple: a value at its limit passes"})
	}
	return append(all, d.properties()...)
}

func (d Dossier) humidityBand() string {
	return fmt.Sprintf("%s to %s", d.Room.LowHumidity, d.Room.HighHumidity)
}

func (d Dossier) conditions() []condition {
	var all []condition
	for _, s := range d.Room.Spaces {
		c := condition{Space: s.Name, Season: cmp.Or(s.Season, "all year"), Temperature: s.Temperature.String()}
		if s.Humidity.Known() {
			c.Humidity = s.Humidity.String()
		}
		all = append(all, c)
	}
	return all
}

func (d Dossier) equipment() []equipment {
	var all []equipment
	for _, e := range d.Equipment {
		all = append(all, equipment{e.Item, e.Model, e.Serial, e.Settings, e.Note})
	}
	return all
}

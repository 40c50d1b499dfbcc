package diagnosis

import "slices"

// explain finds what causes a sign. A sign is explained when causes are named for it
// and no reading that could turn the answer is missing.
func (d *diagnosis) explain(s *Sign) {
	s.Explained = true
	switch s.Symptom {
	case TooWarm, HardlyRests:
		d.explainHeat(s)
	case HotCondenser:
		d.explainHotCondenser(s)
	case BadInSummer:
		d.explainSummer(s)
	case TooHumid:
		d.explainHumid(s)
	case TooDry:
		d.explainDry(s)
	case ShortCycles:
		d.explainShortCycles(s)
	case Uneven:
		d.explainUneven(s)
	case Sweating:
		d.explainSweating(s)
	case WetFraming:
		d.explainWetFraming(s)
	case WaterAtUnit:
		d.explainWater(s)
	case Moldy:
		d.explainMold(s)
	case LetsAirIn:
		d.explainAir(s)
	case WorseWithFan:
		d.explainFans(s)
	}
	if len(s.By) == 0 && s.NoFault == "" {
		s.Explained = false
	}
}

// follows lists, for signs that often come with another, the causes that explain
// them too once they are named for that other sign.
var follows = map[Symptom][]Cause{
	TooHumid: {AirLeakage, DoorOrGlass, UnitTooSmall, UnitFaulty, HeatTrapped, DrainOrWater, ControlOrAirflow},
	Moldy:    {AirLeakage, DoorOrGlass, Insulation, Retarder, DrainOrWater, ControlOrAirflow, PastMoisture},
	Uneven:   {ControlOrAirflow, AirLeakage, DoorOrGlass},
}

// explainByOthers lets causes named for other signs explain those that come with
// them.
func (d *diagnosis) explainByOthers() {
	for _, s := range d.signs {
		if s.Explained {
			continue
		}
		for _, c := range follows[s.Symptom] {
			if f := d.findings[c]; f != nil && f.Named && d.settled(c) {
				s.By = append(s.By, c)
				s.Explained = true
			}
		}
	}
}

// settled reports whether a cause is named for a sign that is explained.
func (d *diagnosis) settled(c Cause) bool {
	return slices.ContainsFunc(d.signs, func(s *Sign) bool { return s.Explained && slices.Contains(s.By, c) })
}

package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks/refrigerant"
	"proveout/checks/units"
)

var riseQuestion = &question{
	use:   "vacuum-rise",
	short: "Leak or moisture, by the rise of a vacuum that was closed off",
	long: `Six readings or more of time and vacuum, with the valve shut at the system and the
gauge at the far end. A rise that goes on straight is a leak; one that flattens is
water, or gas out of oil. It says undecided where the hold was too short to tell.`,
	example: `  proveout calc vacuum-rise --reading "0 min=300 micron" --reading "10 min=592 micron" --reading "20 min=742 micron" --reading "30 min=819 micron" --reading "40 min=858 micron" --reading "50 min=879 micron" --coldest 55F`,
	inputs: []input{
		{flag: "coldest", kind: units.TemperatureKind, doc: "coldest place along the line"},
		{flag: "gauge-uncertainty", kind: units.VacuumKind, doc: "of the gauge, k = 2", otherwise: "20 micron"},
		{flag: "volume", kind: units.VolumeKind, doc: "inside of the circuit, for the rate of a leak", optional: true},
	},
	flags: func(c *cobra.Command) {
		c.Flags().StringArray("reading", nil, `time and vacuum, such as "10 min=420 micron"; give it six times or more`)
	},
	answer: riseAnswer,
}

func riseAnswer(a *asking) (*answer, error) {
	texts, err := a.c.Flags().GetStringArray("reading")
	if err != nil {
		return nil, err
	}
	rise := refrigerant.Rise{GaugeUncertainty: a.values["gauge-uncertainty"].Pressure(), Coldest: a.values["coldest"].Temperature()}
	if q, ok := a.values["volume"]; ok {
		rise.Volume = q.Volume()
	}
	for _, text := range texts {
		after, vacuum, ok := strings.Cut(text, "=")
		t, errT := units.Parse(units.DurationKind, after)
		p, errP := units.Parse(units.VacuumKind, vacuum)
		if err := firstError(errT, errP); err != nil || !ok {
			return nil, &usageError{fmt.Sprintf("--reading %q: %v; write it as --reading \"10 min=420 micron\"", text, err)}
		}
		rise.Readings = append(rise.Readings, refrigerant.RiseReading{After: t.Duration(), Pressure: p.Pressure()})
	}
	result, err := rise.Judge()
	if err != nil {
		return nil, err
	}
	r := &answer{Of: result.Cause.String(), Steps: result.Steps}
	r.add("rise in an hour, by the line", a.of(units.VacuumKind, max(0, result.Rate*3600)))
	if result.Cause == refrigerant.WaterRise {
		r.add("flattens towards", a.of(units.VacuumKind, float64(result.Levels)))
	}
	if result.Leak > 0 {
		r.addNumber("leak", fmt.Sprintf("%.2e Pa·m³/s", result.Leak), result.Leak, "Pa·m³/s")
	}
	r.note("%s", result.Reason)
	return r, nil
}

var oxygenQuestion = &question{
	use:   "oxygen",
	short: "Oxygen that is left in a shut room after nitrogen was let out",
	long: `Nitrogen gives no warning. Below 19.5 % air is oxygen-deficient (29 CFR 1910.146): door
open, purge to outdoors, an oxygen alarm on. The figure is for gas well mixed; close
to a hose it is worse.`,
	example: `  proveout calc oxygen --nitrogen "70 ft³" --room "640 ft³"`,
	inputs: []input{
		{flag: "nitrogen", kind: units.VolumeKind, doc: "let out, as gas at the room's pressure"},
		{flag: "room", kind: units.VolumeKind, doc: "volume of the room"},
	},
	answer: func(a *asking) (*answer, error) {
		left, err := refrigerant.OxygenLeft(a.values["nitrogen"].Volume(), a.values["room"].Volume())
		if err != nil {
			return nil, err
		}
		const least = 19.5 // %, 29 CFR 1910.146
		q := a.of(units.PercentKind, float64(left))
		r := &answer{}
		r.add("oxygen", q)
		r.step("oxygen", "20.9 % · e^(−nitrogen/room)", "well-mixed dilution at constant pressure")
		r.judge(float64(left) >= least, q.String()+" of oxygen; below 19.5 % nobody stays in the room")
		return r, nil
	},
}

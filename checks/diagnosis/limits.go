package diagnosis

import (
	"errors"
	"time"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// Limits are where a reading begins to be a sign. A company may set its own; each
// is common practice or assumed unless its line says otherwise.
type Limits struct {
	// Warm is how far the mean of the room may lie above the set point (assumed: no
	// published band for wine rooms was found).
	Warm units.TemperatureDifference
	// Spread is the most between the warmest and the coldest place (common practice).
	Spread units.TemperatureDifference
	// Humidity is how far outside its band the humidity may read: the error of a
	// field hygrometer (common practice).
	Humidity units.RelativeHumidity
	// Offset is how much a control may read wrong (common practice).
	Offset units.TemperatureDifference

	// A split within Normal of what the data sheet gives at these conditions is
	// normal, beyond Off it is not, and between the two it says nothing. No
	// published window for wine-room units was found; common practice.
	Normal, Off units.Percent

	// Strained is the duty above which a unit has no reserve in mild weather
	// (common practice: 18 hours of the design day); Always is as good as 100 %.
	Strained, Always units.Percent
	// Starts an hour and shortest Run of a compressor (common practice).
	Starts float64
	Run    time.Duration

	// FramingWet is the most moisture that framing may hold (California Green
	// Building Standards Code 4.505.3, read); FramingDry is where it counts as dry
	// behind a retarder (common practice).
	FramingWet, FramingDry units.Percent

	// The room follows the house when, with a house whose dew point moves by
	// HouseMoves, the vapor pressures correlate by Correlation within Lag and the
	// room's moves by at least Follows of what the house's does; it is steady below
	// Steady of that, and between the two the log says nothing. Assumed, from rooms
	// stepped through time in the tests: tight ones show up to 0.15, ones of 1.5 air
	// changes an hour 0.2 and more.
	HouseMoves      units.TemperatureDifference
	Correlation     float64
	Lag             time.Duration
	Follows, Steady float64
	// Leaks is how many times the leak of a sound room is a sign of its own
	// (assumed).
	Leaks float64

	// Closing is how far heat removed and heat coming in may differ before the
	// room counts as not understood (assumed).
	Closing units.Percent
	// Part is the share of a shortage from which on something is a cause of it
	// (assumed).
	Part units.Percent

	// SoundAirChange and SoundTransmittance stand for an ordinary room of its kind
	// where no plan is given (assumed; common practice for insulation).
	SoundAirChange     float64
	SoundTransmittance map[envelope.FaceKind]units.Transmittance
}

// DefaultLimits returns the limits a company starts from.
func DefaultLimits() Limits {
	return Limits{
		Warm: 1, Spread: 2, Humidity: 2, Offset: 1,
		Normal: 15, Off: 20,
		Strained: 75, Always: 95, Starts: 6, Run: 5 * time.Minute,
		FramingWet: 19, FramingDry: 15,
		HouseMoves: 2, Correlation: 0.7, Lag: 6 * time.Hour, Follows: 0.20, Steady: 0.12, Leaks: 3,
		Closing: 25, Part: 25,
		SoundAirChange: 0.3,
		SoundTransmittance: map[envelope.FaceKind]units.Transmittance{
			envelope.Wall: 0.36, envelope.Ceiling: 0.20, envelope.Floor: 0.36, envelope.Door: 1.2, envelope.Glass: 1.4,
		},
	}
}

// usualCoilDifference is the room above the coil in a unit made for 60 % RH
// (common practice).
const usualCoilDifference = 8.5

// valid refuses limits that are not finite or not above 0.
func (l Limits) valid() error {
	errs := []error{within("starts", l.Starts, 0.1, 60, "1/h"), within("shortest run", l.Run.Minutes(), 0.1, 60, "min"),
		within("lag", l.Lag.Hours(), 0, 12, "h"), within("sound air change", l.SoundAirChange, 0, 20, "1/h")}
	for _, limit := range []struct {
		name string
		v    float64
	}{
		{"warm", float64(l.Warm)}, {"spread", float64(l.Spread)}, {"humidity", float64(l.Humidity)}, {"offset", float64(l.Offset)},
		{"normal split", float64(l.Normal)}, {"split off", float64(l.Off)}, {"strained", float64(l.Strained)}, {"always", float64(l.Always)},
		{"wet framing", float64(l.FramingWet)}, {"dry framing", float64(l.FramingDry)}, {"house moves", float64(l.HouseMoves)},
		{"correlation", l.Correlation}, {"follows", l.Follows}, {"steady", l.Steady}, {"leaks", l.Leaks},
		{"closing", float64(l.Closing)}, {"part", float64(l.Part)},
	} {
		errs = append(errs, within("limit "+limit.name, limit.v, 1e-3, 100, ""))
	}
	return errors.Join(errs...)
}

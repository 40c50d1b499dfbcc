package envelope

import (
	"fmt"

	"proveout/checks/units"
)

// Month is one step of a yearly balance: mean conditions on both sides.
type Month struct {
	Name        string
	Days        float64
	Other, Room Air
	// Films overrides the surface resistances that follow from the face and
	// the direction of heat.
	Films *Films
}

// monthNames and monthDays are a common year's.
var (
	monthNames = [12]string{"January", "February", "March", "April", "May", "June",
		"July", "August", "September", "October", "November", "December"}
	monthDays = [12]float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
)

// SteadyYear returns twelve months of the same conditions, as for a partition
// inside a house that is heated and cooled all year.
func SteadyYear(other, room Air) []Month {
	months := make([]Month, 12)
	for i := range months {
		months[i] = Month{Name: monthNames[i], Days: monthDays[i], Other: other, Room: room}
	}
	return months
}

// MonthBalance is one month of a yearly balance.
type MonthBalance struct {
	Films        Films
	HeatFlux     float64      // W/m², into the room
	OtherSideWet bool         // the surface on the other side is below dew point
	RoomWet      bool         // the surface in the room is below dew point
	Mass         SurfaceMass  // condensate in all planes at the end of the month
	In, Out      SurfaceMass  // vapor from the other side in; into the room
	Wettest      WettestPlace // concealed, mean over the month
}

// WettestPlace is a concealed plane with its mean humidity in one month.
type WettestPlace struct {
	Place    Place
	Month    int // index into the months given
	Humidity units.RelativeHumidity
}

// PlaneBalance is one plane that condenses in a year.
type PlaneBalance struct {
	Place     Place
	Mass      []SurfaceMass // at the end of each month given
	Peak      SurfaceMass
	PeakMonth int
	Growth    SurfaceMass // left over and added each year
	Limit     SurfaceMass // what the plane may hold, DIN 4108-3
	Rule      LimitRule
}

// YearVerdict says what becomes of condensate over the year. The zero value is
// undecided.
type YearVerdict int

const (
	// Undecided: nothing has been computed, or a limit could not be.
	Undecided YearVerdict = iota
	// NeverWet: no plane condenses in any month.
	NeverWet
	// DriesOut: planes condense and are dry again within the year, with less
	// condensate than the limits.
	DriesOut
	// TooWet: planes dry out within the year, but hold more than the limits.
	TooWet
	// StaysWet: condensate is left over at the end of the year.
	StaysWet
	// SurfaceWet: in some month a surface is below the dew point of its air;
	// the balance inside would mean nothing.
	SurfaceWet
)

func (v YearVerdict) String() string {
	names := [...]string{"undecided", "never wet", "dries out within the year", "dries out, but holds too much", "stays wet", "surface condensation"}
	if v < 0 || int(v) >= len(names) {
		return fmt.Sprintf("verdict %d", int(v))
	}
	return names[v]
}

// Passes reports whether the verdict is one to build by. The method knows no
// air movement and no rain: passing is necessary, not sufficient.
func (v YearVerdict) Passes() bool { return v == NeverWet || v == DriesOut }

// YearBalance is the moisture balance of an assembly over a year of months.
type YearBalance struct {
	Verdict   YearVerdict
	Start     int // first wet month after a dry one, from which the year is counted
	Months    []MonthBalance
	Planes    []PlaneBalance
	Peak      SurfaceMass // greatest sum over all planes
	PeakMonth int
	Wettest   WettestPlace // over the year
	Assembly  Assembly
	Given     []Month
}

// Year balances condensation and drying over a year of months, which may start
// anywhere (ISO 13788:2012, clause 6). Surface resistances follow each month
// from the face and the direction of heat. The year is counted from the first
// wet month after a dry one and repeated until it returns to itself or grows by
// the same amount each time.
func Year(a Assembly, face Face, months []Month) (YearBalance, error) {
	var w Workspace
	return w.Year(a, face, months)
}

// Year is as the function Year, in the memory of the workspace.
func (w *Workspace) Year(a Assembly, face Face, months []Month) (YearBalance, error) {
	if err := w.prepare(a, face, months); err != nil {
		return YearBalance{}, err
	}
	b := YearBalance{Months: w.year.balances, Assembly: a, Given: months}
	if w.anySurfaceWet() {
		b.Verdict = SurfaceWet
		return b, nil
	}
	start, wet, err := w.firstWet()
	if err != nil {
		return YearBalance{}, err
	}
	b.Start = start
	if !wet {
		b.Verdict = NeverWet
		b.Wettest = wettest(b.Months)
		return b, nil
	}
	if err := w.settle(start); err != nil {
		return YearBalance{}, err
	}
	b.Wettest = wettest(b.Months)
	w.judge(&b)
	return b, nil
}

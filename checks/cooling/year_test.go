package cooling

import (
	"fmt"
	"math"
	"testing"

	"proveout/checks/units"
)

func rebuilt() Demand { return Demand{Outdoors: 3.6, House: 15.4, Inside: 24, Base: 110, Room: 13} }
func found() Demand   { return Demand{Outdoors: 13, House: 38, Inside: 24, Base: 330, Room: 13} }

var (
	good = Efficiency{0.35, 4.5}
	poor = Efficiency{0.25, 4.5}
)

func ohare(t testing.TB) []Hours {
	t.Helper()
	var lower []units.Temperature
	var hours []float64
	if tt, ok := t.(*testing.T); ok {
		for _, r := range table(tt, "ohare-tmy3-bins.csv") {
			lower = append(lower, units.Temperature(r.number("lower")))
			hours = append(hours, r.number("hours"))
		}
	} else {
		for i := range 20 {
			lower = append(lower, units.Temperature(3*i-24))
			hours = append(hours, 438)
		}
	}
	year, err := Bins(lower, hours, 3)
	if err != nil {
		t.Fatal(err)
	}
	return year
}

// The year of a rebuilt and a broken room by bins of the weather file: 667.1 and
// 2477.9 kWh at mean COPs of 3.53 and 2.51, and three bins worked one by one. The
// heats, 2352.6 and 6209.5 kWh, are of the hourly data: bins put each hour at the
// middle of 3 K, which leaves 0.2 %.
func TestYearByBins(t *testing.T) {
	year := ohare(t)
	for _, tt := range []struct {
		demand     Demand
		efficiency Efficiency
		want       float64
		cop, heat  float64
	}{{rebuilt(), good, 667.1, 3.53, 2352.6}, {found(), poor, 2477.9, 2.51, 6209.5}} {
		y, err := tt.demand.Year(year, tt.efficiency, nil)
		if err != nil || y.Hours != 8760 || math.Abs(y.Electricity.KilowattHours()-tt.want) > 0.05 {
			t.Errorf("%+v: %v kWh in %v h, %v, want %v in 8760", tt.demand, y.Electricity.KilowattHours(), y.Hours, err, tt.want)
		}
		if math.Abs(y.MeanCOP-tt.cop) > 0.005 || math.Abs(y.Heat.KilowattHours()/tt.heat-1) > 0.002 {
			t.Errorf("%+v: COP %v, heat %v kWh, want %v, %v", tt.demand, y.MeanCOP, y.Heat.KilowattHours(), tt.cop, tt.heat)
		}
	}
	for _, tt := range []struct{ outdoor, hours, q, cop, kWh float64 }{
		{1.5, 1032, 238.0, 3.811, 64.45},
		{22.5, 825, 313.6, 3.239, 79.87},
		{34.5, 17, 356.8, 2.314, 2.62},
	} {
		q, cop := float64(rebuilt().At(units.Temperature(tt.outdoor))), good.At(units.Temperature(tt.outdoor))
		kWh := q * tt.hours / 1000 / cop
		if math.Abs(q-tt.q) > 0.05 || math.Abs(cop-tt.cop) > 0.0005 || math.Abs(kWh-tt.kWh) > 0.005 {
			t.Errorf("at %v °C: %v W, COP %v, %v kWh, want %v, %v, %v", tt.outdoor, q, cop, kWh, tt.q, tt.cop, tt.kWh)
		}
	}
}

// While every hour needs cooling, heat goes by the mean temperature alone, and the
// degree days to the balance of −64.6 °C give the same heat as the bins.
func TestDegreeDaysAgree(t *testing.T) {
	balance, ok := rebuilt().Balance()
	if !ok || math.Abs(float64(balance)+64.6) > 0.05 {
		t.Errorf("balance %v, %v, want −64.6", balance, ok)
	}
	year := ohare(t)
	y, err := rebuilt().Year(year, good, nil)
	if err != nil {
		t.Fatal(err)
	}
	degreeDays := 0.0
	for _, h := range year {
		degreeDays += h.Hours / 24 * float64(h.Outdoor-balance)
	}
	heat, err := rebuilt().HeatByDegreeDays(degreeDays)
	if err != nil || math.Abs(float64(heat/y.Heat)-1) > 1e-12 {
		t.Errorf("by degree days %v J, by bins %v J, %v", heat, y.Heat, err)
	}
	// 2352.6 kWh from hourly data; bins replace each temperature by its bin's middle,
	// at most 1.5 K and on average far less: 0.2 % of the electricity.
	if math.Abs(y.Heat.KilowattHours()/2352.6-1) > 0.002 {
		t.Errorf("heat %v kWh, want 2352.6", y.Heat.KilowattHours())
	}
	if _, ok := (Demand{House: 10, Inside: 24, Room: 13}).Balance(); ok {
		t.Error("a room without outdoor faces has a balance")
	}
}

// Days of 10, 20 and 14 °C to a base of 18 °C, by hand.
func TestDegreeDays(t *testing.T) {
	cooling, heating, err := DegreeDays([]units.Temperature{10, 20, 14}, 18)
	if err != nil || cooling != 2 || heating != 12 {
		t.Errorf("DegreeDays = %v, %v, %v, want 2, 12", cooling, heating, err)
	}
	day := make([]units.Temperature, 24)
	for i := range day {
		day[i] = units.Temperature(i)
	}
	means, err := DailyMeans(day)
	if err != nil || len(means) != 1 || means[0] != 11.5 {
		t.Errorf("DailyMeans = %v, %v, want 11.5", means, err)
	}
	if means, err := DailyMeans(day[:23]); err == nil {
		t.Errorf("DailyMeans of 23 h = %v, want an error", means)
	}
	if c, h, err := DegreeDays([]units.Temperature{units.Temperature(math.NaN())}, 18); err == nil {
		t.Errorf("DegreeDays(NaN) = %v, %v, want an error", c, h)
	}
}

// Months, hours and bins of the same constant weather cost the same.
func TestYearByAnyStretch(t *testing.T) {
	var months [12]units.Temperature
	hourly := make([]units.Temperature, 8760)
	for i := range months {
		months[i] = 21
	}
	for i := range hourly {
		hourly[i] = 21
	}
	bins, err := Bins([]units.Temperature{20}, []float64{8760}, 2)
	if err != nil {
		t.Fatal(err)
	}
	want := rebuilt().At(21)
	for i, year := range [][]Hours{Months(months), Hourly(hourly), bins} {
		y, err := rebuilt().Year(year, good, nil)
		if err != nil || math.Abs(float64(y.Heat)/(float64(want)*8760*3600)-1) > 1e-12 || math.Abs(y.MeanCOP-good.At(21)) > 1e-9 {
			t.Errorf("stretch %d: %+v, %v", i, y, err)
		}
	}
}

// The hours in which a unit of 340 W at 35 °C falls short, counted bin by bin.
func TestYearCountsShortHours(t *testing.T) {
	unit := Rating{Capacity: 340, Room: 13, Outdoor: 35, Difference: 8.5, Slopes: Slopes{0.041, 0}}
	year := []Hours{{25.5, 493}, {28.5, 335}, {31.5, 170}, {34.5, 17}}
	// q = 3.6·(T_o − 13) + 15.4·11 + 110: 324.4, 335.2, 346.0, 356.8 W.
	y, err := rebuilt().Year(year, good, unit)
	if err != nil || y.Short != 187 {
		t.Errorf("short %v h, %v, want 187", y.Short, err)
	}
}

// Broken less rebuilt by the hourly sums, 2471.2 − 665.6 = 1806 kWh, 307 a year at 0.17
// (worked from the weather file's hours); by bins 1811.
func TestStayingBroken(t *testing.T) {
	year := ohare(t)
	f, err := found().Year(year, poor, nil)
	r, errRebuilt := rebuilt().Year(year, good, nil)
	if err != nil || errRebuilt != nil {
		t.Fatal(err, errRebuilt)
	}
	b, err := StayingBroken(Expense{f, 0.17, 0.5, 3000}, Expense{r, 0.17, 0, 3000})
	if err != nil {
		t.Fatal(err)
	}
	if got := b.Extra.KilowattHours(); math.Abs(got-(2477.9-667.1)) > 0.1 || math.Abs(got/1806-1) > 0.003 {
		t.Errorf("extra %v kWh, want 1810.8 by bins, within 0.3 %% of 1806", got)
	}
	if got := float64(b.PerYear); math.Abs(got-(0.17*1810.8+1500)) > 0.02 {
		t.Errorf("per year %v, want %v", got, 0.17*1810.8+1500)
	}
	f.Hours = 8000
	if b, err := StayingBroken(Expense{f, 0.17, 0, 0}, Expense{r, 0.17, 0, 0}); err == nil {
		t.Errorf("different years: %v, want an error", b.PerYear)
	}
	if b, err := StayingBroken(Expense{r, Money(math.NaN()), 0, 0}, Expense{r, 0.17, 0, 0}); err == nil {
		t.Errorf("price NaN: %v, want an error", b.PerYear)
	}
}

func TestYearRefuses(t *testing.T) {
	year := []Hours{{20, 8760}}
	nan := math.NaN()
	for i, tt := range []struct {
		d    Demand
		e    Efficiency
		year []Hours
		unit Capacity
	}{
		{rebuilt(), good, nil, nil},
		{rebuilt(), good, []Hours{{units.Temperature(nan), 1}}, nil},
		{rebuilt(), good, []Hours{{20, nan}}, nil},
		{rebuilt(), good, []Hours{{20, -1}}, nil},
		{rebuilt(), Efficiency{}, year, nil},
		{rebuilt(), Efficiency{0.35, units.Temperature(nan)}, year, nil},
		{Demand{Outdoors: units.Conductance(nan), Inside: 24, Room: 13}, good, year, nil},
		{Demand{Outdoors: 3, Inside: 24, Room: 13, Base: units.Power(math.Inf(1))}, good, year, nil},
		{rebuilt(), good, []Hours{{-30, 8760}}, rated()},
	} {
		if y, err := tt.d.Year(tt.year, tt.e, tt.unit); err == nil {
			t.Errorf("case %d: %v J, want an error", i, y.Heat)
		}
	}
	if year, err := Bins([]units.Temperature{1, 2}, []float64{1}, 1); err == nil {
		t.Errorf("Bins = %v, want an error", year)
	}
}

func ExampleStayingBroken() {
	// At 0 °C all year, by hand: 232.6 W at a COP of 3.811 against 579 W at 2.722.
	cold := Hourly(make([]units.Temperature, 8760))
	f, err := found().Year(cold, poor, nil)
	if err != nil {
		panic(err)
	}
	r, err := rebuilt().Year(cold, good, nil)
	if err != nil {
		panic(err)
	}
	b, err := StayingBroken(Expense{Year: f, PricePerKWh: 0.17}, Expense{Year: r, PricePerKWh: 0.17})
	fmt.Printf("%.0f kWh, %.0f a year %v\n", b.Extra.KilowattHours(), b.PerYear, err)
	// Output: 1329 kWh, 226 a year <nil>
}

func BenchmarkYearByBins(b *testing.B) {
	year := ohare(b)
	for b.Loop() {
		if _, err := rebuilt().Year(year, good, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkYearByHours(b *testing.B) {
	series := make([]units.Temperature, 8760)
	for i := range series {
		series[i] = units.Temperature(10 + 15*math.Sin(float64(i)))
	}
	year := Hourly(series)
	for b.Loop() {
		if _, err := rebuilt().Year(year, good, nil); err != nil {
			b.Fatal(err)
		}
	}
}

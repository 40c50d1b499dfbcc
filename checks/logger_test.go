package checks

import (
	"math"
	"testing"
	"time"

	"proveout/checks/humidair"
	"proveout/checks/logs"
	"proveout/checks/proof"
	"proveout/checks/units"
)

// A logger that shows 0.4 K more than the reference, in a room at 13.0 °C: by hand.
func TestOffsetIsTakenOff(t *testing.T) {
	f := logged("p", csv(10*time.Minute, steady(433, 0)...))
	f.Files[0].Logger = &Logger{Offset: quantity(t, units.TemperatureDifferenceKind, "0.4 K"), HumidityOffset: quantity(t, units.PercentKind, "-2 %")}
	log, err := f.Files[0].Read()
	if err != nil {
		t.Fatal(err)
	}
	if got := log.Find(logs.Temperature)[0].Values[0]; math.Abs(got-12.6) > 1e-12 {
		t.Errorf("13.0 °C less 0.4 K = %v, want 12.6", got)
	}
	if got := log.Find(logs.RelativeHumidity)[0].Values[0]; math.Abs(got-65) > 1e-12 {
		t.Errorf("63 %% less −2 %% = %v, want 65", got)
	}
	raw, err := f.Files[0].Log()
	if err != nil || raw.Find(logs.Temperature)[0].Values[0] != 13 {
		t.Errorf("the file itself reads %v, %v; want 13 as written", raw, err)
	}
	q := computing(MeanTemperature)
	q.Limits = limits("at most", bound(t, units.TemperatureKind, "12.7 °C"))
	v := judge(set(t), q, f)
	if v.Outcome != Pass || v.Points[0].Steps[0].Value != "offset 0.4 K" {
		t.Errorf("mean = %v, %+v; want a pass and the offset among the steps", v.Outcome, v.Points)
	}
}

// Salt points at 25 °C: 32.78 and 75.29 % (Greenspan 1977, table 2, as the tests
// of humidair have it). A hygrometer that shows 36.78 and 76.29 % there:
// φ = 32.78 + (shown − 36.78)·42.51/39.51, by hand 63.00 for 65.
func TestSaltPointsPutHumidityRight(t *testing.T) {
	text := "Time,T (°C),Dew point (°C),RH (%)\n2026-06-10 10:00,13,6,65\n2026-06-10 10:10,13,6,65\n"
	f := File{Name: "a.csv", Log: func() (*logs.File, error) { return logs.Read([]byte(text), logs.Dialect{Zone: time.UTC}) }}
	f.Logger = &Logger{Salts: &proof.SaltPoints{
		Low:  proof.SaltPoint{Salt: humidair.MagnesiumChloride, Temperature: 25, Shown: 36.78},
		High: proof.SaltPoint{Salt: humidair.SodiumChloride, Temperature: 25, Shown: 76.29},
	}}
	log, err := f.Read()
	if err != nil {
		t.Fatal(err)
	}
	want := 32.78 + (65-36.78)*42.51/39.51
	if got := log.Find(logs.RelativeHumidity)[0].Values[0]; math.Abs(got-want) > 0.02 { // half a digit of each table value, times the gain
		t.Errorf("65 %% becomes %v, want %v", got, want)
	}
	if len(log.Find(logs.DewPoint)) != 0 {
		t.Error("the dew point that the logger computed from a wrong humidity is still there")
	}
	f.Logger.Salts.High.Shown = 40
	if _, err := f.Read(); err == nil {
		t.Error("a hygrometer that shows 40 % over table salt gives no error")
	}
}

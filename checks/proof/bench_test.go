package proof_test

import (
	"runtime"
	"testing"

	"proveout/checks/proof"
)

// BenchmarkTenDays analyses ten days of eight loggers, a reading a minute, all of
// it: health, pull-down, stability, cycles, signature, decay, fit, mold, overlay.
// Rows are those of a file of one logger; a row has one or two values.
func BenchmarkTenDays(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	r := newRoom(1, 9)
	in := r.play(60, r.loggers())
	in.Loggers = in.Loggers[:min(8, len(in.Loggers))]
	rows, values := 0, 0
	for _, l := range in.Loggers {
		rows += len(l.Series[0].Times)
		for _, s := range l.Series {
			values += len(s.Values)
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		a, err := proof.Analyse(in)
		if err != nil || a.Signature == nil {
			b.Fatal(err, a.Skipped)
		}
	}
	seconds := b.Elapsed().Seconds() / float64(b.N)
	b.ReportMetric(float64(rows)/seconds, "rows/s")
	b.ReportMetric(float64(values)/seconds, "values/s")
}

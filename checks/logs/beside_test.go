package logs

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"
)

// BenchmarkBeside reads a million rows from a file and computes the same
// statistics with this package, with mlr (the program of Debian's package
// miller) and with the sqlite3 shell, in one run and each on one processor, and
// compares the results. A program that is not installed is left out and said.
// Beside the clock, which other work on the machine slows down, it reports rows
// a second of processor time, and how many times as long the others take by
// that.
//
// mlr does mean, SD, extremes, type-7 percentiles and share in band of two
// columns. sqlite3 does these and the pull-down. This package does these, the
// pull-down with its bounds, excursions, and the detection.
func BenchmarkBeside(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	name := filepath.Join(b.TempDir(), "million.csv")
	if err := os.WriteFile(name, millionRows(million), 0o644); err != nil {
		b.Fatal(err)
	}
	own, ownTime := besideFigures(b, "proveout", nil, 0, func() ([]float64, time.Duration, error) { return byThisPackage(name) })
	from := time.Date(2024, 3, 1, 0, 0, 0, 0, time.UTC).Add(time.Duration(own[len(own)-1] * float64(time.Hour))).Format(time.DateTime)
	for program, figures := range map[string]func() ([]float64, time.Duration, error){
		"mlr":     func() ([]float64, time.Duration, error) { return byMiller(name, from) },
		"sqlite3": func() ([]float64, time.Duration, error) { return bySQL(name) },
	} {
		if _, err := exec.LookPath(program); err != nil {
			b.Logf("%s is not installed and not compared", program)
			continue
		}
		besideFigures(b, program, own, ownTime, figures)
	}
}

// besideFigures times one program and compares its figures with those wanted.
func besideFigures(b *testing.B, program string, want []float64, own time.Duration, run func() ([]float64, time.Duration, error)) (got []float64, each time.Duration) {
	b.Run(program, func(b *testing.B) {
		var used time.Duration
		for b.Loop() {
			var spent time.Duration
			var err error
			if got, spent, err = run(); err != nil {
				b.Fatal(err)
			}
			used += spent
		}
		each = used / time.Duration(b.N)
		b.ReportMetric(million*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
		b.ReportMetric(million/each.Seconds(), "rows/cpu-s")
		for i := range want {
			if i < len(got) && math.Abs(got[i]-want[i]) > 1e-9*max(1, math.Abs(want[i])) {
				b.Errorf("figure %d: %v, this package has %v", i, got[i], want[i])
			}
		}
		if own > 0 {
			b.ReportMetric(each.Seconds()/own.Seconds(), "times-proveout")
		}
	})
	return got, each
}

func byThisPackage(name string) ([]float64, time.Duration, error) {
	before := processorTime()
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, 0, err
	}
	pull, air, damp, err := analyse(text)
	return append(append(figures(air), figures(damp)...), pull.Best.At.Hours()), processorTime() - before, err
}

// used is the processor time of a program that has ended.
func used(cmd *exec.Cmd) time.Duration {
	return cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
}

func figures(s Stability) []float64 {
	return []float64{s.Mean, s.SD, s.Min, s.Max, s.P5, s.P50, s.P95, s.InBand}
}

func byMiller(name, from string) ([]float64, time.Duration, error) {
	cmd := exec.Command("mlr", "--icsv", "--ojson",
		"filter", `$Time >= "`+from+`"`, "then", "rename", "Temperature (°C),T,Humidity (% RH),H", "then",
		"put", `$IT = $T >= 12 && $T <= 14 ? 1 : 0; $IH = $H >= 55 && $H <= 65 ? 1 : 0`, "then",
		"stats1", "-i", "-a", "mean,stddev,min,max,p5,p50,p95", "-f", "T,H,IT,IH", name)
	cmd.Env = append(os.Environ(), "GOMAXPROCS=1")
	out, err := cmd.Output()
	if err != nil {
		return nil, 0, err
	}
	var rows []map[string]float64
	if err := json.Unmarshal(out, &rows); err != nil {
		return nil, 0, err
	}
	var all []float64
	for _, column := range []string{"T", "H"} {
		for _, figure := range []string{"mean", "stddev", "min", "max", "p5", "p50", "p95"} {
			all = append(all, rows[0][column+"_"+figure])
		}
		all = append(all, rows[0]["I"+column+"_mean"])
	}
	return all, used(cmd), nil
}

// sqlScript does it all in one process, in memory. The pull-down takes the
// first sample at most at 13.5 °C whose 24 hours hold, by the window functions
// of SQL; the steps are equal, so that shares of rows are shares of time.
const sqlScript = `
.mode csv
.import --skip 1 FILE raw
CREATE TABLE log AS SELECT rowid AS i, unixepoch(a) AS t, CAST(b AS REAL) AS c, CAST(h AS REAL) AS h FROM raw;
CREATE TEMP TABLE pull AS SELECT min(i) AS i FROM (
  SELECT i, t, c, avg(c > 13.5) OVER w AS outside, max(c) OVER w2 AS top, count(*) OVER w AS n FROM log
  WINDOW w AS (ORDER BY i ROWS BETWEEN CURRENT ROW AND 1439 FOLLOWING), w2 AS (ORDER BY i ROWS BETWEEN CURRENT ROW AND 1440 FOLLOWING))
  WHERE c <= 13.5 AND outside <= 0.05 AND top <= 14.5 AND n = 1440;
CREATE TEMP TABLE v AS SELECT c, h FROM log WHERE i > (SELECT i FROM pull) - 1;
.mode list
SELECT avg(c), sqrt((sum((c-13)*(c-13)) - sum(c-13)*sum(c-13)/count(*))/(count(*)-1)), min(c), max(c) FROM v;
CREATE INDEX temp.byc ON v(c);
SELECT c FROM v ORDER BY c LIMIT 2 OFFSET (SELECT CAST((count(*)-1)*0.05 AS INT) FROM v);
SELECT c FROM v ORDER BY c LIMIT 2 OFFSET (SELECT CAST((count(*)-1)*0.50 AS INT) FROM v);
SELECT c FROM v ORDER BY c LIMIT 2 OFFSET (SELECT CAST((count(*)-1)*0.95 AS INT) FROM v);
SELECT avg(c BETWEEN 12 AND 14) FROM v;
SELECT avg(h), sqrt((sum((h-58)*(h-58)) - sum(h-58)*sum(h-58)/count(*))/(count(*)-1)), min(h), max(h) FROM v;
CREATE INDEX temp.byh ON v(h);
SELECT h FROM v ORDER BY h LIMIT 2 OFFSET (SELECT CAST((count(*)-1)*0.05 AS INT) FROM v);
SELECT h FROM v ORDER BY h LIMIT 2 OFFSET (SELECT CAST((count(*)-1)*0.50 AS INT) FROM v);
SELECT h FROM v ORDER BY h LIMIT 2 OFFSET (SELECT CAST((count(*)-1)*0.95 AS INT) FROM v);
SELECT avg(h BETWEEN 55 AND 65) FROM v;
SELECT (i-1)/60.0, (SELECT count(*) FROM v) FROM pull;
`

func bySQL(name string) ([]float64, time.Duration, error) {
	script := "CREATE TABLE raw(a TEXT, b TEXT, h TEXT);\n" + strings.Replace(sqlScript, "FILE", name, 1)
	cmd := exec.Command("sqlite3", ":memory:")
	cmd.Stdin = strings.NewReader(script)
	out, err := cmd.Output()
	if err != nil {
		return nil, 0, err
	}
	var v []float64
	for _, word := range strings.FieldsFunc(string(bytes.TrimSpace(out)), func(r rune) bool { return r == '\n' || r == '|' }) {
		x, err := strconv.ParseFloat(strings.TrimSpace(word), 64)
		if err != nil {
			return nil, 0, err
		}
		v = append(v, x)
	}
	n := v[len(v)-1]
	var all []float64
	for _, part := range [][]float64{v[:11], v[11:22]} {
		all = append(all, part[:4]...)
		for i, p := range []float64{0.05, 0.50, 0.95} {
			_, rest := math.Modf((n - 1) * p)
			low, high := part[4+2*i], part[5+2*i]
			all = append(all, low+(high-low)*rest)
		}
		all = append(all, part[10])
	}
	return append(all, v[22]), used(cmd), nil
}

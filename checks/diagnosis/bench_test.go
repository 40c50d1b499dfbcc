package diagnosis_test

import (
	"testing"

	"proveout/checks/diagnosis"
)

// The whole diagnosis of a room with all its readings.
func BenchmarkDiagnose(b *testing.B) {
	room := scenes[0].play(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := diagnosis.Diagnose(room); err != nil {
			b.Fatal(err)
		}
	}
}

// A week of loggers every 15 minutes is most of it.
func BenchmarkFollowing(b *testing.B) {
	log := scenes[0].play(b).Readings.Log
	limits := diagnosis.DefaultLimits()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := log.Following(limits); err != nil {
			b.Fatal(err)
		}
	}
}

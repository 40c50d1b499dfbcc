package strict

import (
	"testing"

	"gopkg.in/yaml.v3"
)

// The pairs compare Read with what yaml.v3 alone needs for the same bytes.

func BenchmarkRecord(b *testing.B) {
	benchmarkRead(b, files+"good/record.yaml", Options{RecordLimit, true})
}

func BenchmarkRecordBareNode(b *testing.B) { benchmarkNode(b, files+"good/record.yaml") }

func BenchmarkPlan(b *testing.B) { benchmarkRead(b, files+"good/plan.yaml", Options{}) }

func BenchmarkPlanBareNode(b *testing.B) { benchmarkNode(b, files+"good/plan.yaml") }

func benchmarkRead(b *testing.B, file string, o Options) {
	data := read(b, file)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(file, data, o); err != nil {
			b.Fatal(err)
		}
	}
}

func benchmarkNode(b *testing.B, file string) {
	data := read(b, file)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		var n yaml.Node
		if err := yaml.Unmarshal(data, &n); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkRecordMapped is Read, a question for each key, and Err.
func BenchmarkRecordMapped(b *testing.B) {
	data := read(b, files+"good/record.yaml")
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		d, err := Read("record.yaml", data, Options{RecordLimit, true})
		if err != nil {
			b.Fatal(err)
		}
		readRecord(d.Map())
		if err := d.Err(); err != nil {
			b.Fatal(err)
		}
	}
}

func readRecord(m *Map) {
	for _, key := range []string{"record", "id", "phase", "hold", "check", "at", "value", "instrument", "by", "role"} {
		m.Text(key)
	}
	m.Time("time")
	m.OptionalText("understood")
	m.OptionalText("note")
	m.OptionalTexts("supersedes")
	if photo, ok := m.OptionalMap("photo"); ok {
		photo.Text("file")
		photo.Text("sha256")
	}
}

func BenchmarkEncodeRecord(b *testing.B) {
	fields := []Field{
		{"record", "reading"}, {"id", "20260504t151500-8f3a"}, {"phase", "insulation"}, {"hold", "before-board"},
		{"check", "foam-depth"}, {"at", "north wall/bay 3"}, {"value", "5 1/2 in"}, {"instrument", "DG-2"},
		{"photo", []Field{{"file", "evidence/photos/3f9a11c2-north-wall.jpg"}}},
		{"note", "gauge pushed to the sheathing twice"}, {"supersedes", []string{"20260504t144100-11d0"}},
	}
	b.ReportAllocs()
	for b.Loop() {
		Encode(fields)
	}
}

func BenchmarkNearest(b *testing.B) {
	known := []string{"at least", "at most", "between", "points", "photo", "instrument", "source", "ask", "answer", "on fail"}
	b.ReportAllocs()
	for b.Loop() {
		Nearest("insturment", known)
	}
}

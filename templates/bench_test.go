package templates

import (
	"testing"
)

func BenchmarkRender(b *testing.B) {
	for b.Loop() {
		if _, err := Render(document, 80, true); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEscape(b *testing.B) {
	const text = "Which side of the insulation the retarder of this face is on: 5 1/2 in | *pass*"
	b.ReportAllocs()
	for b.Loop() {
		Escape(text)
	}
}

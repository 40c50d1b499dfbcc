package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"
)

// picture is red on its left half and blue on its right.
func picture(w, h int) image.Image {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.Set(x, y, color.RGBA{200, 0, 0, 255})
			if x >= w/2 {
				m.Set(x, y, color.RGBA{0, 0, 200, 255})
			}
		}
	}
	return m
}

func encode(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// withExif puts an EXIF block with an orientation and a GPS pointer behind the
// start of a JPEG (CIPA DC-008, APP1 and tags 0x0112 and 0x8825; from memory).
func withExif(jpg []byte, orientation uint16) []byte {
	var tiff bytes.Buffer
	tiff.WriteString("MM\x00\x2a\x00\x00\x00\x08\x00\x02")
	for _, tag := range []struct {
		id, kind uint16
		count    uint32
		value    uint32
	}{{0x0112, 3, 1, uint32(orientation) << 16}, {0x8825, 4, 1, 38}} {
		for _, v := range []any{tag.id, tag.kind, tag.count, tag.value} {
			if err := binary.Write(&tiff, binary.BigEndian, v); err != nil {
				panic(err)
			}
		}
	}
	tiff.Write(make([]byte, 12))
	body := append([]byte("Exif\x00\x00"), tiff.Bytes()...)
	app := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(body)+2))
	out := append([]byte{}, jpg[:2]...)
	out = append(out, app...)
	out = append(out, body...)
	return append(out, jpg[2:]...)
}

func TestShrink(t *testing.T) {
	small, err := Shrink(encode(t, picture(4000, 3000)), 1600)
	if err != nil {
		t.Fatal(err)
	}
	c, err := jpeg.DecodeConfig(bytes.NewReader(small))
	if err != nil || c.Width != 1600 || c.Height != 1200 {
		t.Errorf("size = %d × %d, %v, want 1600 × 1200", c.Width, c.Height, err)
	}
	again, err := Shrink(encode(t, picture(4000, 3000)), 1600)
	if err != nil || !bytes.Equal(small, again) {
		t.Errorf("the same photo gave other bytes (%v)", err)
	}
}

func TestShrinkTurnsUprightAndForgetsWhere(t *testing.T) {
	small, err := Shrink(withExif(encode(t, picture(400, 300)), 6), 1600)
	if err != nil {
		t.Fatal(err)
	}
	m, err := jpeg.Decode(bytes.NewReader(small))
	if err != nil {
		t.Fatal(err)
	}
	if b := m.Bounds(); b.Dx() != 300 || b.Dy() != 400 {
		t.Errorf("size = %d × %d, want 300 × 400: a quarter turn", b.Dx(), b.Dy())
	}
	// Orientation 6: the camera's left edge is the picture's top.
	if r, _, b, _ := m.At(150, 20).RGBA(); r < b {
		t.Errorf("top is not red: r %d, b %d", r>>8, b>>8)
	}
	if bytes.Contains(small, []byte("Exif")) {
		t.Error("the kept photo still holds EXIF")
	}
}

func TestShrinkPNG(t *testing.T) {
	var b bytes.Buffer
	if err := png.Encode(&b, picture(50, 40)); err != nil {
		t.Fatal(err)
	}
	small, err := Shrink(b.Bytes(), 1600)
	if err != nil {
		t.Fatal(err)
	}
	if c, err := jpeg.DecodeConfig(bytes.NewReader(small)); err != nil || c.Width != 50 {
		t.Errorf("got %d wide, %v, want 50: a small photo is not enlarged", c.Width, err)
	}
}

func TestShrinkRefuses(t *testing.T) {
	whole := encode(t, picture(400, 300))
	for name, data := range map[string][]byte{
		"empty": nil, "text": []byte("not a photo"), "cut off": whole[:len(whole)/3],
		"gif": []byte("GIF89a\x01\x00\x01\x00\x00\x00\x00;"),
	} {
		if small, err := Shrink(data, 1600); err == nil {
			t.Errorf("Shrink(%s) = %d bytes, want an error", name, len(small))
		}
	}
}

func BenchmarkShrink(b *testing.B) {
	data := encode(b, picture(4000, 3000))
	for b.Loop() {
		if _, err := Shrink(data, 1600); err != nil {
			b.Fatal(err)
		}
	}
}

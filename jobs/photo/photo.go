// Package photo makes a person's photo small enough to keep three hundred of
// them in a job: upright, at most a given size, without the location and the
// other notes that a phone hides in it.
package photo

import (
	"bytes"
	"fmt"
	"image"
	"slices"

	"github.com/disintegration/imaging"
)

// maxPixels bounds what is decoded: a file of a few bytes can claim to be a
// picture of gigabytes.
const maxPixels = 200_000_000

// quality is that of the JPEG that is kept: text on a meter's display stays
// readable (common practice).
const quality = 82

// Shrink returns data as an upright JPEG whose longest side is at most longest
// pixels. JPEG and PNG are read; anything else, and a file that is cut off, is
// an error. The same bytes give the same photo.
func Shrink(data []byte, longest int) ([]byte, error) {
	config, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil || !slices.Contains([]string{"jpeg", "png"}, format) {
		return nil, fmt.Errorf("it is not a JPEG or PNG picture")
	}
	if config.Width*config.Height > maxPixels || config.Width == 0 || config.Height == 0 {
		return nil, fmt.Errorf("its size of %d × %d pixels is not that of a photo", config.Width, config.Height)
	}
	picture, err := imaging.Decode(bytes.NewReader(data), imaging.AutoOrientation(true))
	if err != nil {
		return nil, fmt.Errorf("the picture is damaged or cut off: %w", err)
	}
	small := imaging.Fit(picture, longest, longest, imaging.Box)
	var out bytes.Buffer
	if err := imaging.Encode(&out, small, imaging.JPEG, imaging.JPEGQuality(quality)); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

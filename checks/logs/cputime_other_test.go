//go:build !unix

package logs

import "time"

// processorTime is not measured here; the clock stands in for it.
func processorTime() time.Duration { return time.Since(began) }

var began = time.Now()

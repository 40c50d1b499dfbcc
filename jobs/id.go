package jobs

import (
	"io"
	"time"
)

// idLetters leave out those that are taken for each other on paper.
const idLetters = "23456789abcdefghjkmnpqrstuvwxyz"

// newID makes a name that sorts by time and does not repeat: the moment in UTC
// and six letters from random.
func newID(now time.Time, random io.Reader) (string, error) {
	var b [6]byte
	if _, err := io.ReadFull(random, b[:]); err != nil {
		return "", err
	}
	for i := range b {
		b[i] = idLetters[int(b[i])%len(idLetters)]
	}
	return now.UTC().Format("20060102-150405") + "-" + string(b[:]), nil
}

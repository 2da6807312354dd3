package app

import (
	"whistlecut/timeline/footage"
)

// Heard is what the listener heard in a file earlier, if that is kept: it never
// listens itself. It reads parts of the file, so call it in the background.
func (a *App) Heard(path string) (Listened, bool) {
	fp, err := footage.FingerprintOf(path)
	if err != nil {
		return Listened{}, false
	}
	for _, least := range []float64{0, leastForJams} {
		if r, note, ok := loadHeard(fp, least); ok {
			return Listened{Result: r, Path: path, Fingerprint: fp, Note: note}, true
		}
	}
	return Listened{}, false
}

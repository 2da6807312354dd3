package desk

import (
	"log/slog"
	"os"
	"strconv"
	"time"

	"fyne.io/fyne/v2"
)

// EnvReady names a file that the desk writes once, as soon as its window has
// painted the first frame of a film: the time, in nanoseconds since 1970. It is
// how the program's start is measured from outside; people have no use for it.
const EnvReady = "WHISTLECUT_READY"

// paintTime is a little more than the window takes from one painting to the next.
const paintTime = 20 * time.Millisecond

// tellReady waits for the first frame; it gives up after five minutes.
func (d *Desk) tellReady(path string) {
	if path == "" {
		return
	}
	go func() {
		end := time.Now().Add(5 * time.Minute)
		for s := d.latest.Load(); s == nil || s.Image == nil; s = d.latest.Load() {
			if time.Now().After(end) {
				return
			}
			time.Sleep(2 * time.Millisecond)
		}
		// The frame is handed to the window's goroutine now and painted with the
		// next round of it; what comes in after that has waited for the painting.
		time.Sleep(paintTime)
		fyne.DoAndWait(func() {})
		if err := os.WriteFile(path, []byte(strconv.FormatInt(time.Now().UnixNano(), 10)), 0o600); err != nil {
			slog.Error("the first frame could not be told", "file", path, "error", err)
		}
	}()
}

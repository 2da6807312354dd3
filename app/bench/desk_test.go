package bench

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// standIn writes a shell script that takes the window's place.
func standIn(t *testing.T, script string) string {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("the stand-in is a shell script")
	}
	path := filepath.Join(t.TempDir(), "program")
	if err := os.WriteFile(path, []byte("#!/bin/sh\n"+script), 0o700); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestDeskStarts(t *testing.T) {
	t.Setenv("DISPLAY", ":before")
	for _, c := range []struct {
		name, script, want string // want is part of the error, "" none
	}{
		{"ready", `test "$1 $2" = "desk some.bout" && test "$DISPLAY" = ":77" && date +%s%N > "$BENCH_READY"; exec sleep 60`, ""},
		{"ends before a frame", `exit 0`, "closed before a frame"},
		{"fails", `echo no screen >&2; exit 3`, "no screen"},
		{"never ready", `exec sleep 60`, "no frame was shown"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out bytes.Buffer
			limit := 20 * time.Second
			if c.name == "never ready" {
				limit = 300 * time.Millisecond
			}
			rep, err := Desk(context.Background(), &out, DeskOptions{
				Program: standIn(t, c.script), Ready: "BENCH_READY", Bout: "some.bout", Runs: 2, Display: ":77", Limit: limit,
			})
			if c.want == "" {
				if err != nil || len(rep.Starts) != 2 || rep.Median() <= 0 || !strings.Contains(out.String(), "median") {
					t.Errorf("%v, %v, %q", rep, err, out.String())
				}
			} else if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want %q", err, c.want)
			}
			if got := os.Getenv("DISPLAY"); got != ":before" {
				t.Errorf("DISPLAY is left at %q", got)
			}
			if _, ok := os.LookupEnv("BENCH_READY"); ok {
				t.Error("BENCH_READY is left set")
			}
		})
	}
}

func TestDeskMedian(t *testing.T) {
	for want, starts := range map[time.Duration][]time.Duration{0: nil, 4: {4}, 3: {9, 1, 3}, 5: {9, 5, 1, 2, 7}} {
		if got := (DeskReport{Starts: starts}).Median(); got != want {
			t.Errorf("%v: %v, want %v", starts, got, want)
		}
	}
}

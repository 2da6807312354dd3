//go:build unix

package ffmpeg

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"
)

// TestStubbornChildIsKilledWithItsGroup replaces ffmpeg by a script that ignores
// the interrupt and has a child of its own.
func TestStubbornChildIsKilledWithItsGroup(t *testing.T) {
	dir := t.TempDir()
	script := filepath.Join(dir, "stubborn")
	pids := filepath.Join(dir, "pids")
	text := "#!/bin/sh\ntrap '' INT\nsleep 300 &\necho $$ $! > '" + pids + "'\necho progress=continue\nwhile :; do sleep 1; done\n"
	if err := os.WriteFile(script, []byte(text), 0o700); err != nil {
		t.Fatal(err)
	}
	r := &Runner{FFmpeg: script, Grace: 100 * time.Millisecond}
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	var once sync.Once
	err := r.Run(ctx, Job{Progress: func(time.Duration, float64) { once.Do(cancel) }})
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("got %v", err)
	}
	data, err := os.ReadFile(pids)
	if err != nil {
		t.Fatal(err)
	}
	for _, field := range strings.Fields(string(data)) {
		pid, err := strconv.Atoi(field)
		if err != nil {
			t.Fatal(err)
		}
		// The grandchild is reaped by init a moment after the kill.
		for tries := 0; alive(pid); tries++ {
			if tries == 100 {
				t.Errorf("process %d still runs", pid)
				break
			}
			time.Sleep(50 * time.Millisecond)
		}
	}
}

// alive tells a running process from none and from one that only waits to be
// reaped.
func alive(pid int) bool {
	if syscall.Kill(pid, 0) != nil {
		return false
	}
	stat, err := os.ReadFile(filepath.Join("/proc", strconv.Itoa(pid), "stat"))
	if err != nil {
		return !errors.Is(err, os.ErrNotExist)
	}
	_, rest, _ := strings.Cut(string(stat), ") ")
	return !strings.HasPrefix(rest, "Z")
}

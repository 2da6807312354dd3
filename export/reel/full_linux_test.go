package reel

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestDiskFull makes reels onto disks too small for a section, and for the whole
// reel.
func TestDiskFull(t *testing.T) {
	// How much room all sections take.
	r := short(t)
	r.Resume = true
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	r.Progress = func(p Progress) {
		if p.Finished == p.Of {
			cancel()
		}
	}
	if _, err := r.Make(ctx, runner(t)); err == nil {
		t.Fatal("not stopped")
	}
	list, err := os.ReadDir(WorkFolder(r.Out))
	if err != nil || len(list) != 9 {
		t.Fatalf("%v, %v", list, err)
	}
	room := 0
	for _, e := range list {
		st, err := e.Info()
		if err != nil {
			t.Fatal(err)
		}
		room += int(st.Size()) + 4096
	}
	for _, c := range []struct{ name, size string }{{"in a section", "size=64k"}, {"in the sound", fmt.Sprintf("size=%d", room+60<<10)}} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, c.size); err != nil {
				t.Skip("needs the right to mount a small disk: " + err.Error())
			}
			t.Cleanup(func() {
				if err := syscall.Unmount(dir, 0); err != nil {
					t.Error(err)
				}
			})
			r := short(t)
			r.Out = filepath.Join(dir, "reel.mp4")
			_, err := r.Make(context.Background(), runner(t))
			if err == nil || !strings.Contains(err.Error(), "cannot make reel.mp4: the disk is full; free some space") {
				t.Errorf("got %v", err)
			}
			if left := others(t, r.Out); len(left) > 0 {
				t.Errorf("left behind: %v", left)
			}
		})
	}
}

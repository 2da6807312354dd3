package clip

import (
	"context"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestDiskFull cuts onto a disk of 64 kB.
func TestDiskFull(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skip("needs the right to mount a small disk: " + err.Error())
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, 0); err != nil {
			t.Error(err)
		}
	})
	s := openFilm(t, phone(t))
	for _, c := range []struct {
		name string
		q    Request
	}{
		{"copied", Request{First: 0, Last: 199}},
		{"edges", Request{First: 10, Last: 199}},
		{"encoded", Request{First: 0, Last: 199, Reencode: true}},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.q.Out = filepath.Join(dir, "clip.mp4")
			_, err := s.Cut(context.Background(), c.q)
			if err == nil || !strings.Contains(err.Error(), "the disk is full") || !strings.Contains(err.Error(), "clip.mp4") {
				t.Errorf("got %v", err)
			}
			if got := left(t, dir); got != "[]" {
				t.Errorf("left behind: %s", got)
			}
		})
	}
}

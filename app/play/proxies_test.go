package play

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func TestLightCopiesServeExactFrames(t *testing.T) {
	t.Parallel() // it mostly waits for the film
	for _, name := range []string{"variable", "rotated"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			x := truth(t, name)
			dir := t.TempDir()
			p := NewProxies(nil, dir, 0)
			defer p.Close()
			var last, whole time.Duration
			films := []Film{{ID: "f", Path: film(t, name)}}
			if err := p.Prepare(t.Context(), films, []Range{{"f", time.Second, 2 * time.Second}}, func(done, total time.Duration) { last, whole = done, total }); err != nil {
				t.Fatal(err)
			}
			if last != whole || whole != x.Duration() || p.Size() == 0 {
				t.Errorf("prepared %v of %v, the film has %v; %d bytes", last, whole, x.Duration(), p.Size())
			}
			w := newWatched(t, Options{Proxies: p})
			w.number["f"] = recipes[name]
			w.Load(films)
			w.frame("f", 0)
			for _, i := range []int{60, 59, 0, x.Len() - 1, 33} {
				w.Seek("f", x.Time(i))
				w.frame("f", i)
				w.Step(-1)
				w.frame("f", max(0, i-1))
			}
			w.SetRate(4)
			w.Play()
			w.until("the end", func(s Shown) bool { return s.State == Ended && s.Index == x.Len()-1 })
			if err := p.Delete(); err != nil || p.Size() != 0 {
				t.Errorf("after deleting %d bytes, %v", p.Size(), err)
			}
			w.Seek("f", x.Time(10))
			w.frame("f", 10)
		})
	}
}

func TestPreparingEndsCleanly(t *testing.T) {
	films := []Film{{ID: "plain", Path: film(t, "plain")}}
	t.Run("no room", func(t *testing.T) {
		p := NewProxies(nil, t.TempDir(), 1000)
		err := p.Prepare(t.Context(), films, nil, nil)
		if !errors.Is(err, ErrFull) || p.Size() > 1000 {
			t.Errorf("%v, %d bytes", err, p.Size())
		}
	})
	t.Run("cancelled", func(t *testing.T) {
		dir := t.TempDir()
		p := NewProxies(nil, dir, 0)
		ctx, cancel := context.WithCancel(t.Context())
		p.hold.Add(1) // so that it is at work when it is cancelled
		time.AfterFunc(300*time.Millisecond, cancel)
		if err := p.Prepare(ctx, films, nil, nil); !errors.Is(err, context.Canceled) {
			t.Errorf("got %v", err)
		}
		if _, total := p.onDisk(); total != 0 {
			t.Errorf("%d bytes are left", total)
		}
	})
	t.Run("old films give way", func(t *testing.T) {
		dir := t.TempDir()
		p := NewProxies(nil, dir, 0)
		if err := p.Prepare(t.Context(), films, nil, nil); err != nil {
			t.Fatal(err)
		}
		size := p.Size()
		p = NewProxies(nil, dir, size+100)
		other := []Film{{ID: "rotated", Path: film(t, "rotated")}}
		if err := p.Prepare(t.Context(), other, nil, nil); err != nil {
			t.Fatal(err)
		}
		if list, _ := p.onDisk(); len(list) != 1 {
			t.Errorf("%d blocks are left, want the new one", len(list))
		}
	})
	t.Run("a film that is none is left out", func(t *testing.T) {
		p := NewProxies(nil, t.TempDir(), 0)
		err := p.Prepare(t.Context(), append([]Film{{ID: "gone", Path: "/nowhere/gone.mp4"}}, films...), nil, nil)
		if err == nil || !strings.Contains(err.Error(), "gone.mp4") || p.Size() == 0 {
			t.Errorf("%v, %d bytes", err, p.Size())
		}
	})
}

// lightBytes is a small light file.
func lightBytes(t testing.TB, pictures ...string) []byte {
	var b bytes.Buffer
	i := 0
	if err := writeLight(&b, 7, 4, 2, func() ([]byte, error) {
		if i == len(pictures) {
			return nil, io.EOF
		}
		i++
		return []byte(pictures[i-1]), nil
	}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestLightFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "x"+lightExt)
	good := lightBytes(t, "one", "", "three")
	write := func(b []byte) (*light, error) {
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		return openLight(path)
	}
	l, err := write(good)
	if err != nil {
		t.Fatal(err)
	}
	defer l.close()
	for i, want := range []string{"one", "", "three"} {
		if got, err := l.read(7+i, nil); err != nil || string(got) != want {
			t.Errorf("frame %d is %q, %v", 7+i, got, err)
		}
	}
	if l.has(6) || l.has(10) || l.width != 4 || l.height != 2 {
		t.Errorf("%+v", l)
	}
	if _, err := l.read(10, nil); err == nil {
		t.Error("a frame that isn't there was read")
	}
	for cut := range len(good) {
		if l, err := write(good[:cut]); err == nil {
			l.close()
			t.Errorf("%d of %d bytes were accepted", cut, len(good))
		}
	}
}

func FuzzLightFile(f *testing.F) {
	f.Add(lightBytes(f, "one", "two"))
	f.Add([]byte(lightMagic))
	f.Fuzz(func(t *testing.T, b []byte) {
		path := filepath.Join(t.TempDir(), "x")
		if err := os.WriteFile(path, b, 0o600); err != nil {
			t.Fatal(err)
		}
		l, err := openLight(path)
		if err != nil {
			return
		}
		defer l.close()
		for i := range min(l.count, 100) {
			if _, err := l.read(l.first+i, nil); err != nil {
				t.Errorf("frame %d of an accepted file: %v", i, err)
			}
		}
	})
}

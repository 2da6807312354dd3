package play

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline"
	"whistlecut/timeline/footage"
)

// TestGapsAreTheirUnion holds the gaps noted against a plain list of frames.
func TestGapsAreTheirUnion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := lineOf(60)[0]
		bad := map[int]bool{}
		for range rapid.IntRange(0, 6).Draw(t, "gaps") {
			from := rapid.IntRange(0, 59).Draw(t, "from")
			to := rapid.IntRange(from+1, 60).Draw(t, "to")
			g := s.addGap(gap{from: from, to: to})
			if g.from > from || g.to < to {
				t.Fatalf("%+v does not hold %d..%d", g, from, to)
			}
			for i := from; i < to; i++ {
				bad[i] = true
			}
		}
		for i := range 60 {
			if s.good(i) == bad[i] {
				t.Fatalf("frame %d, gaps %+v", i, s.gaps)
			}
			if bad[i] {
				continue
			}
			last, first := i, i
			for last+1 < 60 && !bad[last+1] {
				last++
			}
			for first > 0 && !bad[first-1] {
				first--
			}
			if s.run(i) != last || s.runStart(i) != first {
				t.Fatalf("frame %d: %d to %d, want %d to %d", i, s.runStart(i), s.run(i), first, last)
			}
		}
	})
}

// damagedRig stands at frame 0 of a film of which a decoder can't decode some
// frames; the key frames are 0, 10, 20...
func damagedRig(bad func(frame int) bool, known bool) (r *rig, work func()) {
	r = newRig(lineOf(1000))
	work = func() {
		for range 200 {
			r.after(20 * time.Millisecond)
			r.serve(r.main, bad, known)
			r.serve(r.side, bad, known)
			r.step(r.now)
		}
	}
	work()
	return r, work
}

// serve answers a run as far as it is let, as a decoder would that can't decode
// some frames.
func (r *rig) serve(m *run, bad func(frame int) bool, known bool) {
	if m == nil {
		return
	}
	ours := func() bool { return r.main == m || r.side == m }
	for ours() && m.next <= min(m.limit, m.last) {
		d := &footage.DamageError{From: -1, To: m.next/10*10 + 10, Found: known}
		for i := m.next / 10 * 10; i <= m.next && d.From < 0; i++ {
			if bad(i) {
				d.From = i
			}
		}
		if d.From < 0 {
			r.take(r.now, answer{from: m, pic: small(pos{0, m.next}, false)})
			continue
		}
		if !known {
			d.From = m.next
		}
		r.take(r.now, answer{from: m, next: m.next, err: d})
	}
	if ours() && m.next > m.last {
		r.take(r.now, answer{from: m, next: m.next, err: io.EOF})
	}
}

func TestDamageInTheMiddle(t *testing.T) {
	for _, known := range []bool{true, false} {
		r, work := damagedRig(func(i int) bool { return i == 76 || i == 83 }, known)
		stands := func(what string, frame int, state State) {
			t.Helper()
			if s := r.shown(); s.Index != frame || s.State != state {
				t.Errorf("%s (known %v): frame %d, %s, %q; want frame %d, %s", what, known, s.Index, s.State, s.Note, frame, state)
			}
		}
		r.seek(r.now, Spot{"a", 78 * frameGap})
		work()
		stands("a seek into it", 75, Broken)
		if s := r.shown(); !strings.Contains(s.Note, "from 0:03.040 to 0:03.200") || s.Notice.About != Damaged || s.Notice.Until != 80*frameGap {
			t.Errorf("%q %+v", s.Note, s.Notice)
		}
		r.seek(r.now, Spot{"a", 82 * frameGap})
		work()
		stands("a seek between two", 82, Paused)
		r.stepBy(r.now, 1)
		work()
		stands("a step over the second", 90, Paused)
		if s := r.shown(); s.Notice.About != Passed || !strings.Contains(s.Note, "first frame behind") {
			t.Errorf("%q", s.Note)
		}
		r.stepBy(r.now, -1)
		work()
		stands("back", 82, Broken)
		r.seek(r.now, Spot{"a", 70 * frameGap})
		work()
		r.play(r.now)
		work()
		stands("playing up to it", 75, Broken)
		r.play(r.now)
		work()
		stands("and behind it, up to the next", 82, Broken)
		r.play(r.now)
		work()
		if s := r.shown(); s.State != Playing || s.Index < 100 {
			t.Errorf("frame %d, %s", s.Index, s.State)
		}
	}
}

// TestDamageWithoutEnd: it isn't tried for ever.
func TestDamageWithoutEnd(t *testing.T) {
	r, work := damagedRig(func(i int) bool { return i > 41 }, false)
	r.play(r.now)
	work()
	for range 3 {
		r.play(r.now)
		work()
	}
	if s := r.shown(); s.Index != 41 || s.State != Broken || s.Notice.About != Cut {
		t.Errorf("frame %d, %s, %q", s.Index, s.State, s.Note)
	}
	if n := len(r.src.runs); n > 40 {
		t.Errorf("%d decoders were started", n)
	}
}

func TestDamageAtTheStart(t *testing.T) {
	r, work := damagedRig(func(i int) bool { return i == 0 }, true)
	if s := r.shown(); s.Index != 10 || s.State != Broken || s.Notice.About != Damaged {
		t.Errorf("frame %d, %s, %q", s.Index, s.State, s.Note)
	}
	r.play(r.now)
	work()
	if s := r.shown(); s.State != Playing || s.Index < 50 {
		t.Errorf("frame %d, %s, %q", s.Index, s.State, s.Note)
	}
}

// spoil overwrites a part of a film's stored pictures.
func spoil(t *testing.T, name string, from, to float64, with func([]byte)) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "spoilt.mp4")
	remux(t, film(t, name), path)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	start := bytes.Index(data, []byte("mdat")) + 4
	at := func(share float64) int { return start + int(share*float64(len(data)-start)) }
	with(data[at(from):at(to)])
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestDamagedFilm plays a film over a damaged stretch and seeks round it. That
// no other frame is shown in place of a damaged one is checked at every picture,
// by the number drawn in it.
func TestDamagedFilm(t *testing.T) {
	t.Parallel() // it mostly waits for the film
	for _, c := range []struct {
		name, film string
		with       func([]byte)
	}{
		{"zeros", "plain", func(b []byte) { clear(b) }},
		{"garbage", "plain", func(b []byte) {
			for i := range b {
				b[i] = byte(i*i>>3) ^ byte(i*97)
			}
		}},
		{"zeros in HEVC", "hevc", func(b []byte) { clear(b) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			w := newWatched(t, Options{})
			id := timeline.ID(c.film)
			w.number[id] = recipes[c.film]
			x := truth(t, c.film)
			w.Load([]Film{{ID: id, Path: spoil(t, c.film, 0.45, 0.55, c.with)}})
			w.frame(id, 0)
			w.SetRate(2)
			w.Play()
			s := w.until("the damage", func(s Shown) bool { return s.State == Broken && s.Index > 0 })
			if s.Notice.About != Damaged || s.Notice.Until <= s.Film || s.Notice.At <= s.Film || !strings.Contains(s.Note, "spoilt.mp4") {
				t.Fatalf("%q %+v", s.Note, s.Notice)
			}
			behind := x.FrameAt(s.Notice.Until)
			w.Seek(id, x.Time(behind-1))
			w.until("the last frame before it again", func(n Shown) bool { return n.State == Broken && n.Index == s.Index })
			w.Play()
			w.until("playing behind it", func(n Shown) bool { return n.State == Playing && n.Index > behind+2 })
			w.until("the end", func(n Shown) bool { return n.State == Ended && n.Index == x.Len()-1 })
			// How far it goes was found out on the way.
			w.Seek(id, x.Time(behind-1))
			n := w.until("the damage again", func(n Shown) bool { return n.State == Broken && n.Index == s.Index })
			behind = x.FrameAt(n.Notice.Until)
			for _, i := range []int{behind + 1, x.Len() - 2, s.Index - 2, behind} {
				w.Seek(id, x.Time(i))
				w.frame(id, i)
			}
			w.Step(-1)
			w.until("a step back over it", func(n Shown) bool { return n.State == Broken && n.Index == s.Index })
			w.Step(1)
			if n = w.frame(id, behind); n.Notice.About != Passed {
				t.Errorf("%q", n.Note)
			}
		})
	}
}

// TestLightCopiesOfDamagedFilm: none shows another frame.
func TestLightCopiesOfDamagedFilm(t *testing.T) {
	dir := t.TempDir()
	p := NewProxies(nil, dir, 0)
	defer p.Close()
	path := spoil(t, "plain", 0.45, 0.55, func(b []byte) { clear(b) })
	err := p.Prepare(t.Context(), []Film{{ID: "plain", Path: path}}, nil, nil)
	var d *footage.DamageError
	if !errors.As(err, &d) {
		t.Fatalf("got %v", err)
	}
	w := newWatched(t, Options{Proxies: p})
	w.number["plain"] = recipes["plain"]
	x := truth(t, "plain")
	w.Load([]Film{{ID: "plain", Path: path}})
	for _, i := range []int{20, 130, x.Len() - 1} {
		w.Seek("plain", x.Time(i))
		w.frame("plain", i)
	}
}

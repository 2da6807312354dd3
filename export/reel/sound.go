package reel

import (
	"bufio"
	"encoding/binary"
	"errors"
	"io"
	"os"
	"time"

	"whistlecut/timeline/footage"
)

// Sound of a section: 16-bit samples of two channels.
const (
	channels    = 2
	sampleBytes = 2 * channels
	// fade takes the clicks out of joints: sound that begins or ends anywhere
	// jumps.
	fade = soundRate * 3 / 1000
	// slowestHeard is the lowest speed at which the pitch can be kept.
	slowestHeard = 0.5
)

// sectionSamples is how much sound is kept of a section: one sample more than it
// can take, as the exact number depends on where in the reel it begins.
func sectionSamples(form Format, frames int) int64 { return form.samples(frames) + 2 }

// writeSound writes a section's sound to a file; open gives the decoded sound of one
// of its legs.
func writeSound(path string, form Format, file *footage.File, f *Film, c *course, open func(leg int) (io.ReadCloser, error)) (err error) {
	out, err := os.Create(path)
	if err != nil {
		return err
	}
	w := bufio.NewWriterSize(out, 256<<10)
	defer func() {
		if e := w.Flush(); err == nil {
			err = e
		}
		if e := out.Close(); err == nil {
			err = e
		}
	}()
	total := sectionSamples(form, c.frames)
	if f == nil || f.Mute || !file.Info.HasSound() {
		return silence(w, total)
	}
	for i, l := range c.legs {
		n := form.samples(l.b) - form.samples(l.a)
		if i == len(c.legs)-1 {
			n = total - form.samples(l.a)
		}
		if l.rate < slowestHeard { // held frames, too
			err = silence(w, n)
		} else {
			var s io.ReadCloser
			if s, err = open(i); err == nil {
				err = legSound(hushed(w, f.Quiet, l), s, n)
			}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// legSound writes n samples of a leg; where the film has no more there is
// silence. It closes s.
func legSound(w io.Writer, s io.ReadCloser, n int64) error {
	defer s.Close()
	fw := &fader{w: w, total: n}
	got, err := io.Copy(fw, io.LimitReader(s, n*sampleBytes))
	if err != nil {
		return err
	}
	if got%sampleBytes != 0 {
		return errors.New("its sound broke off in the middle of a sample")
	}
	if err := fw.flush(); err != nil {
		return err
	}
	return silence(w, n-got/sampleBytes)
}

// silence writes n samples of nothing.
func silence(w io.Writer, n int64) error {
	_, err := io.CopyN(w, zeros{}, n*sampleBytes)
	return err
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) {
	clear(p)
	return len(p), nil
}

// fader fades the first and the last of total samples.
type fader struct {
	w       io.Writer
	total   int64
	n       int64 // samples so far
	rest    []byte
	scratch []byte
}

func (f *fader) Write(p []byte) (int, error) {
	f.rest = append(f.rest, p...)
	whole := len(f.rest) / sampleBytes * sampleBytes
	b := append(f.scratch[:0], f.rest[:whole]...)
	f.scratch = b
	f.rest = f.rest[:copy(f.rest, f.rest[whole:])]
	for i := 0; i < len(b); i += sampleBytes {
		edge := min(f.n, f.total-1-f.n)
		f.n++
		if edge >= fade {
			continue
		}
		for c := range channels {
			at := b[i+2*c:]
			v := int64(int16(binary.LittleEndian.Uint16(at)))
			binary.LittleEndian.PutUint16(at, uint16(int16(v*(max(edge, 0)+1)/(fade+1))))
		}
	}
	if _, err := f.w.Write(b); err != nil {
		return 0, err
	}
	return len(p), nil
}

func (f *fader) flush() error {
	if len(f.rest) > 0 {
		return errors.New("its sound broke off in the middle of a sample")
	}
	return nil
}

// quietFade is how long the sound fades before a film's Quiet.
const quietFade = 250 * time.Millisecond

// hush fades what is written to it out up to a sample, from which on it is silent.
type hush struct {
	w    io.Writer
	fade int64 // samples
	n    int64 // samples until silence; negative in it
	b    []byte
}

// hushed silences a leg from a film time on; a film time of 0 is never.
func hushed(w io.Writer, quiet time.Duration, l leg) io.Writer {
	if quiet == 0 {
		return w
	}
	samples := func(d time.Duration) int64 { return int64(d.Seconds() / l.rate * soundRate) }
	return &hush{w: w, fade: samples(quietFade), n: samples(quiet - l.from)}
}

// Write takes whole samples, as fader and silence write them.
func (h *hush) Write(p []byte) (int, error) {
	h.b = append(h.b[:0], p...)
	for i := 0; i+sampleBytes <= len(h.b); i += sampleBytes {
		if h.n < h.fade {
			for c := range channels {
				at := h.b[i+2*c:]
				v := int64(int16(binary.LittleEndian.Uint16(at)))
				binary.LittleEndian.PutUint16(at, uint16(int16(v*max(h.n, 0)/h.fade)))
			}
		}
		h.n--
	}
	if _, err := h.w.Write(h.b); err != nil {
		return 0, err
	}
	return len(p), nil
}

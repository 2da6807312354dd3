package play

import (
	"context"
	"errors"
	"io"
	"sync"
	"time"

	"whistlecut/timeline/footage"
)

// track is the sound of a course, decoded ahead into a buffer by a goroutine of
// its own. Sample k of it belongs k/48000 s of real time after the course's
// start, whatever the films hold: what is missing is silence.
type track struct {
	mu      sync.Mutex
	room    *sync.Cond
	more    *sync.Cond
	buf     []byte // waiting
	skipped int64  // bytes dropped before the first was read
	ended   bool   // nothing more comes
	closed  bool
	stop    context.CancelFunc
}

// trackAhead is how much sound is decoded ahead.
const trackAhead = 1500 * time.Millisecond

var errSilent = errors.New("the sound device has stopped playing")

// hearing is what a track needs of a film.
type hearing func(ctx context.Context, film int, from, to time.Duration, tempo float64) (io.ReadCloser, error)

// soundOf gives the sound of films on the line. Times are of the picture.
func soundOf(l line) hearing {
	return func(ctx context.Context, film int, from, to time.Duration, tempo float64) (io.ReadCloser, error) {
		if tempo == 1 {
			tempo = 0
		}
		return l[film].file.Sound(ctx, footage.SoundFormat{Rate: soundRate, Channels: 2, Tempo: tempo}, from, to)
	}
}

// newTrack begins to decode a course at a rate. The line must not change while
// the track lives: give it a copy.
func newTrack(wg *sync.WaitGroup, l line, c course, rate float64, shift time.Duration, open hearing) *track {
	ctx, stop := context.WithCancel(context.Background())
	t := &track{stop: stop}
	t.room, t.more = sync.NewCond(&t.mu), sync.NewCond(&t.mu)
	wg.Go(func() {
		c.pieces(l, func(p piece) bool {
			return t.fill(ctx, p, l[p.film].SoundOffset+shift, rate, open)
		})
		t.mu.Lock()
		t.ended = true
		t.more.Broadcast()
		t.mu.Unlock()
	})
	return t
}

// fill decodes one piece; false when the track was closed.
func (t *track) fill(ctx context.Context, p piece, offset time.Duration, rate float64, open hearing) bool {
	want := soundBytes(time.Duration(float64(p.to-p.from) / rate))
	from, to := p.from-offset, p.to-offset
	if from < 0 {
		n := min(want, soundBytes(time.Duration(float64(-from)/rate)))
		if !t.silence(n) {
			return false
		}
		want -= n
		from = 0
	}
	if want <= 0 || to <= from {
		return t.silence(want)
	}
	s, err := open(ctx, p.film, from, to, rate)
	if err != nil {
		return t.silence(want)
	}
	defer s.Close()
	block := make([]byte, 16<<10)
	for want > 0 {
		n, err := s.Read(block[:min(int64(len(block)), want)])
		if n > 0 && !t.write(block[:n]) {
			return false
		}
		want -= int64(n)
		if err != nil {
			break
		}
	}
	return t.silence(want)
}

func (t *track) silence(n int64) bool {
	block := make([]byte, 16<<10)
	for n > 0 {
		k := min(n, int64(len(block)))
		if !t.write(block[:k]) {
			return false
		}
		n -= k
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	return !t.closed
}

func (t *track) write(p []byte) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	for !t.closed && len(t.buf) >= int(soundBytes(trackAhead)) {
		t.room.Wait()
	}
	if t.closed {
		return false
	}
	t.buf = append(t.buf, p...)
	t.more.Broadcast()
	return true
}

// Read gives sound to the device. It waits when there is none yet.
func (t *track) Read(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	for !t.closed && !t.ended && len(t.buf) < sampleBytes {
		t.more.Wait()
	}
	if t.closed || len(t.buf) < sampleBytes {
		return 0, io.EOF
	}
	n := copy(p, t.buf) / sampleBytes * sampleBytes
	t.buf = t.buf[:copy(t.buf, t.buf[n:])]
	t.room.Broadcast()
	return n, nil
}

// skipTo drops what comes before a time, counted from the course's start, and
// says whether enough waits there to begin. Asked with rising times.
func (t *track) skipTo(at time.Duration) bool {
	const enough = 200 * time.Millisecond
	t.mu.Lock()
	defer t.mu.Unlock()
	if n := min(soundBytes(at)-t.skipped, int64(len(t.buf)/sampleBytes*sampleBytes)); n > 0 {
		t.buf = t.buf[:copy(t.buf, t.buf[n:])]
		t.skipped += n
		t.room.Broadcast()
	}
	return t.skipped >= soundBytes(at) && (t.ended || int64(len(t.buf)) >= soundBytes(enough))
}

// drained says whether all of it was read.
func (t *track) drained() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.ended && len(t.buf) < sampleBytes
}

// starving says whether the decoder gives less than the device takes.
func (t *track) starving() bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	return len(t.buf) < sampleBytes
}

func (t *track) close() {
	t.mu.Lock()
	t.closed = true
	t.room.Broadcast()
	t.more.Broadcast()
	t.mu.Unlock()
	t.stop()
}

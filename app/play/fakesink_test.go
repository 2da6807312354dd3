package play

import (
	"errors"
	"io"
	"sync"
	"time"
)

// fakeSink is a sound device that takes sound at its pace and plays nothing.
type fakeSink struct {
	mu     sync.Mutex
	broken bool
	voices int // playing now
	began  int
	bytes  int64
}

func (s *fakeSink) Err() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.broken {
		return errors.New("the sound device was pulled out")
	}
	return nil
}

func (s *fakeSink) pullOut() {
	s.mu.Lock()
	s.broken = true
	s.mu.Unlock()
}

func (s *fakeSink) Latency() time.Duration { return 30 * time.Millisecond }

func (s *fakeSink) Start(r io.Reader, _ float64) (Voice, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.voices++
	s.began++
	v := &fakeVoice{sink: s, stop: make(chan struct{})}
	go v.run(r)
	return v, nil
}

// fakeVoice reads 13 ms of sound every 13 ms.
type fakeVoice struct {
	sink *fakeSink
	stop chan struct{}
	once sync.Once
	read int64 // guarded by the sink's lock
}

func (v *fakeVoice) run(r io.Reader) {
	const beat = 13 * time.Millisecond
	buf := make([]byte, soundBytes(beat))
	tick := time.NewTicker(beat)
	defer tick.Stop()
	for {
		select {
		case <-v.stop:
			return
		case <-tick.C:
		}
		n, err := r.Read(buf)
		v.sink.mu.Lock()
		if !v.sink.broken {
			v.read += int64(n)
			v.sink.bytes += int64(n)
		}
		v.sink.mu.Unlock()
		if err != nil {
			return
		}
	}
}

func (v *fakeVoice) Heard() time.Duration {
	v.sink.mu.Lock()
	defer v.sink.mu.Unlock()
	return soundTime(v.read) - v.sink.Latency()
}

func (v *fakeVoice) SetVolume(float64) {}

func (v *fakeVoice) Stop() {
	v.once.Do(func() {
		close(v.stop)
		v.sink.mu.Lock()
		v.sink.voices--
		v.sink.mu.Unlock()
	})
}

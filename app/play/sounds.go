package play

import (
	"sync"
	"time"
)

// sounds is the player's sound: a device, the track of the course, and the
// voice that plays it.
type sounds struct {
	wanted bool
	asked  bool // the device is being opened
	sink   Sink
	open   func(line) hearing
	wg     *sync.WaitGroup
	volume float64
	shift  time.Duration
	note   string // why there is no sound

	track *track
	voice Voice
}

// drop ends the sound of the present course.
func (s *sounds) drop() {
	if s.voice != nil {
		s.voice.Stop()
	}
	if s.track != nil {
		s.track.close()
	}
	s.voice, s.track = nil, nil
}

// ready says whether nothing more is to be waited for.
func (s *sounds) ready() bool {
	if s.track != nil {
		return s.track.skipTo(0)
	}
	return !s.wanted || s.sink == nil && !s.asked
}

// lost notes that there is no device (any more).
func (s *sounds) lost(err error) {
	s.drop()
	s.sink = nil
	s.note = err.Error() + "; the picture goes on without sound"
}

// hear keeps sound in step with playing.
func (c *core) hear(now time.Time) time.Duration {
	s := c.sound
	if !s.wanted || s.sink == nil || len(c.line) == 0 {
		return idle
	}
	if c.clock != nil && c.clock.voice != nil {
		err := s.sink.Err()
		stalled, starving := c.clock.heard.stalled(now), s.track.starving()
		if err == nil && stalled && !starving {
			err = errSilent
		}
		switch {
		case err == nil && stalled && !s.track.drained():
			// The decoder hangs: another one is tried while the picture goes on.
			c.clock.leave(now)
			s.drop()
			return 0
		case err != nil:
			c.clock.leave(now)
			s.lost(err)
		case s.track.drained():
			c.clock.leave(now)
		}
		return 100 * time.Millisecond
	}
	if c.rate < MinSoundRate || c.rate > MaxSoundRate || !c.line.usable(c.at.film) {
		s.drop()
		return idle
	}
	if s.track == nil && c.wish == nil && c.asked == nil {
		if !c.playing {
			if rest := now.Sub(c.rested); rest < 2*settleTime {
				return 2*settleTime - rest
			}
			if c.cur == nil || c.broke != nil || c.ended {
				return idle
			}
			c.setCourse(c.at.film, c.line.time(c.at))
		}
		// The goroutine of the track reads the line: give it one of its own.
		own := make(line, len(c.line))
		for i, x := range c.line {
			y := *x
			own[i] = &y
		}
		s.track = newTrack(s.wg, own, c.course, c.rate, s.shift, s.open(own))
	}
	if c.clock == nil || s.track == nil || s.voice != nil {
		return idle
	}
	if err := s.sink.Err(); err != nil {
		s.lost(err)
		return idle
	}
	// What the device delays is skipped, so that the clock does not stand still.
	at := c.clock.played(now) + s.sink.Latency()
	if at < s.sink.Latency()+5*time.Millisecond {
		at = 0 // from the very beginning nothing is skipped
	}
	if !s.track.skipTo(at) {
		return 10 * time.Millisecond
	}
	voice, err := s.sink.Start(s.track, s.volume)
	if err != nil {
		s.lost(err)
		return idle
	}
	s.voice = voice
	c.clock.join(now, voice, at)
	return 20 * time.Millisecond
}

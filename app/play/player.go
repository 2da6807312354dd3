package play

import (
	"context"
	"errors"
	"image"
	"os"
	"sync"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

// Player plays the film of one camera. Its methods return at once and may be
// called from any goroutine; what they do is told by OnShown.
type Player struct {
	opt     Options
	proxies *Proxies
	own     bool // proxies were made here

	mu    sync.Mutex
	mail  []func(now time.Time)
	shown Shown
	stats Stats
	known map[timeline.ID]*footage.Index
	ended bool

	wake    chan struct{}
	quit    chan struct{}
	done    chan struct{}
	answers chan answer
	wg      sync.WaitGroup // all goroutines but the player's own
	ctx     context.Context
	stop    context.CancelFunc

	core  *core
	load  int // counts Load
	holds bool
}

// New makes a player with no film.
func New(o Options) *Player {
	if o.Runner == nil {
		o.Runner = ffmpeg.Default()
	}
	if o.FrameBytes <= 0 {
		o.FrameBytes = DefaultFrameBytes
	}
	p := &Player{
		opt: o, proxies: o.Proxies, wake: make(chan struct{}, 1), quit: make(chan struct{}), done: make(chan struct{}),
		answers: make(chan answer), core: newCore(o.FrameBytes), known: map[timeline.ID]*footage.Index{}, shown: Shown{State: Empty, Rate: 1, Index: -1},
	}
	if p.proxies == nil {
		p.proxies, p.own = NewProxies(o.Runner, o.CacheDir, o.CacheBytes), true
	}
	p.ctx, p.stop = context.WithCancel(context.Background())
	c := p.core
	file := func(film int) *footage.File { return c.line[film].file }
	c.child = &children{files: file, pool: c.cache.pool, out: p.answers, wg: &p.wg}
	lights := &lights{proxies: p.proxies, files: file, pool: c.cache.pool, out: p.answers, wg: &p.wg}
	c.light = lights
	c.covers = func(at pos) bool { return lights.covers(at) != nil }
	c.busy = p.holdProxies
	c.sound = &sounds{wanted: o.Sound, sink: o.Sink, open: soundOf, wg: &p.wg, volume: 1}
	if o.Sound && o.Sink == nil {
		c.sound.asked = true
		p.wg.Go(p.findDevice)
	}
	p.wg.Go(p.watch)
	go p.run()
	return p
}

// findDevice opens the sound device, which can take a while.
func (p *Player) findDevice() {
	sink, err := openDevice()
	p.post(func(time.Time) {
		p.core.sound.asked = false
		if err != nil {
			p.core.sound.lost(err)
			return
		}
		p.core.sound.sink = sink
	})
}

// holdProxies keeps the preparing of light copies back while a frame is waited
// for.
func (p *Player) holdProxies(on bool) {
	if on == p.holds {
		return
	}
	p.holds = on
	if on {
		p.proxies.hold.Add(1)
	} else {
		p.proxies.hold.Add(-1)
	}
}

// post gives the player's goroutine something to do.
func (p *Player) post(do func(now time.Time)) {
	p.mu.Lock()
	if !p.ended {
		p.mail = append(p.mail, do)
	}
	p.mu.Unlock()
	select {
	case p.wake <- struct{}{}:
	default:
	}
}

// run is the player's goroutine.
func (p *Player) run() {
	defer close(p.done)
	timer := time.NewTimer(time.Hour)
	for {
		now := time.Now()
		p.mu.Lock()
		mail := p.mail
		p.mail = nil
		p.mu.Unlock()
		for _, do := range mail {
			do(now)
		}
		wait := p.core.step(now)
		p.publish()
		timer.Reset(wait)
		select {
		case <-p.wake:
		case <-timer.C:
		case a := <-p.answers:
			p.core.take(time.Now(), a)
		case <-p.quit:
			timer.Stop()
			p.core.stopRuns()
			p.core.sound.drop()
			p.holdProxies(false)
			return
		}
	}
}

// publish tells what is shown when it has changed.
func (p *Player) publish() {
	s := p.core.shown()
	p.mu.Lock()
	changed := s != p.shown
	p.shown, p.stats = s, p.core.stats
	p.mu.Unlock()
	if changed && p.opt.OnShown != nil {
		p.opt.OnShown(s)
	}
}

// Load puts the files of one camera on the line, in order, and shows the first
// frame. What was loaded before is gone.
func (p *Player) Load(films []Film) {
	l := make(line, len(films))
	for i, f := range films {
		l[i] = &stretch{Film: f}
	}
	p.post(func(now time.Time) {
		p.load++
		p.core.load(now, l)
		p.mu.Lock()
		p.known = map[timeline.ID]*footage.Index{}
		p.mu.Unlock()
		load := p.load
		p.wg.Go(func() {
			for i, f := range films {
				p.open(load, i, f)
			}
		})
	})
}

// open opens one film and tells the player's goroutine.
func (p *Player) open(load, film int, f Film) {
	if p.ctx.Err() != nil {
		return
	}
	file, err := openFilm(p.ctx, p.opt.Runner, p.proxies.dir, f.Path)
	p.post(func(now time.Time) {
		if load != p.load {
			return
		}
		s := p.core.line[film]
		if err == nil && s.file != nil && s.file.Fingerprint != file.Fingerprint {
			// Another film has come back under the name.
			p.core.load(now, p.core.line)
			defer p.core.settled(now, 0)
		}
		s.state, s.note, s.file = "", "", file
		switch {
		case err == nil:
			s.settle(file.Index)
			p.mu.Lock()
			p.known[f.ID] = file.Index
			p.mu.Unlock()
		case errors.Is(err, footage.ErrMissing):
			s.settled = true
			p.core.vanished(now, film)
		default:
			s.settled, s.state, s.note = true, Broken, err.Error()
		}
		p.core.settled(now, film)
	})
}

// watchEvery is how often it is looked whether the films are still there.
const watchEvery = 400 * time.Millisecond

// watch notices films that vanish and those that come back. A decoder that has
// a file open goes on after its name is gone, so decoding doesn't tell.
func (p *Player) watch() {
	var films []Film
	var there []bool
	load := 0
	for {
		select {
		case <-p.ctx.Done():
			return
		case <-time.After(watchEvery):
		}
		got := make(chan struct{})
		p.post(func(time.Time) {
			defer close(got)
			if load == p.load {
				return
			}
			load, films, there = p.load, nil, nil
			for _, s := range p.core.line {
				films = append(films, s.Film)
				there = append(there, true)
			}
		})
		select {
		case <-got:
		case <-p.ctx.Done():
			return
		}
		for i, f := range films {
			_, err := os.Stat(f.Path)
			is := !errors.Is(err, os.ErrNotExist)
			if is == there[i] {
				continue
			}
			there[i] = is
			if is {
				p.open(load, i, f)
				continue
			}
			p.post(func(now time.Time) {
				if s := p.core.line; load == p.load && s[i].settled && s[i].state == "" {
					p.core.vanished(now, i)
				}
			})
		}
	}
}

// Seek shows the frame at a film time, kept within the bout. The newest seek
// wins: one that was not answered yet is dropped. While a drag goes on over film
// that decodes slowly, the frame of an older one may be shown on the way.
func (p *Player) Seek(id timeline.ID, at time.Duration) {
	p.post(func(now time.Time) { p.core.seek(now, Spot{id, at}) })
}

// Step goes some frames on, or back when negative, over file edges, and stays
// there.
func (p *Player) Step(frames int) {
	p.post(func(now time.Time) { p.core.stepBy(now, frames) })
}

// Play plays on; at the end it starts anew.
func (p *Player) Play() { p.post(p.core.play) }

// Pause stays at the frame shown.
func (p *Player) Pause() { p.post(p.core.pause) }

// Toggle plays or pauses.
func (p *Player) Toggle() {
	p.post(func(now time.Time) {
		if p.core.playing {
			p.core.pause(now)
		} else {
			p.core.play(now)
		}
	})
}

// SetRate sets the speed, kept within 0.1 and 4: up to 2 every frame is shown,
// above some are left out. Sound keeps its pitch from 0.5 to 2 and is silent
// elsewhere.
func (p *Player) SetRate(r float64) {
	if !(r >= MinRate) {
		r = MinRate
	}
	r = min(r, MaxRate)
	p.post(func(now time.Time) {
		c := p.core
		if r == c.rate {
			return
		}
		c.changing(now, func() { c.rate = r })
	})
}

// Loop plays film time from..to of a film round and round; it goes to its start
// when it is elsewhere. It does not start to play by itself.
func (p *Player) Loop(id timeline.ID, from, to time.Duration) {
	p.post(func(now time.Time) {
		c := p.core
		if to <= from || c.line.find(id) < 0 {
			return
		}
		c.changing(now, func() { c.loop = &loop{id, from, to} })
		if s := c.shown(); s.Footage != id || s.Film < from || s.Film >= to {
			c.seek(now, Spot{id, from})
		}
	})
}

// Unloop goes on after the loop's end.
func (p *Player) Unloop() {
	p.post(func(now time.Time) { p.core.changing(now, func() { p.core.loop = nil }) })
}

// SetSize sets the largest picture wanted, in pixels. Pictures keep the film's
// aspect and never get larger than the film's.
func (p *Player) SetSize(w, h int) {
	if w <= 0 || h <= 0 {
		return
	}
	p.post(func(now time.Time) { p.core.newBox, p.core.newBoxAt = image.Pt(w, h), now })
}

// SetVolume sets the volume, 0 to 1.
func (p *Player) SetVolume(v float64) {
	if !(v >= 0) {
		v = 0
	}
	v = min(v, 1)
	p.post(func(time.Time) {
		s := p.core.sound
		s.volume = v
		if s.voice != nil {
			s.voice.SetVolume(v)
		}
	})
}

// SetSoundOffset adds to the sound's time of all films, besides each film's own
// offset: positive makes it later.
func (p *Player) SetSoundOffset(d time.Duration) {
	p.post(func(now time.Time) { p.core.changing(now, func() { p.core.sound.shift = d }) })
}

// Ahead names places that may be gone to next. The beginnings of the first four
// are decoded while the player rests.
func (p *Player) Ahead(spots []Spot) {
	own := append([]Spot(nil), spots...)
	p.post(func(time.Time) {
		p.core.spots = own
		p.core.keepSpots()
	})
}

// Shown is what is shown now.
func (p *Player) Shown() Shown {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.shown
}

// Frames says when the frames of a film appear; nil when it was not opened yet,
// or can't be.
func (p *Player) Frames(id timeline.ID) *footage.Index {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.known[id]
}

// Stats are counts since New.
func (p *Player) Stats() Stats {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.stats
}

// Proxies are the light copies the player uses.
func (p *Player) Proxies() *Proxies { return p.proxies }

// Close ends everything. No goroutine and no child of the player is left when
// it returns, and OnShown is not called any more. It must not be called from
// OnShown.
func (p *Player) Close() {
	p.mu.Lock()
	first := !p.ended
	p.ended = true
	p.mu.Unlock()
	if first {
		p.stop()
		close(p.quit)
	}
	<-p.done
	p.wg.Wait()
	if first && p.own {
		p.proxies.Close()
	}
}

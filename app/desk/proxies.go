package desk

import (
	"context"
	"errors"
	"slices"
	"time"

	"whistlecut/app/desk/words"
	"whistlecut/app/play"
	"whistlecut/timeline"
)

// proxies prepares light copies of the shown camera's film in the background, jams
// first, so that scrubbing shows every frame at once.
type proxies struct {
	films  []play.Film
	cancel context.CancelFunc
	// done and whole are the film time prepared and to be prepared.
	done, whole time.Duration
	full        bool
}

// prepare starts anew when the films are others than before.
func (p *proxies) prepare(d *Desk, films []play.Film) {
	if slices.Equal(films, p.films) {
		return
	}
	if p.cancel != nil {
		p.cancel()
	}
	*p = proxies{films: films}
	if len(films) == 0 || d.set.ProxyLimit() == 0 {
		return
	}
	ctx, cancel := context.WithCancel(d.life)
	p.cancel = cancel
	first := d.jamRanges()
	store := d.player.Proxies()
	d.behind.Add(1)
	go func() {
		defer d.behind.Done()
		defer cancel()
		last := time.Time{}
		err := store.Prepare(ctx, films, first, func(done, whole time.Duration) {
			if now := time.Now(); now.Sub(last) > time.Second || done == whole {
				last = now
				d.later(func() {
					if slices.Equal(p.films, films) {
						p.done, p.whole = done, whole
					}
				})
			}
		})
		d.later(func() {
			if slices.Equal(p.films, films) && errors.Is(err, play.ErrFull) {
				p.full = true
			}
		})
	}()
}

// jamRanges are the parts of the shown camera's film that show jams.
func (d *Desk) jamRanges() []play.Range {
	var out []play.Range
	b := d.session.Bout
	for _, j := range b.Jams {
		length := j.Duration
		if length == 0 {
			length = b.Rules.JamLength
		}
		for _, spot := range b.Alignment.Films(timeline.InJam(j.ID, 0)) {
			if d.session.Facts.Footage[spot.Footage].Camera == d.camera {
				out = append(out, play.Range{Footage: spot.Footage, From: max(spot.Film-2*time.Second, 0), To: spot.Film + length + 2*time.Second})
			}
		}
	}
	return out
}

// proxyText says how much is prepared and how much room it takes.
func (d *Desk) proxyText() string {
	size := float64(d.player.Proxies().Size()) / (1 << 30)
	text := words.T("{.size} GB on the disk", "size", trim(size))
	p := &d.proxy
	if p.whole > 0 {
		text += ", " + words.T("{.percent} % of this film prepared", "percent", int(100*p.done/p.whole))
	}
	if p.full {
		text += ", " + words.T("the limit is reached")
	}
	return text + "."
}

// dropProxies deletes all light copies; they are not made again before the bout
// is opened the next time.
func (d *Desk) dropProxies() {
	if d.proxy.cancel != nil {
		d.proxy.cancel()
	}
	d.Fail(d.player.Proxies().Delete())
	d.proxy.done, d.proxy.whole, d.proxy.full = 0, 0, false
}

// limitProxies takes over another limit for what is prepared from now on.
func (d *Desk) limitProxies() {
	films := d.proxy.films
	if d.proxy.cancel != nil {
		d.proxy.cancel()
	}
	d.proxy = proxies{}
	d.player.Proxies().SetLimit(d.set.ProxyLimit())
	if d.session != nil {
		d.proxy.prepare(d, films)
	}
}

package reel

import (
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/app/reels"
	"whistlecut/export/overlay"
	"whistlecut/timeline"
)

// waiter does something after a while, on the window's goroutine, unless the
// function it returns is called before.
type waiter func(d time.Duration, do func()) (cancel func())

func afterOnWindow(d time.Duration, do func()) func() {
	gone := false // only touched on the window's goroutine
	timer := time.AfterFunc(d, func() {
		fyne.Do(func() {
			if !gone {
				do()
			}
		})
	})
	return func() { gone = true; timer.Stop() }
}

// runner plays parts as they will be seen: film at its speeds, pictures held,
// cards for their time.
type runner struct {
	desk  task.Desk
	later waiter
	// local is a part as the desk shows it; false where its film is missing.
	local func(timeline.Part) (timeline.Part, bool)
	parts []timeline.Part
	at    int // part
	loop  bool
	waits bool // after each part, until it is told to go on
	// changed is told when another part or beat is shown, and ended when all is over
	// (finished) or a person took the film elsewhere.
	changed func()
	ended   func(finished bool)

	beats   []beat
	bar     overlay.Caption // under the clip, empty for none
	beat    int
	arrived bool // the film has reached the beat
	paused  bool
	over    bool // the part is over, and it waits
	cancel  func()
}

// start shows part i from its beginning.
func (r *runner) start(i int) {
	r.drop()
	r.at, r.beat, r.arrived, r.paused, r.over = i, 0, false, false, false
	p, there := r.as(r.parts[i])
	long := time.Duration(0)
	if p.Clip != nil {
		if o := r.parts[i].Clip.Other; o != nil {
			long = o.Length
		} else if s := r.desk.Session(); s != nil {
			long = s.Facts.Footage[p.Clip.Footage].Duration
		}
	}
	r.beats = beats(p, long)
	r.desk.Unloop()
	r.bar = overlay.Caption{}
	if p.Card != nil {
		r.desk.Beside("")
	}
	if p.Clip != nil && p.Clip.Other == nil {
		r.desk.Mute(p.Clip.Mute)
		r.desk.Beside(p.Clip.Beside)
		if s := r.desk.Session(); s != nil && s.Facts.Reels[p.Reel].Bar {
			r.bar = reels.BarOf(s, *r.parts[i].Clip)
		}
	}
	var ahead []timeline.Place
	for _, x := range r.parts[i+1:] {
		if x, ok := r.as(x); ok && x.Clip != nil && len(ahead) < 2 {
			ahead = append(ahead, timeline.OnFilm(x.Clip.Footage, x.Clip.Shown().Start))
		}
	}
	r.desk.Ahead(ahead...)
	if !there {
		r.desk.Say(words.T("The film of part {.n} is missing; it is left out.", "n", i+1))
	}
	if len(r.beats) == 0 {
		r.partOver()
		return
	}
	r.play()
}

// as is a part as the desk shows it.
func (r *runner) as(p timeline.Part) (timeline.Part, bool) {
	if r.local == nil {
		return p, true
	}
	return r.local(p)
}

// play shows the beat whose turn it is.
func (r *runner) play() {
	b := r.beats[r.beat]
	r.arrived = false
	switch {
	case b.footage == "":
		r.desk.Pause()
		r.wait(b.length)
	case b.to <= b.from:
		r.desk.Pause()
		r.desk.GoFilm(b.footage, b.from)
		r.wait(b.length)
	default:
		// Where the film has just come to the beat it runs on without a jump.
		n := r.desk.Now()
		on := r.beat > 0 && r.beats[r.beat-1].to > r.beats[r.beat-1].from
		r.arrived = on && n.Footage == b.footage && n.Film >= b.from && n.Film <= b.from+slackNear
		if !r.arrived {
			r.desk.GoFilm(b.footage, b.from)
		}
		r.desk.SetRate(b.rate)
		if !r.paused {
			r.desk.Play()
		}
	}
	if r.changed != nil {
		r.changed()
	}
}

// How far the film may be from a beat before a person has taken it elsewhere; and
// how far past a beat's start it may be and still run on without a jump.
const (
	slackBefore = 1500 * time.Millisecond
	slackAfter  = 5 * time.Second // a busy machine tells late where the film is
	slackNear   = 250 * time.Millisecond
	shortest    = 50 * time.Millisecond // of a beat that the film may pass between two looks
)

// moved follows the film.
func (r *runner) moved(n task.Now) {
	if r.over || r.beat >= len(r.beats) {
		return
	}
	b := r.beats[r.beat]
	if b.to <= b.from {
		return // time ends it, not film
	}
	inside := n.Footage == b.footage && n.Film >= b.from-slackBefore && n.Film <= b.to+slackAfter
	switch {
	case !r.arrived && (!inside || n.Film >= b.to && b.to-b.from > shortest): // still on the way
	case !inside:
		r.stop()
		r.end(false)
	case n.Film < b.to:
		r.arrived = true
	default:
		r.next()
	}
}

// next goes on to the next beat, or to what comes after the part.
func (r *runner) next() {
	r.drop()
	if r.beat+1 < len(r.beats) {
		r.beat++
		r.play()
		return
	}
	r.partOver()
}

func (r *runner) partOver() {
	switch {
	case r.loop && len(r.beats) > 0:
		r.start(r.at)
	case r.waits:
		r.over = true
		r.desk.Pause()
		if r.changed != nil {
			r.changed()
		}
	case r.at+1 < len(r.parts):
		r.start(r.at + 1)
	default:
		r.stop()
		r.end(true)
	}
}

func (r *runner) end(finished bool) {
	if r.ended != nil {
		r.ended(finished)
	}
}

// toggle pauses or goes on. A held picture or a card begins its time anew.
func (r *runner) toggle() {
	if r.over {
		r.start(r.at)
		return
	}
	r.paused = !r.paused
	if r.beat >= len(r.beats) {
		return
	}
	b := r.beats[r.beat]
	switch {
	case r.paused:
		r.drop()
		r.desk.Pause()
	case b.to > b.from:
		r.desk.Play()
	default:
		r.wait(b.length)
	}
	if r.changed != nil {
		r.changed()
	}
}

// hold pauses if it was running.
func (r *runner) hold() {
	if !r.paused && !r.over {
		r.toggle()
	}
}

// wait goes on after a time; a card of a reel that waits stays.
func (r *runner) wait(d time.Duration) {
	if r.waits && r.beats[r.beat].footage == "" {
		r.over = true
		return
	}
	r.cancel = r.later(d, func() {
		r.cancel = nil
		r.next()
	})
}

func (r *runner) drop() {
	if r.cancel != nil {
		r.cancel()
		r.cancel = nil
	}
}

// stop ends playing; the film stands where it is, at its usual speed.
func (r *runner) stop() {
	r.drop()
	r.over = true
	r.desk.Pause()
	r.desk.SetRate(1)
	r.desk.Mute(false)
}

// part is what is shown.
func (r *runner) part() timeline.Part { return r.parts[r.at] }

// card reports whether a card is shown.
func (r *runner) card() bool { return r.part().Card != nil }

// frozen reports whether a picture is held by the reel.
func (r *runner) frozen() bool {
	return r.beat < len(r.beats) && r.beats[r.beat].footage != "" && r.beats[r.beat].to <= r.beats[r.beat].from
}

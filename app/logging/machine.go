package logging

import (
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"time"

	"whistlecut/timeline"
)

// Machine logs one bout by keys. It is used from one goroutine. The changes of
// an Outcome are to be stored before the next Press.
type Machine struct {
	// NewID makes the IDs of new tags; nil makes random ones.
	NewID func() timeline.ID

	jam     timeline.ID // the jam the film was last in
	prompts []Prompt    // the last one is asked first
	typed   string
	asking  Act  // CallOff, Timeout or Review while its side is asked for, else NoAct
	armed   bool // the next entry is not seen
	last    timeline.ID
	penalty timeline.ID // the last penalty logged, for its code
	chosen  Entry
	held    time.Duration // film time since which the choice is held
}

// How long after its moment an entry counts as just logged, and how far the film
// may run on before a chosen tag is let go.
const (
	justNow  = 3 * time.Second
	lapse    = 10 * time.Second
	edgeNear = 2 * time.Second // a second press of a jam's edge is a slip
)

func (m *Machine) newID() timeline.ID {
	if m.NewID != nil {
		return m.NewID()
	}
	var b [10]byte
	rand.Read(b[:]) // never fails (crypto/rand)
	return timeline.ID("t" + hex.EncodeToString(b[:]))
}

// Moved tells the machine that the film or the bout moved on: a jam that comes
// up has its jammers asked for, a forgotten choice is let go. It reports whether
// anything that is shown changed.
func (m *Machine) Moved(v View) bool {
	s := v.Standing()
	changed := m.tidy(v)
	id := timeline.ID("")
	if s.Jam >= 0 {
		id = v.Bout.Jams[s.Jam].ID
	}
	if id != m.jam {
		m.jam, m.asking, changed = id, NoAct, true
		// A tag of this jam may be chosen already, to be settled: it goes on.
		if at := v.jamOf(m.chosen.Tag); m.chosen.Tag == "" || at != s.Jam && at != s.Jam+1 {
			m.unchoose()
			m.dropLineups()
			if s.State == Running {
				m.askJammers(v, s.Jam)
			}
		}
	}
	if m.chosen.Tag != "" {
		m.held = min(m.held, v.Now.Film)
		if v.Now.Film > max(m.held, v.filmTime(m.chosen.Tag))+lapse {
			m.unchoose()
			changed = true
		}
	}
	return changed
}

// Press does what a key asks for.
func (m *Machine) Press(v View, k Key) Outcome {
	m.Moved(v)
	if v.Now.Footage == "" && k.Act != Settle && k.Act != Choose {
		return refuse(NoFilm)
	}
	o, answered := m.whose(v, k)
	if !answered {
		o = m.act(v, k)
	}
	if !possible(o.Changes) {
		return refuse(BackToFront)
	}
	if len(o.Changes) > 0 {
		m.hold(v)
	}
	return o
}

// possible reports whether every tag to be stored is one that can be. What keys
// can get wrong is the order of times: a visit to the box that ends before it
// begins, a jam whose start is moved behind its end.
func possible(changes []timeline.Change) bool {
	for _, c := range changes {
		if c.Record.Collection != timeline.ColTag || c.Value == nil {
			continue
		}
		var t timeline.Tag
		if json.Unmarshal(c.Value, &t) != nil || timeline.CheckTag(t) != nil {
			return false
		}
	}
	return true
}

func (m *Machine) act(v View, k Key) Outcome {
	switch k.Act {
	case JamEdge:
		return m.enter(v)
	case NextPeriod:
		return m.start(v, true)
	case HowEnded:
		return m.howEnded(v)
	case CallOff:
		return m.callOff(v)
	case Leave:
		return m.leave(v)
	case Lead:
		return m.lead(v, k.Side)
	case Lost:
		return m.lost(v, k.Side)
	case Initial:
		return m.initial(v, k.Side)
	case Star:
		return m.star(v, k.Side)
	case Trip:
		return m.trip(v, k.Side, k.N)
	case Box:
		return m.box(v, k.Side)
	case Penalty:
		return m.pen(v, k.Side)
	case Injury:
		return m.injury(v)
	case Timeout, Review:
		return m.stop(v, k.Act)
	case Digit:
		return m.digit(v, k.N)
	case Backspace:
		if n := len(m.typed); n > 0 {
			m.typed = m.typed[:n-1]
		}
		return Outcome{}
	case Code:
		return m.code(v, k.Letter)
	case NotSeen:
		return m.notSeen(v)
	case Unsure:
		return m.unsure(v)
	case Confirm:
		return m.confirm(v, k.Side)
	case Choose:
		return m.choose(v, k.N)
	case Delete:
		return m.remove(v)
	case MoveHere:
		return m.moveHere(v)
	case Nudge:
		return m.nudge(v, k.By)
	case Settle:
		if k.N < 0 {
			return m.settle(v, -1)
		}
		return m.settle(v, 1)
	case Jammers:
		if s := v.Standing(); s.Jam >= 0 {
			m.dropLineups()
			m.ask(Prompt{Asks: AskJammer, Side: timeline.Away, Jam: v.Bout.Jams[s.Jam].ID})
			m.ask(Prompt{Asks: AskJammer, Side: timeline.Home, Jam: v.Bout.Jams[s.Jam].ID})
			return Outcome{}
		}
		return refuse(NoJam)
	case Lineups:
		return m.askLineups(v)
	}
	return Outcome{}
}

// leave is Escape: out of what is open, else the call-off.
func (m *Machine) leave(v View) Outcome {
	switch {
	case m.typed != "":
		m.typed = ""
	case m.asking != NoAct:
		m.asking = NoAct
	case m.chosen.Tag != "":
		m.unchoose()
	default:
		return m.callOff(v)
	}
	return Outcome{}
}

// tidy lets go of what is not there any more (undone, deleted, another bout).
func (m *Machine) tidy(v View) bool {
	n := len(m.prompts)
	kept := m.prompts[:0]
	for _, p := range m.prompts {
		if p.Tag != "" {
			if _, ok := v.tag(p.Tag); !ok {
				continue
			}
		} else if v.index(p.Jam) < 0 {
			continue
		}
		kept = append(kept, p)
	}
	m.prompts = kept
	changed := len(kept) != n
	if changed {
		m.typed = ""
	}
	if m.chosen.Tag != "" {
		if t, ok := v.tag(m.chosen.Tag); !ok || m.chosen.End && (t.JamInfo == nil || t.JamInfo.End.IsZero()) {
			m.unchoose()
			changed = true
		}
	}
	if _, ok := v.tag(m.last); !ok {
		m.last = ""
	}
	if _, ok := v.tag(m.penalty); !ok {
		m.penalty = ""
	}
	return changed
}

// Armed reports whether the next entry will be logged as not seen.
func (m *Machine) Armed() bool { return m.armed }

// Asking is what the side is asked for of: CallOff, Timeout or Review; NoAct when
// nothing is asked.
func (m *Machine) Asking() Act { return m.asking }

// whose takes a key as the answer to whose call-off, timeout or review it is. Any
// key of a side names that side, Enter the officials; another key drops the
// question and is done as usual.
func (m *Machine) whose(v View, k Key) (Outcome, bool) {
	was := m.asking
	if was == NoAct || k.Act == Leave {
		return Outcome{}, false
	}
	m.asking = NoAct
	official := was == Timeout && (k.Act == JamEdge || k.Act == Timeout)
	if k.Side == timeline.NoSide && !official {
		return Outcome{}, false
	}
	switch was {
	case Timeout, Review:
		return m.stopped(v, was, k.Side), true
	}
	return m.called(v, k.Side), true
}

// takeArmed says whether an entry that is made now is not seen.
func (m *Machine) takeArmed() bool {
	a := m.armed
	m.armed = false
	return a
}

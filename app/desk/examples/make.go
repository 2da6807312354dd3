package examples

import (
	"errors"
	"time"

	"whistlecut/app"
	"whistlecut/app/desk/words"
	gather "whistlecut/app/examples"
	"whistlecut/timeline"
	"whistlecut/timeline/whistle"
)

// A person who sees something presses a key a little later: so much before the
// frame shown, and after it, is the moment until she says otherwise (common
// practice, no source).
const (
	leadIn  = 4 * time.Second
	leadOut = 2 * time.Second
)

// nearCall is how far the film may stand from a penalty's call that is meant.
const nearCall = time.Second

// options are how examples are made here.
func (t *Task) options(s *app.Session) gather.Options {
	o := gather.Options{Heard: map[timeline.ID]whistle.Result{}}
	for id := range s.Facts.Footage {
		if got, ok := t.desk.Heard(id); ok {
			o.Heard[id] = got.Result
		}
	}
	return o
}

// here makes the moment shown an example: the penalty that is called there, else
// the place itself.
func (t *Task) here() {
	s := t.desk.Session()
	n := t.desk.Now()
	if s == nil || n.Footage == "" {
		t.desk.Say(words.T("No film is shown whose moment could be taken."))
		return
	}
	for _, m := range timeline.Find(s.Bout, s.Facts, timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty}}) {
		for _, f := range m.Film {
			if f.Footage == n.Footage && (f.From-n.Film).Abs() <= nearCall {
				t.Collect([]timeline.Moment{m})
				return
			}
		}
	}
	to := n.Film + leadOut
	if d := s.Facts.Footage[n.Footage].Duration; d > 0 {
		to = min(to, d)
	}
	tag, changes, err := gather.OfPlace(s, n.Footage, max(n.Film-leadIn, 0), to, t.options(s))
	if err != nil {
		t.desk.Fail(err)
		return
	}
	if t.apply(words.T("example at {.time}", "time", clock(n.Film)), changes...) {
		t.taken(tag.ID)
		t.desk.Say(words.T("It is an example. B, S and E set begin, signal and end here, V the verdicts."))
	}
}

// Collect makes moments examples; those that are one already are left as they are.
// It may be called while another task is shown.
func (t *Task) Collect(moments []timeline.Moment) {
	s := t.desk.Session()
	if s == nil || len(moments) == 0 {
		return
	}
	o := t.options(s)
	var changes []timeline.Change
	var first, old timeline.ID
	n, was := 0, 0
	var why error
	for _, m := range moments {
		tag, c, err := gather.OfMoment(s, m, o)
		switch {
		case errors.Is(err, gather.ErrMade):
			was++
			if old == "" && tag.ID != "" {
				old = tag.ID
			} else if old == "" && len(m.Tags) > 0 {
				old = m.Tags[0]
			}
		case err != nil:
			why = err
		default:
			changes = append(changes, c...)
			n++
			if first == "" {
				first = tag.ID
			}
		}
	}
	if n > 0 && !t.apply(words.N(n, "{.n} moment made an example", "{.n} moments made examples"), changes...) {
		return
	}
	said := ""
	if n > 0 || why == nil {
		said = words.N(n, "{.n} example is new.", "{.n} examples are new.")
	}
	if n == 0 && was > 0 {
		said = words.N(was, "It is an example already.", "All {.n} are examples already.")
	} else if was > 0 {
		said += " " + words.N(was, "{.n} was one already.", "{.n} were some already.")
	}
	if left := len(moments) - n - was; left > 0 {
		if n+was > 0 {
			said += " " + words.N(left, "{.n} has no film or no time.", "{.n} have no film or no time.")
		} else {
			said = words.T("No film shows this moment, or its time is not known: {.why}.", "why", why)
		}
	}
	if first == "" {
		first = old
	}
	t.taken(first)
	t.desk.Say(said)
}

// taken shows an example that was made just now.
func (t *Task) taken(id timeline.ID) {
	if id != "" {
		t.view = ofBout
		t.bout.selectID(id)
	}
	t.refresh()
}

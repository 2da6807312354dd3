package strip

import (
	"cmp"
	"strconv"
	"time"

	"whistlecut/timeline"
)

func itoa(n int) string { return strconv.Itoa(n) }

// tag adds the item of one tag; jams, trips and visits are added as derived.
func (b *builder) tag(t timeline.Tag) {
	who := string(t.Who.Number)
	if t.Who.Seen == timeline.NotSeen {
		who = b.Words.NotSeen
	}
	i := Item{ID: t.ID, Side: t.Side, Open: t.Seen != timeline.Sure, Drag: edges(Moment)}
	switch t.Kind {
	case timeline.KindLead:
		i.Kind, i.Tip = KindLead, b.Words.Lead(who)
	case timeline.KindLost:
		i.Kind, i.Tip = KindLost, b.Words.Lost(who)
	case timeline.KindCall:
		i.Kind, i.Tip = KindCall, b.Words.Call(who)
	case timeline.KindStarPass:
		i.Kind = KindStarPass
		to, complete := "", true
		if t.StarPass != nil {
			to, complete = string(t.StarPass.To.Number), t.StarPass.Complete
		}
		i.Tip, i.Open = b.Words.StarPass(who, to, complete), i.Open || !complete
	case timeline.KindPenalty:
		i.Kind = KindPenalty
		code, words := "", ""
		if t.Penalty != nil {
			code, words = t.Penalty.Code, t.Penalty.Words
			i.Open = i.Open || t.Penalty.Seen != timeline.Sure
		}
		i.Label = cmp.Or(code, b.Words.NotSeen)
		i.Tip = b.Words.Penalty(who, code, words)
	case timeline.KindInjury:
		i.Kind, i.Tip = KindInjury, b.Words.Injury(who)
	case timeline.KindMark:
		i.Kind, i.Tip = KindMark, b.Words.Note(t.Kind, t.Note)
	case timeline.KindNote, timeline.KindDrawing, timeline.KindExample:
		i.Kind, i.Tip = KindNote, b.Words.Note(t.Kind, t.Note)
	case timeline.KindEvent:
		if t.Event == nil {
			return
		}
		i.Kind, i.Tip = KindEvent, b.Words.Event(who, string(t.Event.What))
	case timeline.KindTimeout, timeline.KindReview:
		b.stoppage(t)
		return
	default:
		return
	}
	if n, ok := b.jamOf[t.ID]; ok {
		b.have[status{n, t.Side, t.Kind}] = true
	}
	at, ok := b.at(t.Place)
	if !ok {
		b.off++
		return
	}
	i.From, i.To = at, at
	b.items = append(b.items, i)
}

// stoppage adds a timeout or review. Without an end it lasts to the next jam,
// and at the longest a minute.
func (b *builder) stoppage(t timeline.Tag) {
	i := Item{ID: t.ID, Side: t.Side, Kind: KindTimeout, Label: b.Words.Timeout(t.Side), Drag: edges(Begin, End)}
	end := timeline.Place{}
	if t.Timeout != nil {
		end = t.Timeout.End
	}
	if t.Kind == timeline.KindReview {
		i.Kind, i.Label = KindReview, b.Words.Review(t.Side)
		if t.Review != nil {
			end = t.Review.End
		}
	}
	i.Tip = i.Label
	if t.Note != "" {
		i.Tip += ": " + t.Note
	}
	on, ok := b.span(t.Place, end, time.Minute)
	if !ok {
		b.off++
		return
	}
	if end.IsZero() {
		for _, j := range b.jams {
			if j.Start > on.Start {
				on.End = min(on.End, j.Start)
				break
			}
		}
	}
	i.From, i.To = on.Start, on.End
	b.items = append(b.items, i)
}

// derivedStatus adds what a pass-level recount found without a tag that says so.
func (b *builder) derivedStatus() {
	for n, j := range b.Bout.Jams {
		for s, side := range timeline.Sides {
			x := &j.Sides[s]
			who := string(x.Jammer.Number)
			add := func(on bool, tag timeline.Kind, kind Kind, at time.Duration, tip string) {
				if !on || b.have[status{n, side, tag}] {
					return
				}
				if t, ok := b.inJam(n, at); ok {
					b.items = append(b.items, Item{Kind: kind, Side: side, From: t, To: t, Tip: tip})
				}
			}
			add(x.Lead && x.LeadTimed, timeline.KindLead, KindLead, x.LeadAt, b.Words.Lead(who))
			add(x.Lost && x.LostTimed, timeline.KindLost, KindLost, x.LostAt, b.Words.Lost(who))
			add(x.StarPass && x.StarPassTimed, timeline.KindStarPass, KindStarPass, x.StarPassAt, b.Words.StarPass(who, string(x.NewJammer), true))
			add(x.Called && x.CalledTimed, timeline.KindCall, KindCall, x.CalledAt, b.Words.Call(who))
		}
	}
}

package desk

import (
	"fmt"
	"strings"
	"time"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/strip"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/whistle"
)

// newStrip makes the strip and says what its gestures do.
func (d *Desk) newStrip() *strip.Strip {
	s, err := strip.New(strip.ThemeFonts(), stripWords(), strip.From(look.Now))
	if err != nil {
		panic(err) // the window's own fonts are built in
	}
	s.OnSeek = func(f timeline.ID, at time.Duration) {
		d.unloop()
		d.player.Seek(f, at)
	}
	s.OnDrag = func(id timeline.ID, e strip.Edge, f timeline.ID, at time.Duration) {
		d.Apply(words.T("moved to {.time}", "time", clockText(at)), retimed(d.session.Facts, id, e, f, at)...)
	}
	s.Follow(true)
	return s
}

// refreshStrip shows the facts anew, off the window's goroutine: it can take long
// with very many tags.
func (d *Desk) refreshStrip() {
	if d.session == nil {
		return
	}
	n := d.stripAsked.Add(1)
	in := strip.Input{Facts: d.session.Facts, Bout: d.session.Bout, Camera: d.camera, Words: stripWords()}
	for id, l := range d.heard {
		for _, s := range l.Series {
			h := strip.Heard{Footage: id, Kind: s.Kind, Confidence: s.Confidence}
			for _, b := range s.Blasts {
				h.Blasts = append(h.Blasts, timeline.TimeRange{Start: l.Blasts[b].Start, End: l.Blasts[b].End})
			}
			in.Heard = append(in.Heard, h)
		}
	}
	if d.report != nil {
		for _, f := range d.report.Findings {
			st := strip.Differs
			if f.Resolution != nil {
				st = strip.Agrees
			}
			in.Findings = append(in.Findings, strip.Finding{Key: timeline.ID(f.Key), Place: f.Film, Side: f.Side, State: st, Text: f.Text})
		}
		for _, u := range d.report.Unchecked {
			if !u.Film.IsZero() {
				in.Findings = append(in.Findings, strip.Finding{Key: timeline.ID("unchecked " + u.Why + string(u.JamID)), Place: u.Film, Side: u.Side, State: strip.NotCheckable, Text: u.Why})
			}
		}
	}
	s := d.strip
	frames := map[timeline.ID]strip.Frames{}
	for _, f := range d.playing {
		if x := d.player.Frames(f.ID); x != nil {
			frames[f.ID] = x
		}
	}
	d.behind.Add(1)
	go func() {
		defer d.behind.Done()
		pieces := strip.Pieces(in.Facts, in.Camera, frames)
		m := strip.Build(in, strip.NewAxis(pieces))
		d.later(func() {
			if d.stripAsked.Load() == n && d.strip == s {
				s.Set(pieces, m)
				now := d.Now()
				s.SetNow(now.Footage, now.Film)
			}
		})
	}()
}

// stripWords are the strip's texts in the language spoken.
func stripWords() strip.Words {
	w := strip.English()
	w.Home, w.Away, w.Heard = words.T("home"), words.T("away"), words.T("heard")
	w.Gap = words.T("camera off")
	w.NoFilm = words.T("No film yet. Add footage, and the bout appears here.")
	w.NoJams = words.T("No jams yet. Line up the whistles heard, or log a jam start.")
	w.More = func(n int) string { return words.N(n, "and {.n} more", "and {.n} more") }
	w.Jam = func(_, number int) string { return words.T("Jam {.jam}", "jam", number) }
	w.JamTip = func(period, number int, home, away timeline.Range, length time.Duration) string {
		return words.T("Period {.period}, jam {.jam}, {.long} long: {.home} to {.away} after it",
			"period", period, "jam", number, "long", terms.Clock(length, 0), "home", home.String(), "away", away.String())
	}
	w.Trip = func(skater string, number int, points timeline.Range, open bool) string {
		s := words.T("initial trip")
		if number > 1 {
			s = words.T("trip {.trip}: {.points}", "trip", number, "points", points.String())
		}
		if open {
			s += ", " + words.T("not completed")
		}
		return strings.TrimSpace(skater + " " + s)
	}
	w.InBox = func(skater string) string { return words.T("{.who} in box", "who", skater) }
	w.BoxTip = func(skater string, length time.Duration, computed bool) string {
		s := words.T("{.who} in the box for {.long}", "who", skater, "long", terms.Clock(length, 0))
		if computed {
			s += " " + words.T("by the rules")
		}
		return s
	}
	said := func(what string) func(string) string {
		return func(skater string) string { return strings.TrimSpace(skater + " " + what) }
	}
	w.Lead, w.Lost, w.Call, w.Injury = said(words.T("lead")), said(words.T("lost lead")), said(words.T("calls it off")), said(words.T("injury"))
	w.StarPass = func(from, to string, complete bool) string {
		s := words.T("star pass {.from} to {.to}", "from", from, "to", to)
		if !complete {
			s += ", " + words.T("not completed")
		}
		return s
	}
	w.Penalty = func(skater, code, text string) string {
		return strings.Join(strings.Fields(strings.Join([]string{skater, words.T("penalty"), code, text}, " ")), " ")
	}
	ofSide := func(s timeline.Side, what string) string {
		switch s {
		case timeline.Home:
			return what + ", " + words.T("home")
		case timeline.Away:
			return what + ", " + words.T("away")
		}
		return what + ", " + words.T("officials")
	}
	w.Timeout = func(s timeline.Side) string { return ofSide(s, words.T("timeout")) }
	w.Review = func(s timeline.Side) string { return ofSide(s, words.T("review")) }
	w.Note = func(kind timeline.Kind, text string) string {
		if text != "" {
			return text
		}
		if kind == timeline.KindMark {
			return words.T("mark")
		}
		return words.T("note")
	}
	sounds := map[whistle.Kind]string{
		whistle.Short: words.T("one short blast"), whistle.Pair: words.T("two short blasts"), whistle.Four: words.T("four short blasts"),
		whistle.Long: words.T("one long blast"), whistle.Rolling: words.T("rolling blast"),
	}
	w.Series = func(kind whistle.Kind, confidence float64) string {
		s, ok := sounds[kind]
		if !ok {
			s = words.T("blasts")
		}
		return words.T("{.sound} heard, {.percent} % sure", "sound", s, "percent", fmt.Sprintf("%.0f", confidence*100))
	}
	w.Where = func(jam string, inJam, film time.Duration) string {
		s := words.T("film {.time}", "time", terms.Clock(film, 2))
		if jam != "" {
			s = jam + " " + terms.Clock(inJam, 2) + ", " + s
		}
		return s
	}
	return w
}

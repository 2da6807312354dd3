package reel

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// infoText says where the part's film is and what is under way.
func (t *Task) infoText(p timeline.Part) string {
	if t.slow.begun {
		return words.T("Slow motion from {.time}: go to its end and press S.", "time", clock(t.slow.from))
	}
	if p.Clip == nil {
		return ""
	}
	if o := p.Clip.Other; o != nil {
		said := words.T("of another bout: {.title}", "title", o.Title)
		switch g := t.guest(*o); {
		case g.err != nil:
			return said + ". " + words.T("Its film is missing: {.film}", "film", o.Film)
		case g.note != "":
			said += ". " + words.T("Another file lies under the name of its film")
		}
		shown := p.Clip.Shown()
		return said + ", " + words.T("film {.from} to {.to}", "from", clock(shown.Start), "to", clock(shown.End))
	}
	shown := p.Clip.Shown()
	parts := []string{t.kindText(p.Clip), words.T("film {.from} to {.to}", "from", clock(shown.Start), "to", clock(shown.End))}
	if f, ok := t.facts().Footage[p.Clip.Footage]; ok && f.Camera != "" {
		parts = append(parts, f.Camera)
	} else if !ok {
		parts = append(parts, words.T("its film is not part of this bout any more"))
	}
	return strings.Join(parts, ", ")
}

// partChips are the choices of a part, each with its key.
func (t *Task) partChips(p timeline.Part) []fyne.CanvasObject {
	step := func(sign string, do func()) fyne.CanvasObject { return look.NewChip(sign, "", do) }
	shift := words.T("Shift") + "+"
	if p.Card != nil {
		return []fyne.CanvasObject{
			step("−", func() { t.margins(0, -lengthStep) }),
			look.NewChip(words.T("shown for {.time}", "time", seconds(p.Card.Length)), "E "+shift+"E", func() { t.margins(0, lengthStep) }),
			step("+", func() { t.margins(0, lengthStep) }),
		}
	}
	c := p.Clip
	if c == nil || t.on(*c) == "" {
		return nil
	}
	on := func(chip *look.Chip, is bool) *look.Chip {
		chip.On = is
		return chip
	}
	out := []fyne.CanvasObject{
		step("−", func() { t.margins(-lengthStep, 0) }),
		look.NewChip(words.T("before {.time}", "time", seconds(c.Before)), "B", func() { t.margins(lengthStep, 0) }),
		step("+", func() { t.margins(lengthStep, 0) }),
		step("−", func() { t.margins(0, -lengthStep) }),
		look.NewChip(words.T("after {.time}", "time", seconds(c.After)), "E", func() { t.margins(0, lengthStep) }),
		step("+", func() { t.margins(0, lengthStep) }),
		look.NewChip(words.T("begin here"), "Ctrl+B", func() { t.edge(false) }),
		look.NewChip(words.T("end here"), "Ctrl+E", func() { t.edge(true) }),
		on(look.NewChip(words.T("slow from here"), "S", t.slower), t.slow.begun),
		look.NewChip(words.T("hold here"), "H", func() { t.hold(false) }),
		look.NewChip(words.T("next point"), "J", t.nextPoint),
	}
	if t.slow.begun {
		out[8].(*look.Chip).Text = words.T("slow to here")
	}
	sound := words.T("sound")
	if c.Mute {
		sound = words.T("no sound")
	}
	out = append(out, on(look.NewChip(sound, "M", t.mute), c.Mute))
	if cameras := t.cameras(); c.Other == nil && cameras > 1 || c.Beside != "" {
		beside := words.T("one camera")
		if c.Beside != "" {
			beside = words.T("beside: {.camera}", "camera", t.facts().Footage[c.Beside].Camera)
		}
		out = append(out, on(look.NewChip(beside, "W", t.beside), c.Beside != ""))
	}
	for i, s := range c.Speeds {
		out = append(out, on(look.NewChip(strconv.FormatFloat(s.Rate, 'g', -1, 64)+"×  "+terms.Clock(s.Range.Start, 1)+"–"+terms.Clock(s.Range.End, 1), shift+"S", func() {
			if p, c, ok := t.clip(); ok && i < len(c.Speeds) {
				t.rateOf(p, c, i)
			}
		}), true))
	}
	for i, f := range c.Freezes {
		out = append(out, on(look.NewChip(words.T("held {.time} at {.at}", "time", seconds(f.Length), "at", terms.Clock(f.At, 1))+"  ×", "", func() { t.unhold(i) }), true))
	}
	return out
}

// lengthStep is by how much a click makes lengths longer or shorter.
const lengthStep = time.Second

// unhold takes a held picture out of the chosen clip.
func (t *Task) unhold(i int) {
	if p, c, ok := t.clip(); ok && i < len(c.Freezes) {
		c.Freezes = slices.Delete(c.Freezes, i, i+1)
		t.store(words.T("held picture in part {.n}", "n", t.number(p.ID)), p, c)
	}
}

// cameras is how many cameras the bout has.
func (t *Task) cameras() int {
	seen := map[string]bool{}
	for _, f := range t.facts().Footage {
		seen[f.Camera] = true
	}
	return len(seen)
}

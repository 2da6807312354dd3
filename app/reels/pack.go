package reels

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"whistlecut/app"
	"whistlecut/app/desk/words"
	"whistlecut/app/phrase"
	"whistlecut/export/clip"
	"whistlecut/export/pack"
	"whistlecut/timeline"
	"whistlecut/timeline/footage"
)

// PackOptions say what one skater takes home.
type PackOptions struct {
	Dir      string // the pack's folder
	Language string // of captions and page, ISO 639-1
	Margins  clip.Margins
	// Moments are what is packed; nil: her penalties and the jams she jammed.
	Moments []timeline.Moment
	Limit   int64 // bytes of all together, 0 for none
	Single  bool  // one page that holds the films
	Mute    bool  // leave the sound out
	// Anyway makes a pack of a skater who is a minor or has not agreed; whoever
	// asks for it answers for it.
	Anyway bool
	// Numbers puts her printed page of numbers beside the clips.
	Numbers bool
}

// Packed says what was made.
type Packed struct {
	pack.Made
	Moments []timeline.Moment
	NotShot []timeline.Moment
	// Reminders are to be shown to the person before she passes the pack on.
	Reminders []string
}

// ErrNoConsent is returned for a skater whose pack is not made by default.
var ErrNoConsent = errors.New("not to be shared")

// PackMoments are what a pack of a skater holds when nothing else is said: her
// penalties and the jams she jammed, in the order of the bout.
func PackMoments(s *app.Session, who timeline.SkaterRef) []timeline.Moment {
	ref := []timeline.SkaterRef{who}
	out := timeline.Find(s.Bout, s.Facts, timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty}, Skaters: ref})
	out = append(out, timeline.Find(s.Bout, s.Facts, timeline.Selection{
		Kinds: []timeline.Kind{timeline.KindJam}, Skaters: ref, Roles: []timeline.Role{timeline.Jammer},
	})...)
	slices.SortStableFunc(out, func(a, b timeline.Moment) int {
		return cmp.Or(cmp.Compare(a.Period, b.Period), cmp.Compare(a.Number, b.Number), cmp.Compare(a.Range.Start, b.Range.Start))
	})
	return out
}

// Pack makes the pack of one skater.
func Pack(ctx context.Context, a *app.App, s *app.Session, who timeline.SkaterRef, o PackOptions) (out Packed, err error) {
	team := s.Facts.Teams[who.Side.Index()]
	skater, ok := team.Find(who.Number)
	if !ok {
		skater.Number = who.Number
	}
	if why := closed(skater); why != "" && !o.Anyway {
		return out, fmt.Errorf("no pack of %s %s is made: %s; ask her (and who answers for a minor) and follow the league's safeguarding policy, then say that it is to be made anyway: %w", who.Side, name(skater), why, ErrNoConsent)
	}
	if o.Language == "" {
		o.Language = "en"
	}
	list := o.Moments
	if list == nil {
		list = PackMoments(s, who)
	}
	if len(list) == 0 {
		return out, fmt.Errorf("nothing of %s %s is tagged: no penalty and no jam as jammer", who.Side, name(skater))
	}
	work, err := os.MkdirTemp("", "whistlecut-pack-*")
	if err != nil {
		return out, fmt.Errorf("cannot make the pack: %w", err)
	}
	defer os.RemoveAll(work)
	c := cutter{a: a, s: s, o: o, work: work, sources: map[string]*clip.Source{}}
	defer c.close()
	step := a.Step("packing")
	var clips []pack.Clip
	for i, m := range list {
		k, ok := ClipOf(s, m, o.Margins, "")
		if !ok {
			out.NotShot = append(out.NotShot, m)
			continue
		}
		p, err := c.cut(ctx, len(clips)+1, m, k, func(f float64) { step((float64(i) + f) / float64(2*len(list))) })
		if err != nil {
			return out, err
		}
		clips, out.Moments = append(clips, p), append(out.Moments, m)
	}
	if len(clips) == 0 {
		return out, fmt.Errorf("what is tagged of %s %s is not on film as far as the jams are placed", who.Side, name(skater))
	}
	files, err := numbersPage(s, who, o, work)
	if err != nil {
		return out, err
	}
	out.Reminders = reminders(s, out.Moments, who, o.Language)
	out.Made, err = pack.Make(ctx, a.Runner, pack.Pack{
		Dir: o.Dir, Title: name(skater), Under: under(team.Name, boutLine(s).In("")), Language: o.Language,
		Words: pack.Words{Play: words.In(o.Language, "Play all")}, Note: words.In(o.Language, consentNote), Clips: clips, Files: files,
		Limit: o.Limit, Single: o.Single, Mute: o.Mute, Progress: func(f float64) { step(0.5 + f/2) },
	})
	return out, err
}

// numbersPage prints her page of numbers.
func numbersPage(s *app.Session, who timeline.SkaterRef, o PackOptions, work string) ([]pack.File, error) {
	if !o.Numbers {
		return nil, nil
	}
	page, err := app.PageOf([]*app.Session{s}, who.String())
	if err != nil {
		return nil, err
	}
	path := filepath.Join(work, "page.pdf")
	if err := app.PrintSkater(path, page, app.PrintOptions(o.Language)); err != nil {
		return nil, err
	}
	return []pack.File{{Path: path, Name: "numbers.pdf", Title: words.In(o.Language, "Jams, points and penalties on paper (PDF)")}}, nil
}

// under is the line below the name: her team, unless the bout's title names it.
func under(team, bout string) string {
	if strings.Contains(bout, team) {
		return bout
	}
	return strings.Trim(team+", "+bout, ", ")
}

// consentNote stands under every pack.
const consentNote = "Others are on this film, too. Ask them before you pass it on; for minors the league's safeguarding policy and local law decide. Calls were the officials'; this shows them, it does not judge them."

// closed says why a skater's film is not shared by default, or nothing.
func closed(k timeline.Skater) string {
	switch {
	case k.Minor:
		return "the roster says that she is a minor"
	case k.NoConsent:
		return "the roster says that she has not agreed to be shown"
	}
	return ""
}

func name(k timeline.Skater) string { return strings.TrimSpace(string(k.Number) + " " + k.Name) }

// reminders name who else is fielded in the clips and is a minor or has not agreed.
func reminders(s *app.Session, list []timeline.Moment, who timeline.SkaterRef, language string) []string {
	seen := map[timeline.SkaterRef]bool{}
	for _, m := range list {
		j, ok := s.Bout.Jam(m.Jam)
		if !ok {
			continue
		}
		for _, side := range timeline.Sides {
			for k := range j.Sides[side.Index()].Lineup {
				seen[timeline.SkaterRef{Side: side, Number: k}] = true
			}
		}
	}
	var names []string
	for ref := range seen {
		if k, ok := s.Facts.Teams[ref.Side.Index()].Find(ref.Number); ok && ref != who && closed(k) != "" {
			names = append(names, ref.Side.String()+" "+name(k))
		}
	}
	slices.Sort(names)
	out := []string{words.In(language, consentNote)}
	if len(names) > 0 {
		out = append(out, words.In(language, "Fielded in these clips and a minor or not agreed: {.names}. Hide them (a drawing of the shape hide) or leave the clip out.", "names", strings.Join(names, ", ")))
	}
	return out
}

// cutter cuts the clips of a pack.
type cutter struct {
	a       *app.App
	s       *app.Session
	o       PackOptions
	work    string
	sources map[string]*clip.Source
}

func (c *cutter) close() {
	for _, s := range c.sources {
		_ = s.Close() // temporary copies only
	}
}

func (c *cutter) source(ctx context.Context, path string) (*clip.Source, error) {
	if s := c.sources[path]; s != nil {
		return s, nil
	}
	f, err := footage.Open(ctx, c.a.Runner, path)
	if err != nil {
		return nil, err
	}
	s, err := clip.Open(ctx, c.a.Runner, path, clip.Options{File: f, WorkDir: c.work})
	if err == nil {
		c.sources[path] = s
	}
	return s, err
}

func (c *cutter) cut(ctx context.Context, n int, m timeline.Moment, k timeline.Clip, told func(float64)) (pack.Clip, error) {
	path, err := c.s.Film(k.Footage)
	if err != nil {
		return pack.Clip{}, err
	}
	src, err := c.source(ctx, path)
	if err != nil {
		return pack.Clip{}, err
	}
	shown := k.Shown()
	width, height := src.Size()
	l := app.Labels(m)
	bar, _ := barLayer(l, shown, width, height)
	first, last := src.Window(shown.Start, shown.End)
	q := clip.Request{First: first, Last: last, Out: filepath.Join(c.work, fmt.Sprintf("%d.mp4", n)), Progress: told}
	for _, x := range append(drawingLayers(c.s.Facts, k.Footage, shown, width, height), bar) {
		o := clip.Overlay{Image: x.img, X: x.at.X, Y: x.at.Y}
		o.First, o.Last = src.Window(x.from, x.to)
		q.Overlays = append(q.Overlays, o)
	}
	res, err := src.Cut(ctx, q)
	if err != nil {
		return pack.Clip{}, err
	}
	p := pack.Clip{
		File: res.Out, Title: phrase.Place(m, c.o.Language), Caption: phrase.Moment(c.s, m, c.o.Language),
		Length: res.End - res.FirstTime, Height: height,
	}
	if clock := l["clock"]; clock != "" {
		p.Facts = append(p.Facts, words.In(c.o.Language, "period clock {.clock}", "clock", clock))
	}
	if m.Number > 0 {
		p.Facts = append(p.Facts, words.In(c.o.Language, "score {.home} – {.away}", "home", m.Score[0].String(), "away", m.Score[1].String()))
	}
	p.Name, err = clip.Name("[P{period}][ J{jam}][ {kind}]", clip.Window{Footage: path, Moments: []clip.Moment{{Kind: k.Kind, Labels: l}}}, n, n)
	return p, err
}

// PackDir is the folder of a skater's pack among others.
func PackDir(into string, who timeline.SkaterRef) string {
	n := clip.SafeName(string(who.Number))
	if n == "" {
		n = "no number"
	}
	return filepath.Join(into, who.Side.String()+" "+n)
}

package quiz

import (
	"context"
	"fmt"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/app/desk/words"
	"whistlecut/app/reels"
	"whistlecut/export/overlay"
	"whistlecut/export/reel"
	"whistlecut/timeline"
	"whistlecut/timeline/footage"
)

// FilmOptions say how the films of a quiz are made.
type FilmOptions struct {
	// Think is how long the last picture stands for everyone to answer, in whole
	// seconds that are counted down; 0 is [ThinkTime].
	Think time.Duration
	Once  bool // do not show each clip again at half speed
	// Mute leaves out all sound; else the last of it, from Quiet before a clip's end on
	// (0 is [QuietTime]).
	Mute  bool
	Quiet time.Duration
	// Drawings shows what was drawn on the film, which may tell the answer. What is
	// hidden (faces, numbers) is hidden in any case.
	Drawings      bool
	Width, Height int // of the pictures, 0 as most of the film has
}

// What is usual.
const (
	// ThinkTime is how long a group gets to answer (common practice, no source).
	ThinkTime = 10 * time.Second
	// QuietTime is how long before a clip's end its sound is out: a call is tagged
	// when somebody has reacted to the whistle, which may be a second later.
	QuietTime = 2 * time.Second
	// How long cards stand: the first one, a question's.
	openingCard  = 8 * time.Second
	questionCard = 3 * time.Second
	longestThink = 5 * time.Minute
)

func (o FilmOptions) usual() FilmOptions {
	if o.Think == 0 {
		o.Think = ThinkTime
	}
	if o.Quiet == 0 {
		o.Quiet = QuietTime
	}
	return o
}

func (o FilmOptions) check() error {
	if o.Think < time.Second || o.Think > longestThink {
		return fmt.Errorf("cannot give %v to answer; one second to %v can be had", o.Think, longestThink)
	}
	if o.Quiet < 0 || o.Quiet > time.Minute {
		return fmt.Errorf("cannot silence the last %v of a clip; 0 to a minute can be had", o.Quiet)
	}
	return nil
}

// Film makes the film that the group sees: for every question a card with its
// number, the clip, which ends before anything tells the call, the clip once more at
// half speed, and its last picture while everyone answers. Every question runs
// equally long, to a frame. The film holds no words but the number and what is asked:
// no bar, no names, no jam, no chapter but "Question 3", and nothing is copied from a
// camera's file, so that none of its own notes come along.
func Film(ctx context.Context, a *app.App, b *Bouts, p Plan, out string, o FilmOptions) (reel.Result, error) {
	o = o.usual()
	if err := o.check(); err != nil {
		return reel.Result{}, err
	}
	m := newMaker(ctx, a, b, p)
	return m.make(out, p.Title, o, "making the film of the quiz", m.ask)
}

// maker makes sections of questions.
type maker struct {
	ctx   context.Context
	a     *app.App
	b     *Bouts
	p     Plan
	files map[string]*footage.File
	form  reel.Format
}

func newMaker(ctx context.Context, a *app.App, b *Bouts, p Plan) *maker {
	return &maker{ctx: ctx, a: a, b: b, p: p, files: map[string]*footage.File{}}
}

// make makes a film of what sections gives for every question.
func (m *maker) make(out, title string, o FilmOptions, doing string, sections func(FilmOptions) ([]reel.Section, error)) (reel.Result, error) {
	if err := m.p.Check(); err != nil {
		return reel.Result{}, fmt.Errorf("cannot make the film of the quiz: %w", err)
	}
	film := reel.Reel{Out: out, Title: title, Width: o.Width, Height: o.Height, Files: m.files, Reencode: true}
	// The format is chosen by the films alone; cards are painted once it is known.
	for _, x := range m.p.Items {
		path, err := m.path(x)
		if err != nil {
			return reel.Result{}, err
		}
		film.Sections = append(film.Sections, reel.Section{Film: &reel.Film{Path: path, From: x.Shown.Start, To: x.Shown.End}})
	}
	var err error
	if m.form, err = film.Format(m.ctx, m.a.Runner); err != nil {
		return reel.Result{}, err
	}
	film.Width, film.Height, film.Rate = m.form.Width, m.form.Height, m.form.Rate
	if film.Sections, err = sections(o); err != nil {
		return reel.Result{}, err
	}
	step := m.a.Step(doing)
	film.Progress = func(p reel.Progress) { step(p.Fraction) }
	return film.Make(m.ctx, m.a.Runner)
}

// session is the bout of a question, and its example as it is now.
func (m *maker) session(x Item) (*app.Session, timeline.Tag, error) {
	s := m.b.Session(x.Bout)
	if s == nil {
		return nil, timeline.Tag{}, fmt.Errorf("question %d: its bout %s is not open", x.Number, x.Bout)
	}
	t, ok := s.Facts.Tags[x.Example]
	if !ok || t.Example == nil {
		return nil, t, fmt.Errorf("question %d: its example is not in %s any more; draw the quiz anew", x.Number, x.Bout)
	}
	return s, t, nil
}

// path is a question's film, opened.
func (m *maker) path(x Item) (string, error) {
	s, _, err := m.session(x)
	if err != nil {
		return "", err
	}
	path, err := s.Film(x.Footage)
	if err != nil {
		return "", fmt.Errorf("question %d: %w", x.Number, err)
	}
	if m.files[path] == nil {
		f, err := footage.Open(m.ctx, m.a.Runner, path)
		if err != nil {
			return "", fmt.Errorf("question %d: %w", x.Number, err)
		}
		m.files[path] = f
	}
	return path, nil
}

// ask gives the sections of the film for the group.
func (m *maker) ask(o FilmOptions) ([]reel.Section, error) {
	out := []reel.Section{m.card("", openingCard, m.p.Title, m.each(func(l string) []string {
		return []string{
			words.In(l, "Questions: {.n}. Answer alone, then wait for the next one.", "n", len(m.p.Items)),
			words.In(l, "Every clip is equally long and ends before any signal."),
			words.In(l, consent),
		}
	})...)}
	all := m.extent()
	for _, x := range m.p.Items {
		head := Heading(x.Number, m.p.main())
		out = append(out, m.card(head, questionCard, head, m.each(func(l string) []string {
			lines := []string{Asking(x.Ask, x.Asked, l)}
			if l != m.p.main() {
				lines = append([]string{Heading(x.Number, l)}, lines...)
			}
			return lines
		})...))
		clips, err := m.clips(x, all, o)
		if err != nil {
			return nil, err
		}
		out = append(out, clips...)
	}
	return out, nil
}

const consent = "Shown for training only. The people on film agreed to no more than that: ask them before it leaves the group."

func (p Plan) main() string { return p.Languages[0] }

// each lists lines in all languages of the quiz, each line once.
func (m *maker) each(lines func(language string) []string) (out []string) {
	said := map[string]bool{"": true}
	for _, l := range m.p.Languages {
		for _, t := range lines(l) {
			if !said[t] {
				said[t] = true
				out = append(out, t)
			}
		}
	}
	return out
}

// extent is how long every clip of a quiz is: wanted as the longest, in film as the
// one whose frames reach furthest. Shorter ones, whose film begins later or whose
// frames come at other times, hold their first or their last picture.
type extent struct{ wanted, film time.Duration }

func (m *maker) extent() (e extent) {
	for _, x := range m.p.Items {
		e.wanted = max(e.wanted, x.Shown.Duration())
	}
	for _, x := range m.p.Items {
		if path, err := m.path(x); err == nil { // one that is missing is said later
			e.film = max(e.film, span(m.files[path].Index, x.Shown)+e.wanted-x.Shown.Duration())
		}
	}
	return e
}

// span is how long the frames of a stretch of film are shown: from the one at its
// start to the last one that begins before its end.
func span(x *footage.Index, r timeline.TimeRange) time.Duration {
	first, last := x.FrameAt(r.Start), x.FrameAt(r.End-1)
	end := x.Time(last) + x.Interval()
	if last+1 < x.Len() {
		end = x.Time(last + 1)
	}
	return end - x.Time(first)
}

func (m *maker) card(chapter string, length time.Duration, title string, lines ...string) reel.Section {
	return reel.Section{Chapter: chapter, Card: &reel.Card{Image: overlay.Card(m.form.Width, m.form.Height, title, lines...), Length: length}}
}

// clips are the film of a question: once at full speed, once more at half, then the
// last picture with the seconds that are left.
func (m *maker) clips(x Item, all extent, o FilmOptions) ([]reel.Section, error) {
	f, err := m.clip(x, all, 1, o)
	if err != nil {
		return nil, err
	}
	out := []reel.Section{{Film: f}}
	if !o.Once {
		m.hold(f, between)
		if f, err = m.clip(x, all, 0.5, o); err != nil {
			return nil, err
		}
		out = append(out, reel.Section{Film: f})
	}
	for left := int(o.Think / time.Second); left > 0; left-- {
		m.hold(f, time.Second)
		f.Layers = append(f.Layers, m.above(words.In(m.p.main(), "Your answer: {.n} s", "n", left), len(f.Freezes)))
	}
	return out, nil
}

// between is how long the last picture stands before a clip is shown again.
const between = time.Second

// hold holds the last picture of a clip for a while longer.
func (m *maker) hold(f *reel.Film, length time.Duration) {
	x := m.files[f.Path].Index
	f.Freezes = append(f.Freezes, reel.Freeze{At: x.Time(x.FrameAt(f.To - 1)), Length: length})
}

// clip is what a question shows at full or at half speed, with nothing over it but
// what is asked.
func (m *maker) clip(x Item, all extent, rate float64, o FilmOptions) (*reel.Film, error) {
	path, err := m.path(x)
	if err != nil {
		return nil, err
	}
	s, t, err := m.session(x)
	if err != nil {
		return nil, err
	}
	if at := t.Example.Signal; !at.IsZero() && at.Footage == x.Footage && x.Shown.End >= at.Film {
		return nil, fmt.Errorf("question %d would show its signal, which was set to an earlier time since; draw the quiz anew", x.Number)
	}
	f := &reel.Film{Path: path, From: x.Shown.Start, To: x.Shown.End, Mute: o.Mute || rate != 1}
	// Sound that leads the picture by a known time is out so much earlier.
	f.Quiet = max(f.To-o.Quiet-max(s.Facts.Footage[x.Footage].SoundOffset, 0), 1)
	if rate != 1 {
		f.Speeds = []reel.Speed{{From: f.From, To: f.To + time.Second, Rate: rate}}
	}
	index := m.files[path].Index
	late := all.wanted - x.Shown.Duration()
	if late > 0 {
		f.Freezes = append(f.Freezes, reel.Freeze{At: f.From, Length: time.Duration(float64(late) / rate)})
	}
	if short := all.film - late - span(index, x.Shown); short > 0 {
		m.hold(f, time.Duration(float64(short)/rate))
	}
	v := m.files[path].Info.Video
	f.Layers = reels.DrawnOver(s.Facts, x.Footage, x.Shown, reel.Fit(v.Width, v.Height, m.form.Whole()), func(d timeline.Drawing) bool {
		return o.Drawings || d.Shape == timeline.ShapeHide
	})
	var lines []string
	for _, l := range m.p.Languages {
		lines = append(lines, strings.TrimSpace(Heading(x.Number, l)+": "+Asking(x.Ask, x.Asked, l)))
	}
	if img := overlay.Captions(m.form.Width, m.form.Height, lines, 0); !img.Bounds().Empty() {
		f.Layers = append(f.Layers, reel.Layer{Image: img, X: img.Bounds().Min.X, Y: img.Bounds().Min.Y})
	}
	if rate != 1 {
		// Not over the last picture, which stands for the answers.
		l := m.above(words.In(m.p.main(), "Once more, at half speed"), 0)
		l.From, l.To = f.From, index.Time(index.FrameAt(f.To-1))
		f.Layers = append(f.Layers, l)
	}
	return f, nil
}

// above is a line over the upper edge of the picture: of the whole section, or of
// one freeze, counted from 1.
func (m *maker) above(text string, freeze int) reel.Layer {
	img := overlay.Captions(m.form.Width, m.form.Height, []string{text}, 0)
	return reel.Layer{Image: img, X: img.Bounds().Min.X, Y: m.form.Height / 25, Freeze: freeze}
}

package quiz

import (
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
)

const sec = time.Second

// paper is a bout of examples whose film is an empty file: enough to draw from.
type paper struct {
	t *testing.T
	s *app.Session
	n int
}

func newPaper(t *testing.T, name string) *paper {
	t.Helper()
	dir := t.TempDir()
	s, err := app.New("Ada").Create(filepath.Join(dir, name+".bout"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	if err := os.WriteFile(filepath.Join(dir, "film.mp4"), []byte(name), 0o600); err != nil {
		t.Fatal(err)
	}
	rules, _ := timeline.Edition("2025")
	err = s.Apply("a bout", timeline.SetRules(rules), timeline.SetInfo(timeline.Info{Title: name}), timeline.SetFootage(timeline.Footage{
		ID: "f", Path: "film.mp4", Fingerprint: name, Camera: "c", Duration: time.Hour,
	}))
	if err != nil {
		t.Fatal(err)
	}
	return p1(t, s)
}

func p1(t *testing.T, s *app.Session) *paper { return &paper{t: t, s: s} }

// add adds an example at a film time; change changes what is usual.
func (p *paper) add(at time.Duration, change func(*timeline.Example)) timeline.ID {
	p.t.Helper()
	p.n++
	x := &timeline.Example{
		Ask: timeline.AskPenalty, Edition: "2025", By: "Ada", Difficulty: 1,
		Signal:   timeline.OnFilm("f", at+1500*time.Millisecond),
		Called:   timeline.Answer{Choice: timeline.ChoiceYes, Code: "B", Section: "4.1.1"},
		Verdicts: []timeline.Answer{{Choice: timeline.ChoiceYes, Code: "B", Section: "4.1.1"}},
	}
	if change != nil {
		change(x)
	}
	id := timeline.ID(fmt.Sprintf("%s-%03d", p.s.Facts.Info.Title, p.n))
	if err := p.s.Apply("example", timeline.SetTag(timeline.Tag{ID: id, Kind: timeline.KindExample, Place: timeline.OnFilm("f", at), Example: x})); err != nil {
		p.t.Fatal(err)
	}
	return id
}

func opened(t *testing.T, list ...*paper) *Bouts {
	t.Helper()
	var lent []*app.Session
	for _, p := range list {
		lent = append(lent, p.s)
	}
	b, err := OpenBouts(app.New("Ada"), nil, lent...)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func uncalled(x *timeline.Example) {
	x.Signal, x.Called = timeline.Place{}, timeline.Answer{Choice: timeline.ChoiceNo}
	x.Verdicts = []timeline.Answer{{Choice: timeline.ChoiceNo}}
}

func TestFit(t *testing.T) {
	at := 30 * sec
	on := func(d time.Duration) timeline.Place { return timeline.OnFilm("f", d) }
	for _, c := range []struct {
		name   string
		change func(*timeline.Example)
		o      Options
		why    string // "" it is drawn
		shown  timeline.TimeRange
	}{
		{name: "called", shown: timeline.TimeRange{Start: 23200 * time.Millisecond, End: 31200 * time.Millisecond}},
		{name: "uncalled", change: uncalled, shown: timeline.TimeRange{Start: 23 * sec, End: 31 * sec}},
		{name: "uncalled, with its end", change: func(x *timeline.Example) { uncalled(x); x.End = on(at + 3*sec) }, shown: timeline.TimeRange{Start: 25 * sec, End: 33 * sec}},
		{name: "another margin and length", o: Options{Margin: sec, Length: 4 * sec}, shown: timeline.TimeRange{Start: 26500 * time.Millisecond, End: 30500 * time.Millisecond}},
		{name: "a chosen end", o: Options{Cuts: map[timeline.ID]time.Duration{"bout-001": 31 * sec}}, shown: timeline.TimeRange{Start: 23 * sec, End: 31 * sec}},
		{name: "a chosen end behind the signal", o: Options{Cuts: map[timeline.ID]time.Duration{"bout-001": 32 * sec}}, why: "not before its signal"},
		{name: "no verdict", change: func(x *timeline.Example) { x.Verdicts = nil }, why: "no verdict"},
		{name: "sensitive", change: func(x *timeline.Example) { x.Sensitive = true }, why: "sensitive"},
		{name: "sensitive, and asked for", change: func(x *timeline.Example) { x.Sensitive = true }, o: Options{Sensitive: true}, shown: timeline.TimeRange{Start: 23200 * time.Millisecond, End: 31200 * time.Millisecond}},
		{name: "called, no signal", change: func(x *timeline.Example) { x.Signal = timeline.Place{} }, why: "nobody said when"},
		{name: "a signal at once", change: func(x *timeline.Example) { x.Signal = on(at + 200*time.Millisecond) }, why: "before anything is seen"},
		{name: "too long", change: func(x *timeline.Example) { x.Signal = on(at + 10*sec) }, why: "lasts longer"},
		{name: "not of the section", o: Options{Rules: []string{"4.2"}}, why: "0 can be asked"},
		{name: "of the section above", o: Options{Rules: []string{"4.1"}}, shown: timeline.TimeRange{Start: 23200 * time.Millisecond, End: 31200 * time.Millisecond}},
		{name: "no section but its beginning", o: Options{Rules: []string{"4.1.1", "4"}}, shown: timeline.TimeRange{Start: 23200 * time.Millisecond, End: 31200 * time.Millisecond}},
		{name: "section 4.10 is not under 4.1", change: func(x *timeline.Example) { x.Verdicts[0].Section = "4.10" }, o: Options{Rules: []string{"4.1"}}, why: "0 can be asked"},
		{name: "too easy", o: Options{Easiest: 2}, why: "0 can be asked"},
		{name: "another edition", o: Options{Edition: "2019"}, why: "0 can be asked"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := newPaper(t, "bout")
			p.add(at, c.change)
			c.o.Questions = 1
			got, err := Draw(opened(t, p), c.o)
			if c.why != "" {
				if err == nil || !strings.Contains(err.Error(), c.why) {
					t.Fatalf("want %q, got %v", c.why, err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if x := got.Plan.Items[0]; x.Shown != c.shown || len(x.Codes) != 14 || x.Number != 1 {
				t.Errorf("item %+v, want %v shown", x, c.shown)
			}
		})
	}
	t.Run("no film", func(t *testing.T) {
		p := newPaper(t, "bout")
		p.add(at, nil)
		if err := os.Remove(filepath.Join(filepath.Dir(p.s.Path), "film.mp4")); err != nil {
			t.Fatal(err)
		}
		if _, err := Draw(opened(t, p), Options{Questions: 1}); err == nil || !strings.Contains(err.Error(), "film is missing") {
			t.Errorf("got %v", err)
		}
	})
}

// TestNoQuestionTellsAnother: of two examples whose film shows the other one's act or
// what follows on it one is drawn, and both cannot be chosen.
func TestNoQuestionTellsAnother(t *testing.T) {
	for _, c := range []struct {
		name string
		gap  time.Duration
		both bool
	}{
		{"the same act", 0, false},
		{"a moment later", 3 * sec, false},
		{"its film shows the other's signal", 13 * sec, false},
		{"far enough", 22 * sec, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := newPaper(t, "bout")
			a, b := p.add(60*sec, nil), p.add(60*sec+c.gap, nil)
			got, err := Draw(opened(t, p), Options{Questions: 2, Fewer: true})
			if err != nil {
				t.Fatal(err)
			}
			if (len(got.Plan.Items) == 2) != c.both {
				t.Errorf("%d questions", len(got.Plan.Items))
			}
			_, err = Draw(opened(t, p), Options{Chosen: []timeline.ID{a, b}})
			if (err == nil) != c.both {
				t.Errorf("both chosen: %v", err)
			}
		})
	}
	// Another camera of the same bout shows the same jam.
	p := newPaper(t, "bout")
	err := p.s.Apply("second camera",
		timeline.SetFootage(timeline.Footage{ID: "g", Path: "film.mp4", Fingerprint: "other", Camera: "d", Duration: time.Hour}),
		timeline.SetTag(timeline.Tag{ID: "j", Kind: timeline.KindJam, Place: timeline.OnFilm("f", 50*sec), JamInfo: &timeline.JamInfo{Period: 1, Order: 1}}),
		timeline.SetMark(timeline.SyncMark{ID: "m1", Jam: "j", Edge: timeline.EdgeStart, Footage: "f", Film: 50 * sec, Hand: true}),
		timeline.SetMark(timeline.SyncMark{ID: "m2", Jam: "j", Edge: timeline.EdgeStart, Footage: "g", Film: 1050 * sec, Hand: true}))
	if err != nil {
		t.Fatal(err)
	}
	a := p.add(60*sec, nil)
	b := p.add(1061*sec, nil)
	tag := p.s.Facts.Tags[b]
	x := *tag.Example
	tag.Place.Footage, x.Signal.Footage, tag.Example = "g", "g", &x
	if err := p.s.Apply("on the second camera", timeline.SetTag(tag)); err != nil {
		t.Fatal(err)
	}
	if _, err := Draw(opened(t, p), Options{Chosen: []timeline.ID{a, b}}); err == nil {
		t.Error("two cameras show the same act, and both are asked")
	}
}

// many is three bouts with examples of three sections, three verdicts, five levels.
func many(t *testing.T) []*paper {
	t.Helper()
	codes := []string{"B", "F", "X", "C"}
	rules, _ := timeline.Edition("2025")
	var out []*paper
	for k := range 3 {
		p := newPaper(t, fmt.Sprintf("bout%d", k))
		for i := range 16 {
			p.add(time.Duration(60+40*i)*sec, func(x *timeline.Example) {
				x.Difficulty = 1 + (i+k)%5
				c, _ := rules.Code(codes[(i/4)%4])
				x.Verdicts[0].Code, x.Verdicts[0].Section = c.Letter, c.Section
				switch i % 4 {
				case 1:
					uncalled(x)
				case 3:
					x.Verdicts = []timeline.Answer{{Choice: timeline.ChoiceWarning}}
				}
			})
		}
		out = append(out, p)
	}
	return out
}

func ids(p Plan) []timeline.ID {
	var out []timeline.ID
	for _, x := range p.Items {
		out = append(out, x.Example)
	}
	return out
}

func TestSeed(t *testing.T) {
	list := many(t)
	draw := func(seed uint64, b *Bouts) Plan {
		got, err := Draw(b, Options{Questions: 12, Seed: seed})
		if err != nil {
			t.Fatal(err)
		}
		return got.Plan
	}
	a, b := draw(3, opened(t, list...)), draw(3, opened(t, list[2], list[0], list[1]))
	if !slices.Equal(ids(a), ids(b)) {
		t.Errorf("one seed, two quizzes:\n%v\n%v", ids(a), ids(b))
	}
	for i := range a.Items {
		if a.Items[i].Shown != b.Items[i].Shown {
			t.Errorf("question %d shows %v and %v", i+1, a.Items[i].Shown, b.Items[i].Shown)
		}
	}
	if a.ID == b.ID {
		t.Error("two quizzes have one name")
	}
	if c := draw(4, opened(t, list...)); slices.Equal(ids(a), ids(c)) {
		t.Error("two seeds, one quiz")
	}
	// Chosen ones come in the seed's order, whatever order they were chosen in.
	chosen := ids(a)
	x, err := Draw(opened(t, list...), Options{Chosen: chosen, Seed: 9})
	if err != nil {
		t.Fatal(err)
	}
	slices.Reverse(chosen)
	y, err := Draw(opened(t, list...), Options{Chosen: chosen, Seed: 9})
	if err != nil || !slices.Equal(ids(x.Plan), ids(y.Plan)) {
		t.Errorf("the order of choosing is the order of asking: %v", err)
	}
}

func TestBalance(t *testing.T) {
	b := opened(t, many(t)...)
	for seed := range uint64(20) {
		got, err := Draw(b, Options{Questions: 12, Seed: seed})
		if err != nil {
			t.Fatal(err)
		}
		verdicts, levels := map[timeline.Choice]int{}, map[int]int{}
		for _, x := range got.Plan.Items {
			verdicts[x.Verdicts[0].Choice]++
			levels[x.Difficulty]++
		}
		for _, c := range timeline.AskPenalty.Choices() {
			if verdicts[c] < 3 {
				t.Errorf("seed %d: %v", seed, verdicts)
			}
		}
		if len(levels) < 5 || slices.Max(slices.Collect(maps.Values(levels))) > 4 {
			t.Errorf("seed %d: levels %v", seed, levels)
		}
		if got.Spare != 36 {
			t.Errorf("%d to spare", got.Spare)
		}
	}
}

// TestOrderTellsNothing: over many seeds neither the place on film, nor the bout, nor
// the verdict, nor the difficulty goes with the number of a question, and verdicts
// come in as many runs as chance gives. Bounds are four standard errors: a true
// shuffle passes them, a sorted or dealt order does not.
func TestOrderTellsNothing(t *testing.T) {
	list := many(t)
	b := opened(t, list...)
	const seeds, n = 400, 12
	sums := map[string]float64{}
	runs, expected, variance := 0.0, 0.0, 0.0
	for seed := range uint64(seeds) {
		got, err := Draw(b, Options{Questions: n, Seed: seed})
		if err != nil {
			t.Fatal(err)
		}
		place, game, yes, level, after := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
		ones := 0.0
		for i, x := range got.Plan.Items {
			e := b.Session(x.Bout).Facts.Tags[x.Example]
			place[i] = e.Place.Film.Seconds()
			game[i] = float64(slices.IndexFunc(b.list, func(o bout) bool { return o.path == x.Bout }))
			if x.Verdicts[0].Choice == timeline.ChoiceYes {
				yes[i] = 1
				ones++
			}
			level[i] = float64(x.Difficulty)
			after[i] = (x.Shown.End - e.Place.Film).Seconds()
			if i == 0 || yes[i] != yes[i-1] {
				runs++
			}
		}
		for name, v := range map[string][]float64{"film": place, "bout": game, "verdict": yes, "difficulty": level, "cut": after} {
			sums[name] += correlation(v)
		}
		// Wald and Wolfowitz: the mean and variance of the number of runs of a random
		// order of two kinds.
		m := 2 * ones * (n - ones) / n
		expected += m + 1
		variance += m * (m - 1) / (n - 1)
	}
	// The correlation of a random order has mean 0 and variance 1/(n-1).
	bound := 4 / math.Sqrt(seeds*(n-1))
	for name, sum := range sums {
		if r := sum / seeds; math.Abs(r) > bound {
			t.Errorf("%s goes with the number: mean correlation %.3f, at most %.3f is chance", name, r, bound)
		}
	}
	if z := (runs - expected) / math.Sqrt(variance); math.Abs(z) > 4 {
		t.Errorf("%.0f runs of verdicts, chance gives %.0f (z = %.1f)", runs, expected, z)
	}
}

// correlation of values with their place in the list; 0 where they are all alike.
func correlation(v []float64) float64 {
	n := float64(len(v))
	var sx, sy, sxx, syy, sxy float64
	for i, y := range v {
		x := float64(i)
		sx, sy, sxx, syy, sxy = sx+x, sy+y, sxx+x*x, syy+y*y, sxy+x*y
	}
	d := (n*sxx - sx*sx) * (n*syy - sy*sy)
	if d <= 0 {
		return 0
	}
	return (n*sxy - sx*sy) / math.Sqrt(d)
}

// TestCutsTellNothing: what nobody signalled goes on after its beginning as long as
// one of the others does, so that how far a clip goes is no sign of a call.
func TestCutsTellNothing(t *testing.T) {
	p := newPaper(t, "bout")
	after := map[time.Duration]bool{}
	for i := range 8 {
		d := time.Duration(700+300*i) * time.Millisecond
		after[d-SignalMargin] = true
		p.add(time.Duration(60+60*i)*sec, func(x *timeline.Example) { x.Signal.Film = time.Duration(60+60*i)*sec + d })
	}
	for i := range 8 {
		p.add(time.Duration(800+60*i)*sec, uncalled)
	}
	seen := map[time.Duration]bool{}
	for seed := range uint64(10) {
		got, err := Draw(opened(t, p), Options{Questions: 16, Seed: seed})
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range got.Plan.Items {
			e := p.s.Facts.Tags[x.Example]
			d := x.Shown.End - e.Place.Film
			if !after[d] {
				t.Errorf("question %d ends %v after its beginning, as none that was called does", x.Number, d)
			}
			if e.Example.Signal.IsZero() {
				seen[d] = true
			}
			if x.Shown.Duration() != ClipLength {
				t.Errorf("question %d is %v long", x.Number, x.Shown.Duration())
			}
		}
	}
	if len(seen) < 6 {
		t.Errorf("uncalled ones end in %d ways of %d", len(seen), len(after))
	}
}

func TestShortage(t *testing.T) {
	p := newPaper(t, "bout")
	p.add(60*sec, nil)
	p.add(62*sec, nil)
	p.add(200*sec, func(x *timeline.Example) { x.Verdicts = nil })
	_, err := Draw(opened(t, p), Options{Questions: 3})
	want := "cannot draw 3 questions: 1 can be asked; left out are 1 show film that gives another question away; 1: it has no verdict yet. Ask fewer questions, or name more bouts"
	if err == nil || err.Error() != want {
		t.Errorf("got %v", err)
	}
	got, err := Draw(opened(t, p), Options{Questions: 3, Fewer: true})
	if err != nil || len(got.Plan.Items) != 1 || len(got.Notes) != 1 || len(got.Left) != 1 {
		t.Errorf("%+v, %v", got, err)
	}
	if _, err := Draw(opened(t, p), Options{Chosen: []timeline.ID{"bout-003", "nobody"}}); err == nil ||
		!strings.Contains(err.Error(), "it has no verdict yet") || !strings.Contains(err.Error(), "no example of these bouts") {
		t.Errorf("got %v", err)
	}
	for name, o := range map[string]Options{
		"too many": {Questions: 501}, "negative": {Questions: -1}, "languages": {Languages: []string{"en", "es", "fr"}}, "length": {Length: sec}, "margin": {Margin: -sec},
	} {
		if _, err := Draw(opened(t, p), o); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

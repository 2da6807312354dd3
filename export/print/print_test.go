package print

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/color"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
	"whistlecut/timeline/simulate"
)

var keep = flag.String("keep", "", "folder to keep the printed files in, to be looked at")

// fixed is the date of every print here.
var fixed = time.Date(2026, 5, 3, 0, 0, 0, 0, time.UTC)

var (
	played   = map[int]numbers.Source{}
	playedMu sync.Mutex
)

// bout is a simulated bout whose names are as long and as foreign as they come.
func bout(jams int) numbers.Source {
	playedMu.Lock()
	defer playedMu.Unlock()
	if _, ok := played[jams]; !ok {
		played[jams] = play(jams)
	}
	return played[jams]
}

func play(jams int) numbers.Source {
	g := simulate.Play(3, simulate.Options{Jams: jams, Rates: simulate.Rates{Penalties: 2, StarPasses: 2}})
	f := g.Facts()
	f.Info.Date = "2026-05-02"
	f.Info.Title = "Ñandú Ábrego : Αθήνα Съюз Żółć"
	f.Teams[0].Name = "Ñandú Ábrego Roller Derby Reserve Wheel of Misfortune"
	f.Teams[1].Name = "Αθήνα Съюз"
	for i := range f.Teams {
		for k := range f.Teams[i].Roster {
			f.Teams[i].Roster[k].Name = []string{"Żółć Łąka", "Ольга Щука", "Ἑλένη Ψυχή", "Ein-außergewöhnlich-langer-Name-ohne-jedes-Leerzeichen-darin", "Smile 😀", "Ana"}[k%6]
		}
	}
	return numbers.SourceOf(f)
}

// printed makes a file, keeps it where it is to be looked at, and reads its text
// back with pdftotext.
func printed(t *testing.T, name string, write func(*bytes.Buffer) error) (data []byte, text string) {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	if *keep != "" {
		if err := os.WriteFile(filepath.Join(*keep, name+".pdf"), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	path := filepath.Join(t.TempDir(), name+".pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Logf("without pdftotext (poppler-utils, see .ci/setup) only the making of %s is tested", name)
		return b.Bytes(), ""
	}
	out, err := exec.Command(tool, "-layout", path, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext on %s: %v", name, err)
	}
	return b.Bytes(), string(out)
}

// holds fails for words that the text of a page lacks.
func holds(t *testing.T, text string, words ...string) {
	t.Helper()
	if text == "" {
		return
	}
	for _, w := range words {
		if !strings.Contains(text, w) {
			t.Errorf("the page does not hold %q", w)
		}
	}
}

func skaterOf(t testing.TB, src numbers.Source, who timeline.SkaterRef) Skater {
	t.Helper()
	p, err := numbers.PageOf([]numbers.Source{src}, numbers.Name{Team: src.Bout.Teams[who.Side.Index()].Name, Number: who.Number})
	if err != nil {
		t.Fatal(err)
	}
	return Skater{Page: p, FilmName: func(int, timeline.ID) string { return "GH010042.MP4" }}
}

// most is the skater with most penalties.
func most(src numbers.Source) timeline.SkaterRef {
	best, n := timeline.SkaterRef{}, -1
	for _, f := range src.Bout.Fouls {
		if len(f.Penalties) > n {
			best, n = f.Skater, len(f.Penalties)
		}
	}
	return best
}

func TestSkaterPage(t *testing.T) {
	src := bout(12)
	in := skaterOf(t, src, most(src))
	_, text := printed(t, "skater", func(b *bytes.Buffer) error { return WriteSkater(b, in, Options{Made: fixed}) })
	holds(t, text, "Ask her before you share it", "head referee's decision is final", "Penalties: ", "2026-05-03", "conceded")
	if len(in.Page.Penalties) < 3 {
		t.Fatalf("only %d penalties to print", len(in.Page.Penalties))
	}
	for _, x := range in.Page.Penalties {
		holds(t, text, jam(x.Period, x.Number))
	}
	in.Page.Minor, in.Page.NoConsent = true, true
	_, text = printed(t, "skater-minor", func(b *bytes.Buffer) error { return WriteSkater(b, in, Options{}) })
	holds(t, text, "A minor", "She does not want to be shared")
}

func TestNumbersPage(t *testing.T) {
	src := bout(12)
	r := numbers.ReportOf(src)
	_, text := printed(t, "numbers", func(b *bytes.Buffer) error { return WriteNumbers(b, r, Options{Made: fixed}) })
	holds(t, text, "Αθήνα Съюз", "Ñandú Ábrego", "Żółć", "Margin along the bout", "power jams", "small sample")
	for _, side := range r.Sides {
		for _, j := range side.Jammers {
			if !strings.Contains(j.Name, "langer") { // it goes over two lines
				holds(t, text, clean(string(j.Skater.Number)+" "+j.Name))
			}
		}
	}
	// A bout of which nothing was seen.
	empty := numbers.ReportOf(numbers.SourceOf(timeline.Facts{}))
	_, text = printed(t, "numbers-empty", func(b *bytes.Buffer) error { return WriteNumbers(b, empty, Options{}) })
	holds(t, text, "home : away")
}

// Trips that were not seen make ranges, in words and in bars.
func TestNumbersPageWithRanges(t *testing.T) {
	src := bout(4)
	f := *src.Facts
	tags := map[timeline.ID]timeline.Tag{}
	for id, x := range f.Tags {
		if x.Kind == timeline.KindTrip && x.Trip.Number == 2 && strings.HasSuffix(string(x.Jam), "2") {
			x.Seen = timeline.NotSeen
		}
		if x.Jam == "p1j03" && x.Kind != timeline.KindJam && x.Kind != timeline.KindLineup {
			continue // nobody logged it
		}
		tags[id] = x
	}
	f.Tags = tags
	r := numbers.ReportOf(numbers.SourceOf(f))
	if r.Score[0].Sure() && r.Score[1].Sure() {
		t.Fatal("nothing is a range")
	}
	_, text := printed(t, "numbers-ranges", func(b *bytes.Buffer) error { return WriteNumbers(b, r, Options{}) })
	holds(t, text, fmt.Sprintf("%d–%d", r.Score[0].Low, r.Score[0].High), "Nobody logged")
}

func findings() Findings {
	in := Findings{
		Title: "Ñandú : Съюз", Date: "2026-05-02", Teams: [2]string{"Ñandú", "Съюз"}, Compared: 348, Agreed: 345, Unchecked: 2,
		Accounts: [2]Account{{Tags: timeline.Exactly(76), Sheet: 72, SheetKnown: true, Explained: -4}, {Tags: timeline.Range{Low: 70, High: 74}}},
	}
	for i := range 30 {
		f := Finding{Where: fmt.Sprintf("period 1, jam %d, home, trip 3", i+1), Cause: "trip digit", Text: "The sheet has 4, the tags 3.", Sheet: "4", Tags: "3", Points: 1, Film: "GH010042.MP4 12:30.250"}
		if i == 3 {
			f.Also = []string{strings.Repeat("a long consequence of it, ", 40)}
			f.Decided, f.Note = timeline.VerdictSheetDiffers, "the scorekeeper's sheet agrees with the film"
			f.Film = ""
		}
		in.Items = append(in.Items, f)
	}
	return in
}

func TestFindingsPage(t *testing.T) {
	_, text := printed(t, "findings", func(b *bytes.Buffer) error { return WriteFindings(b, findings(), Options{Made: fixed}) })
	holds(t, text, "where tags differ from the sheet", "head referee's decision is final", "Findings: 30", "period 1, jam 30", "sheet differs", "70–74", "Съюз")
	for _, word := range []string{"wrong call", "referee wrong", "error by"} {
		if strings.Contains(text, word) {
			t.Errorf("the page says %q", word)
		}
	}
	none := findings()
	none.Items = nil
	_, text = printed(t, "findings-none", func(b *bytes.Buffer) error { return WriteFindings(b, none, Options{}) })
	holds(t, text, "agree wherever they can be compared")
}

func still(w, h int) image.Image {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.Set(x, y, color.RGBA{uint8(255 * x / w), uint8(255 * y / h), 128, 255})
		}
	}
	return m
}

func session() Session {
	in := Session{Title: "Práctica del martes: power jams", Under: "2026-05-05 · Halle 3", Target: 5 * time.Minute, Notes: []string{"Two moments are not on film."}}
	at := time.Duration(0)
	for i := range 9 {
		x := SessionItem{
			Title: "Power jam, period 1, jam " + fmt.Sprint(i+1), Captions: []string{"12 against 204, score 40 : 32"}, Start: at, Length: 41 * time.Second,
			Talk: "Who closes the inside line when the pivot leaves for the box?",
		}
		switch i % 4 {
		case 0:
			x.Still = still(320, 180)
		case 1:
			x.Still = still(180, 320)
		case 2:
			x.NoStill = "The film is missing: GH010042.MP4"
			x.Title = strings.Repeat("Ein sehr langer Titel ", 6)
			x.Captions = append(x.Captions, strings.Repeat("und eine lange Bildunterschrift ", 6))
			x.Talk = strings.Repeat("Worüber zu reden ist. ", 15)
		case 3:
			x.Talk, x.Captions = "", nil
		}
		at += x.Length
		in.Items = append(in.Items, x)
	}
	return in
}

func TestSessionSheet(t *testing.T) {
	in := session()
	_, text := printed(t, "session", func(b *bytes.Buffer) error { return WriteSession(b, in, Options{Made: fixed}) })
	// 9 items of 41 s are 6:09, 1:09 over 5:00.
	holds(t, text, "items: 9", "6:09", "1:09 over", "Who closes the inside line", "0:41 – 1:22", "not on film")
	in.Target = 7 * time.Minute
	_, text = printed(t, "session-short", func(b *bytes.Buffer) error { return WriteSession(b, in, Options{}) })
	holds(t, text, "0:51 left")
	in.Items = in.Items[:1]
	in.Items[0].Talk = strings.Repeat("far too much to say. ", 800)
	in.Items[0].Title = strings.Repeat("far too long a title. ", 100)
	if _, text = printed(t, "session-flood", func(b *bytes.Buffer) error { return WriteSession(b, in, Options{}) }); strings.Count(text, "\f") > 2 {
		t.Errorf("one item goes over %d pages", strings.Count(text, "\f"))
	}
	in.Items[0].JPEG, in.Items[0].Talk = []byte("no picture"), ""
	if err := WriteSession(&bytes.Buffer{}, in, Options{}); err == nil || !strings.Contains(err.Error(), "no JPEG picture") {
		t.Errorf("a still that is none: %v", err)
	}
}

// Equal input makes equal bytes, and only a page's date changes them.
func TestSameBytes(t *testing.T) {
	src := bout(4)
	for name, write := range map[string]func(*bytes.Buffer, Options) error{
		"numbers":  func(b *bytes.Buffer, o Options) error { return WriteNumbers(b, numbers.ReportOf(src), o) },
		"skater":   func(b *bytes.Buffer, o Options) error { return WriteSkater(b, skaterOf(t, src, most(src)), o) },
		"findings": func(b *bytes.Buffer, o Options) error { return WriteFindings(b, findings(), o) },
		"session":  func(b *bytes.Buffer, o Options) error { return WriteSession(b, session(), o) },
	} {
		t.Run(name, func(t *testing.T) {
			var one, two, later bytes.Buffer
			for b, o := range map[*bytes.Buffer]Options{&one: {Made: fixed}, &two: {Made: fixed}, &later: {Made: fixed.AddDate(0, 0, 1)}} {
				if err := write(b, o); err != nil {
					t.Fatal(err)
				}
			}
			if !bytes.Equal(one.Bytes(), two.Bytes()) {
				t.Error("the same print twice differs")
			}
			if bytes.Equal(one.Bytes(), later.Bytes()) {
				t.Error("the date changes nothing")
			}
		})
	}
}

// TestCardsAreSlim: a session of titles takes less paper than one of clips, and
// says as much.
func TestCardsAreSlim(t *testing.T) {
	clips := session()
	clips.Items = slices.Repeat(clips.Items[:1], 12)
	cards := clips
	cards.Items = slices.Clone(clips.Items)
	for i := range cards.Items {
		cards.Items[i].Card = true
	}
	_, many := printed(t, "session clips", func(b *bytes.Buffer) error { return WriteSession(b, clips, Options{Made: fixed}) })
	_, few := printed(t, "session cards", func(b *bytes.Buffer) error { return WriteSession(b, cards, Options{Made: fixed}) })
	if few != "" { // pdftotext ends each page by a form feed
		if a, b := strings.Count(few, "\f"), strings.Count(many, "\f"); a > 2 || b < 3 {
			t.Errorf("%d pages of cards, %d of clips", a, b)
		}
	}
	holds(t, few, "Power jam, period 1, jam 1", "12 against 204", "Who closes the inside line", "(0:41)")
}

// TestSkatersWords: what was written stands on her page, else there is room for it.
func TestSkatersWords(t *testing.T) {
	src := bout(12)
	in := skaterOf(t, src, most(src))
	in.Own, in.Coach = "I came in too late.\nTwice.", "Look to the left first."
	_, text := printed(t, "skater words", func(b *bytes.Buffer) error { return WriteSkater(b, in, Options{Made: fixed}) })
	holds(t, text, "In her own words", "I came in too late.", "Twice.", "Look to the left first.")
}

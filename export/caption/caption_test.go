package caption

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"whistlecut/timeline"
)

const ms = time.Millisecond

// failer is what tests and properties have in common.
type failer interface {
	Helper()
	Fatal(args ...any)
}

func written(t failer, tr Track) (vtt, srt string) {
	t.Helper()
	var a, b bytes.Buffer
	if err := errors.Join(WriteVTT(&a, tr), WriteSRT(&b, tr)); err != nil {
		t.Fatal(err)
	}
	return a.String(), b.String()
}

func TestWriters(t *testing.T) {
	for _, c := range []struct {
		name     string
		track    Track
		vtt, srt string
	}{
		{"nothing", Track{}, "WEBVTT\n", ""},
		{
			"two cues, sorted",
			Track{Language: "en", Title: "Power jams", Cues: []Cue{{3 * time.Second, 5 * time.Second, "two\nlines"}, {0, 2500 * ms, "first"}}},
			"WEBVTT\n\nNOTE Language: en\n\nNOTE Title: Power jams\n\n1\n00:00:00.000 --> 00:00:02.500\nfirst\n\n2\n00:00:03.000 --> 00:00:05.000\ntwo\nlines\n",
			"1\n00:00:00,000 --> 00:00:02,500\nfirst\n\n2\n00:00:03,000 --> 00:00:05,000\ntwo\nlines\n",
		},
		{
			"times are rounded, not cut",
			Track{Cues: []Cue{{1999600 * time.Microsecond, 3599999500 * time.Microsecond, "a"}}},
			"WEBVTT\n\n1\n00:00:02.000 --> 01:00:00.000\na\n",
			"1\n00:00:02,000 --> 01:00:00,000\na\n",
		},
		{
			"no length, before the start, backwards, empty",
			Track{Cues: []Cue{{time.Second, time.Second, "a"}, {-2 * time.Second, -time.Second, "b"}, {-time.Second, time.Second, "c"}, {3 * time.Second, 2 * time.Second, "d"}, {time.Second, 2 * time.Second, " \n\t"}}},
			"WEBVTT\n\n1\n00:00:00.000 --> 00:00:01.000\nc\n\n2\n00:00:01.000 --> 00:00:01.001\na\n",
			"1\n00:00:00,000 --> 00:00:01,000\nc\n\n2\n00:00:01,000 --> 00:00:01,001\na\n",
		},
		{
			"what would mean something",
			Track{Title: "a --> b", Cues: []Cue{{0, ms, "5 < 6 & <i>x</i> --> &amp; {\\an8}"}}},
			"WEBVTT\n\nNOTE Title: a → b\n\n1\n00:00:00.000 --> 00:00:00.001\n5 &lt; 6 &amp; &lt;i&gt;x&lt;/i&gt; --&gt; &amp;amp; {\\an8}\n",
			"1\n00:00:00,000 --> 00:00:00,001\n5 < 6 & <\u2060i>x<\u2060/i> --\u2060> &amp; {\u2060\\an8}\n",
		},
		{
			"empty lines would end a cue",
			Track{Cues: []Cue{{0, ms, "\r\n a \r\n\r\n\x00b\u2028c\n"}}},
			"WEBVTT\n\n1\n00:00:00.000 --> 00:00:00.001\na\nb\nc\n",
			"1\n00:00:00,000 --> 00:00:00,001\na\nb\nc\n",
		},
		{
			"right to left, and a line in it that is not",
			Track{Language: "he", Cues: []Cue{{0, ms, "12 שלום!\nJam 3"}}},
			"WEBVTT\n\nNOTE Language: he\n\n1\n00:00:00.000 --> 00:00:00.001\n12 שלום!\nJam 3\n",
			"1\n00:00:00,000 --> 00:00:00,001\n\u202b12 שלום!\u202c\nJam 3\n",
		},
		{
			"a hundred hours",
			Track{Cues: []Cue{{100 * time.Hour, 100*time.Hour + ms, "a"}}},
			"WEBVTT\n\n1\n100:00:00.000 --> 100:00:00.001\na\n",
			"1\n100:00:00,000 --> 100:00:00,001\na\n",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			vtt, srt := written(t, c.track)
			if d := cmp.Diff(c.vtt, vtt); d != "" {
				t.Errorf("VTT (-want +got):\n%s", d)
			}
			if d := cmp.Diff(c.srt, srt); d != "" {
				t.Errorf("SRT (-want +got):\n%s", d)
			}
		})
	}
}

func TestReaders(t *testing.T) {
	want := []Cue{{1500 * ms, 2 * time.Second, "Lead & out\nnow"}}
	for _, c := range []struct {
		name, text string
		read       func(string) (Track, error)
		cues       []Cue
		err        string
	}{
		{"VTT of others", "\uFEFFWEBVTT some title\r\nX: y\r\n\r\nSTYLE\r\n::cue { color: red }\r\n\r\nNOTE a comment\r\n\r\nid\r\n00:01.500 --> 00:02.000 align:start\r\n<v Ref><b>Lead</b> &amp; out\r\nnow\r\n", readVTT, want, ""},
		{"VTT without number", "WEBVTT\n\n00:00:01.500 --> 00:00:02.000\nLead &amp; out\nnow", readVTT, want, ""},
		{"no VTT", "1\n00:00:01,500 --> 00:00:02,000\na\n", readVTT, nil, "WEBVTT"},
		{"empty", "", readVTT, nil, "WEBVTT"},
		{"VTT with a broken time", "WEBVTT\n\n00:01.50 --> 00:02.000\na\n", readVTT, nil, "line 3"},
		{"VTT that ends before it begins", "WEBVTT\n\nx\n00:03.500 --> 00:02.000\na\n", readVTT, nil, "line 4"},
		{"VTT without an end", "WEBVTT\n\n00:03.500 -->\na\n", readVTT, nil, "line 3"},
		{"SRT of others", "1\r\n00:00:01,500 --> 00:00:02,000\r\n{\\an8}<i>Lead</i> & out\r\nnow\r\n\r\n", readSRT, want, ""},
		{"SRT with points and no numbers", "00:00:01.500 --> 00:00:02.000\nLead & out\nnow", readSRT, want, ""},
		{"SRT without time", "hello\nyou\n", readSRT, nil, "line 1"},
		{"SRT, second broken", "1\n00:00:01,500 --> 00:00:02,000\na\n\n2\n00:61:00,000 --> 02:00:00,000\nb\n", readSRT, nil, "line 6"},
		{"no SRT at all", "", readSRT, nil, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := c.read(c.text)
			if c.err == "" && err != nil || c.err != "" && (err == nil || !strings.Contains(err.Error(), c.err)) {
				t.Fatalf("error %v, want one with %q", err, c.err)
			}
			if d := cmp.Diff(c.cues, got.Cues); d != "" {
				t.Errorf("(-want +got):\n%s", d)
			}
		})
	}
	if _, err := ReadSRT(strings.NewReader(strings.Repeat("x", largest+1))); err == nil || !strings.Contains(err.Error(), "larger") {
		t.Errorf("a file without end: %v", err)
	}
}

func readVTT(s string) (Track, error) { return ReadVTT(strings.NewReader(s)) }
func readSRT(s string) (Track, error) { return ReadSRT(strings.NewReader(s)) }

// bits are pieces of text that could break a cue.
var bits = []string{"a", "Ω", "ש", "ب", " ", "\n", "\r", "-->", "--", ">", "<", "<i>", "</b>", "&", "&lt;", "&amp;", "{\\an8}", "{", "WEBVTT", "NOTE", "1", "00:00:01.000 --> 00:00:02.000", "\x00", "\u2028", "漢", "\xff", "\uFEFF"}

func TestWhatIsWrittenIsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tr := Track{
			Language: rapid.SampledFrom([]string{"", "en", "he"}).Draw(t, "language"),
			Title:    strings.Join(rapid.SliceOfN(rapid.SampledFrom([]string{"a", " ", "&", "<", "ש", "\n"}), 0, 5).Draw(t, "title"), ""),
		}
		for range rapid.IntRange(0, 6).Draw(t, "cues") {
			start := time.Duration(rapid.Int64Range(-int64(time.Second), int64(30*time.Hour)).Draw(t, "start"))
			tr.Cues = append(tr.Cues, Cue{
				start, start + time.Duration(rapid.Int64Range(-int64(time.Millisecond), int64(time.Hour)).Draw(t, "length")),
				strings.Join(rapid.SliceOfN(rapid.SampledFrom(bits), 0, 8).Draw(t, "text"), ""),
			})
		}
		vtt, srt := written(t, tr)
		want := tr.ready()
		got, err := readVTT(vtt)
		if d := cmp.Diff(Track{tr.Language, oneLine(tr.Title), want}, got); err != nil || d != "" {
			t.Fatalf("VTT: %v (-want +got):\n%s\n%s", err, d, vtt)
		}
		got, err = readSRT(srt)
		if d := cmp.Diff(want, got.Cues); err != nil || d != "" {
			t.Fatalf("SRT: %v (-want +got):\n%s\n%s", err, d, srt)
		}
	})
}

func FuzzReadVTT(f *testing.F) {
	f.Add("WEBVTT\n\n1\n00:00:01.500 --> 00:00:02.000 align:start\n<v A>a &amp; b\n")
	fuzz(f, readVTT)
}

func FuzzReadSRT(f *testing.F) {
	f.Add("1\n00:00:01,500 --> 00:00:02,000\n\u202b{\\an8}<i>a</i> --\u2060> b\u202c\n")
	fuzz(f, readSRT)
}

// fuzz reads anything; what was understood is written and read back.
func fuzz(f *testing.F, read func(string) (Track, error)) {
	f.Fuzz(func(t *testing.T, s string) {
		tr, err := read(s)
		if err != nil {
			return
		}
		for _, c := range tr.Cues {
			if c.Start < 0 || c.End < c.Start || c.Text == "" {
				t.Fatalf("read %+v", c)
			}
		}
		vtt, _ := written(t, tr)
		again, err := readVTT(vtt)
		if err != nil || len(again.Cues) != len(tr.ready()) {
			t.Fatalf("%v: %q", err, vtt)
		}
	})
}

type brokenWriter struct{}

func (brokenWriter) Write([]byte) (int, error) { return 0, errors.New("the disk is full") }

func TestWriterThatFails(t *testing.T) {
	tr := Track{Cues: []Cue{{0, ms, "a"}}}
	for name, f := range map[string]func() error{"VTT": func() error { return WriteVTT(brokenWriter{}, tr) }, "SRT": func() error { return WriteSRT(brokenWriter{}, tr) }} {
		if err := f(); err == nil || !strings.Contains(err.Error(), "disk is full") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestOfReel(t *testing.T) {
	s := time.Second
	clip := func(from, to time.Duration) *timeline.Clip {
		return &timeline.Clip{Footage: "f", Range: timeline.TimeRange{Start: from, End: to}}
	}
	parts := []timeline.Part{
		{Card: &timeline.Card{Title: timeline.Words{"en": "One"}, Length: 3 * s}, Caption: timeline.Words{"en": "second line of a card"}},
		{Clip: clip(10*s, 14*s), Caption: timeline.Words{"en": "Lead", "es": "Líder"}},
		{Clip: clip(20*s, 22*s)},
		{Clip: clip(30*s, 31*s), Caption: timeline.Words{"": "Out"}},
	}
	for _, c := range []struct {
		name      string
		languages []string
		lengths   []time.Duration
		want      []Track
	}{
		{"two languages", []string{"en", "es"}, nil, []Track{
			{"en", "R", []Cue{{3 * s, 7 * s, "Lead"}, {9 * s, 10 * s, "Out"}}},
			{"es", "R", []Cue{{3 * s, 7 * s, "Líder"}, {9 * s, 10 * s, "Out"}}},
		}},
		{"as long as the film became", []string{"en"}, []time.Duration{3 * s, 4040 * ms}, []Track{
			{"en", "R", []Cue{{3 * s, 7040 * ms, "Lead"}, {9040 * ms, 10040 * ms, "Out"}}},
		}},
		{"no language", nil, nil, []Track{{"", "R", []Cue{{3 * s, 7 * s, "Lead"}, {9 * s, 10 * s, "Out"}}}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if d := cmp.Diff(c.want, OfReel("R", c.languages, parts, c.lengths)); d != "" {
				t.Errorf("(-want +got):\n%s", d)
			}
		})
	}
}

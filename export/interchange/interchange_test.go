package interchange

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"whistlecut/timeline"
)

var update = flag.Bool("update", false, "write the golden files anew")

const s = time.Second

func example() Bout {
	ntsc := Rate{30000, 1001}
	return Bout{Title: `Home & "Away"`, Films: []Film{
		{Path: "/film/stand 1.mp4", Camera: "stand", Rate: ntsc, Length: 60 * s, Start: 100 * s, Placed: true, Marks: []Mark{
			{At: 10 * s, End: 40 * s, Kind: MarkJam, Name: "P1 J1", Period: 1, Jam: 1},
			{At: 20 * s, End: 20 * s, Kind: MarkPenalty, Name: "penalty B home 12", Note: "late", Period: 1, Jam: 1, Side: "home", Skater: "12 Ünver"},
		}},
		{Path: "/film/stand 2.mp4", Camera: "stand", Rate: ntsc, Length: 30 * s, Start: 170 * s, Placed: true},
		{Path: "/film/turn.mp4", Camera: "turn", Rate: Rate{50, 1}, Length: 80 * s, Start: 95 * s, Placed: true, Marks: []Mark{
			{At: 15 * s, End: 45 * s, Kind: MarkJam, Name: "P1 J1", Period: 1, Jam: 1},
			{At: 3 * s, End: 3 * s, Kind: MarkOwn, Name: "=look"},
		}},
		{Path: "/gone/phone.mp4", Camera: "turn", Missing: true, Marks: []Mark{{At: 5 * s, End: 7 * s, Kind: MarkJam, Name: "P1 J2", Period: 1, Jam: 2}}},
	}}
}

func exampleReel() Reel {
	f := Film{Path: "/film/stand 1.mp4", Rate: Rate{25, 1}, Length: 60 * s}
	c := timeline.Clip{
		Range: timeline.TimeRange{Start: 10 * s, End: 14 * s}, Before: 2 * s,
		Speeds:  []timeline.Speed{{Range: timeline.TimeRange{Start: 11 * s, End: 13 * s}, Rate: 0.5}},
		Freezes: []timeline.Freeze{{At: 12 * s, Length: 3 * s}},
	}
	return Reel{Name: "Tuesday", Rate: Rate{25, 1}, Parts: []Part{
		{Title: "Power jams", Caption: "of period 2", Card: 4 * s},
		{Title: "P1 J1 power jam", Caption: "Watch; the #pivot = late", Film: f, Legs: Legs(c)},
	}}
}

func golden(t *testing.T, name string, write func(*bytes.Buffer) error) {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join("testdata", name)
	if *update {
		if err := errors.Join(os.MkdirAll("testdata", 0o777), os.WriteFile(path, b.Bytes(), 0o666)); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(string(want), b.String()); d != "" {
		t.Errorf("%s (-want +got):\n%s", path, d)
	}
}

func TestGoldenFiles(t *testing.T) {
	b, r := example(), exampleReel()
	golden(t, "bout.otio", func(w *bytes.Buffer) error { return WriteOTIO(w, b.Timeline()) })
	golden(t, "reel.otio", func(w *bytes.Buffer) error { return WriteOTIO(w, r.Timeline()) })
	golden(t, "bout.csv", func(w *bytes.Buffer) error { return b.WriteCSV(w) })
	golden(t, "reel.csv", func(w *bytes.Buffer) error { return r.WriteCSV(w) })
	golden(t, "stand.chapters.txt", func(w *bytes.Buffer) error { return WriteChapters(w, b.Title, b.Films[0].Chapters()) })
	golden(t, "reel.chapters.txt", func(w *bytes.Buffer) error { return WriteChapters(w, r.Name, r.Chapters()) })
}

func TestCamerasAreInStep(t *testing.T) {
	tl := example().Timeline()
	// When each clip starts and ends on its track, in seconds.
	for i, want := range [][][2]float64{{{5, 65}, {75, 105}}, {{0, 80}, {80, 87}}} {
		var got [][2]float64
		at := 0.0
		for _, x := range tl.Tracks.Children[i].Children {
			d := x.Source.Duration
			end := at + float64(d.Value)/float64(d.Rate)
			if x.Schema == "Clip.2" {
				got = append(got, [2]float64{at, end})
			}
			at = end
		}
		if d := cmp.Diff(want, got, cmp.Comparer(func(a, b float64) bool { return a-b < 0.05 && b-a < 0.05 })); d != "" {
			t.Errorf("track %d (-want +got):\n%s", i+1, d)
		}
	}
}

func TestLegs(t *testing.T) {
	at := func(a, b int) timeline.TimeRange {
		return timeline.TimeRange{Start: time.Duration(a) * s, End: time.Duration(b) * s}
	}
	for _, c := range []struct {
		name string
		clip timeline.Clip
		want []Leg
	}{
		{"plain", timeline.Clip{Range: at(10, 14)}, []Leg{{10 * s, 14 * s, 1, 4 * s}}},
		{"instant with margins, not before the film", timeline.Clip{Range: at(2, 2), Before: 5 * s, After: s}, []Leg{{0, 3 * s, 1, 3 * s}}},
		{
			"slow in the middle",
			timeline.Clip{Range: at(10, 14), Speeds: []timeline.Speed{{Range: at(11, 12), Rate: 0.5}}},
			[]Leg{{10 * s, 11 * s, 1, s}, {11 * s, 12 * s, 0.5, 2 * s}, {12 * s, 14 * s, 1, 2 * s}},
		},
		{"slow beyond the clip", timeline.Clip{Range: at(10, 14), Speeds: []timeline.Speed{{Range: at(8, 20), Rate: 2}}}, []Leg{{10 * s, 14 * s, 2, 2 * s}}},
		{"frozen within slow", exampleClip(), []Leg{{10 * s, 11 * s, 1, s}, {11 * s, 12 * s, 0.5, 2 * s}, {12 * s, 12 * s, 0, 3 * s}, {12 * s, 13 * s, 0.5, 2 * s}, {13 * s, 14 * s, 1, s}}},
		{
			"frozen at the start, twice",
			timeline.Clip{Range: at(10, 11), Freezes: []timeline.Freeze{{At: 10 * s, Length: s}, {At: 10 * s, Length: 2 * s}}},
			[]Leg{{10 * s, 10 * s, 0, s}, {10 * s, 10 * s, 0, 2 * s}, {10 * s, 11 * s, 1, s}},
		},
		{"frozen outside", timeline.Clip{Range: at(10, 11), Freezes: []timeline.Freeze{{At: 9 * s, Length: s}, {At: 11 * s, Length: s}}}, []Leg{{10 * s, 11 * s, 1, s}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Legs(c.clip)
			if d := cmp.Diff(c.want, got); d != "" {
				t.Errorf("(-want +got):\n%s", d)
			}
			if sum := (Part{Legs: got}).Length(); sum != c.clip.Length() {
				t.Errorf("%v long, the clip says %v", sum, c.clip.Length())
			}
		})
	}
}

func exampleClip() timeline.Clip {
	return timeline.Clip{
		Range:   timeline.TimeRange{Start: 10 * s, End: 14 * s},
		Speeds:  []timeline.Speed{{Range: timeline.TimeRange{Start: 11 * s, End: 13 * s}, Rate: 0.5}},
		Freezes: []timeline.Freeze{{At: 12 * s, Length: 3 * s}},
	}
}

func TestLegsAreAsLongAsTheClip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		second := func(name string, low, high int) time.Duration {
			return time.Duration(rapid.IntRange(low*10, high*10).Draw(t, name)) * s / 10
		}
		c := timeline.Clip{Before: second("before", -2, 5), After: second("after", -2, 5)}
		c.Range.Start = second("start", 0, 30)
		c.Range.End = c.Range.Start + second("length", 5, 20)
		at := second("first", 0, 20)
		for range rapid.IntRange(0, 4).Draw(t, "speeds") {
			to := at + second("slow", 1, 5)
			c.Speeds = append(c.Speeds, timeline.Speed{Range: timeline.TimeRange{Start: at, End: to}, Rate: rapid.SampledFrom([]float64{0.25, 0.5, 1, 2, 3}).Draw(t, "rate")})
			at = to + second("gap", 0, 3)
		}
		for range rapid.IntRange(0, 3).Draw(t, "freezes") {
			c.Freezes = append(c.Freezes, timeline.Freeze{At: second("at", 0, 50), Length: second("held", 0, 4)})
		}
		slices.SortFunc(c.Freezes, func(a, b timeline.Freeze) int { return int(a.At - b.At) })
		legs := Legs(c)
		if d := (Part{Legs: legs}).Length() - c.Length(); d > time.Microsecond || d < -time.Microsecond {
			t.Fatalf("%v long, the clip says %v: %+v", (Part{Legs: legs}).Length(), c.Length(), legs)
		}
		now := c.Shown().Start
		for _, l := range legs {
			if l.From != now || l.To < l.From || l.Length <= 0 {
				t.Fatalf("a leg goes on at %v instead of %v: %+v", l.From, now, legs)
			}
			now = l.To
		}
		if now != c.Shown().End {
			t.Fatalf("the legs end at %v", now)
		}
	})
}

func TestWhatIsWrittenIsReadBack(t *testing.T) {
	for name, tl := range map[string]Timeline{"bout": example().Timeline(), "reel": exampleReel().Timeline(), "nothing": Bout{}.Timeline()} {
		var b, again bytes.Buffer
		if err := WriteOTIO(&b, tl); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		got, err := ReadOTIO(&b)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if err := WriteOTIO(&again, got); err != nil || again.String() != text {
			t.Errorf("%s: %v (-first +second):\n%s", name, err, cmp.Diff(text, again.String()))
		}
	}
	for _, list := range [][]Chapter{nil, {{"a", 0, s}, {"b = c; #d \\ e", s, 90 * time.Minute}}} {
		var b bytes.Buffer
		if err := WriteChapters(&b, "t=;#\\", list); err != nil {
			t.Fatal(err)
		}
		title, got, err := ReadChapters(&b)
		if d := cmp.Diff(list, got); err != nil || title != "t=;#\\" || d != "" {
			t.Errorf("%v, title %q (-want +got):\n%s", err, title, d)
		}
	}
}

// schemas are the fields of each schema as the document named in the package
// comment lists them. "enabled" and Clip.2's references are from the sample named
// there, a marker's "comment" is of later versions (from memory); readers skip what
// they don't know.
var schemas = map[string][]string{
	"Timeline.1":          {"global_start_time", "metadata", "name", "tracks"},
	"Stack.1":             {"children", "effects", "markers", "metadata", "name", "source_range", "enabled"},
	"Track.1":             {"children", "effects", "kind", "markers", "metadata", "name", "source_range", "enabled"},
	"Clip.2":              {"effects", "markers", "metadata", "name", "source_range", "enabled", "media_references", "active_media_reference_key"},
	"Gap.1":               {"effects", "markers", "metadata", "name", "source_range", "enabled"},
	"ExternalReference.1": {"available_range", "metadata", "name", "target_url"},
	"MissingReference.1":  {"available_range", "metadata", "name"},
	"Marker.2":            {"color", "marked_range", "metadata", "name", "comment"},
	"LinearTimeWarp.1":    {"effect_name", "metadata", "name", "time_scalar"},
	"FreezeFrame.1":       {"effect_name", "metadata", "name", "time_scalar"},
	"RationalTime.1":      {"rate", "value"},
	"TimeRange.1":         {"duration", "start_time"},
}

// TestFieldsAreThoseOfTheSchemas holds every object written against the published
// list of fields, both ways.
func TestFieldsAreThoseOfTheSchemas(t *testing.T) {
	seen := map[string]bool{}
	var walk func(x any)
	walk = func(x any) {
		switch v := x.(type) {
		case []any:
			for _, e := range v {
				walk(e)
			}
		case map[string]any:
			if name, ok := v["OTIO_SCHEMA"].(string); ok {
				seen[name] = true
				var fields []string
				for k := range v {
					if k != "OTIO_SCHEMA" {
						fields = append(fields, k)
					}
				}
				want := slices.Clone(schemas[name])
				slices.Sort(fields)
				slices.Sort(want)
				if d := cmp.Diff(want, fields); d != "" {
					t.Errorf("%s (-published +written):\n%s", name, d)
				}
			}
			for k, e := range v {
				if k != "metadata" {
					walk(e)
				}
			}
		}
	}
	for _, tl := range []Timeline{example().Timeline(), exampleReel().Timeline()} {
		var b bytes.Buffer
		if err := WriteOTIO(&b, tl); err != nil {
			t.Fatal(err)
		}
		var x any
		if err := json.Unmarshal(b.Bytes(), &x); err != nil {
			t.Fatal(err)
		}
		walk(x)
	}
	for name := range schemas {
		if !seen[name] {
			t.Errorf("%s was never written", name)
		}
	}
}

func TestReaderNamesWhatIsWrong(t *testing.T) {
	var b bytes.Buffer
	if err := WriteOTIO(&b, example().Timeline()); err != nil {
		t.Fatal(err)
	}
	good := b.String()
	for _, c := range []struct{ name, old, new, want string }{
		{"no JSON", "{", "[", "no OpenTimelineIO"},
		{"another object", "Timeline.1", "SerializableCollection.1", "the file"},
		{"a transition", "Gap.1", "Transition.1", "track 1, item 1"},
		{"a track of words", `"Video"`, `"Words"`, "track 1"},
		{"no rate", `"rate": 50.0`, `"rate": 0.0`, "track 2"},
		{"negative length", `"value": 1798.0`, `"value": -1.0`, "track 1, item 2"},
		{"reference of another name", `"DEFAULT_MEDIA": {`, `"OTHER": {`, "DEFAULT_MEDIA"},
		{"a generator", "ExternalReference.1", "GeneratorReference.1", "media"},
		{"an old marker", "Marker.2", "Marker.1", "marker"},
		{"no URL", `"file:///film/turn.mp4"`, `""`, "no URL"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(good, c.old) {
				t.Fatalf("%q is not in the file", c.old)
			}
			_, err := ReadOTIO(strings.NewReader(strings.Replace(good, c.old, c.new, 1)))
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("error %v, want one with %q", err, c.want)
			}
		})
	}
	for _, text := range []string{"", "[CHAPTER]\n", ";FFMETADATA1\nSTART=1\n", ";FFMETADATA1\n[CHAPTER]\nSTART=x\n", ";FFMETADATA1\nhello\n"} {
		if _, _, err := ReadChapters(strings.NewReader(text)); err == nil {
			t.Errorf("%q was read as chapters", text)
		}
	}
}

func FuzzReadOTIO(f *testing.F) {
	for _, tl := range []Timeline{example().Timeline(), exampleReel().Timeline()} {
		var b bytes.Buffer
		if err := WriteOTIO(&b, tl); err != nil {
			f.Fatal(err)
		}
		f.Add(b.String())
	}
	f.Fuzz(func(t *testing.T, s string) {
		tl, err := ReadOTIO(strings.NewReader(s))
		if err != nil {
			return
		}
		var b bytes.Buffer
		if err := WriteOTIO(&b, tl); err != nil {
			t.Fatalf("what was read cannot be written: %v", err)
		}
		if _, err := ReadOTIO(&b); err != nil {
			t.Fatalf("what was written cannot be read: %v", err)
		}
	})
}

func FuzzReadChapters(f *testing.F) {
	f.Add(";FFMETADATA1\ntitle=a\\=b\n\n[CHAPTER]\nTIMEBASE=1/1000\nSTART=0\nEND=10\ntitle=x\n")
	f.Fuzz(func(t *testing.T, s string) {
		title, list, err := ReadChapters(strings.NewReader(s))
		if err != nil {
			return
		}
		if err := WriteChapters(&bytes.Buffer{}, title, list); err != nil {
			t.Fatal(err)
		}
	})
}

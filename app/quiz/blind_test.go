package quiz

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"
	"time"
	"unicode/utf16"

	"whistlecut/app"
	"whistlecut/export/demofilm/picture"
	"whistlecut/timeline"
	"whistlecut/timeline/footage/ffmpeg"
)

// TestBlind makes a quiz and reads everything that the group gets: nothing in it
// tells a verdict, a letter, a team, a skater, a bout or a jam, and no picture and no
// sound comes from behind the signal less the margin.
func TestBlind(t *testing.T) {
	paths := filmed(t)
	a := app.New("Trainer")
	b, err := OpenBouts(a, paths)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	got, err := Draw(b, Options{Questions: 6, Seed: 7, Languages: []string{"en"}, Length: 4 * time.Second})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Plan.Items) != 6 {
		t.Fatalf("only %d questions: %+v", len(got.Plan.Items), got.Left)
	}
	dir := filepath.Join(t.TempDir(), "quiz")
	made, err := Make(context.Background(), a, b, got.Plan, dir, MakeOptions{FilmOptions: FilmOptions{Think: time.Second, Once: true}, NoSolution: true})
	if err != nil {
		t.Fatal(err)
	}
	sameForAll(t, got.Plan)
	secrets := secretsOf(t, b, got.Plan)
	readBack(t, dir, secrets)
	f := watch(t, filepath.Join(dir, FilmName))
	f.checkLengths(t, made, got.Plan)
	f.checkFrames(t, b, made, got.Plan)
	f.checkSound(t, b, made, got.Plan)
}

// sameForAll: what is offered to tick depends on what is asked alone.
func sameForAll(t *testing.T, p Plan) {
	t.Helper()
	offered := map[timeline.Question]string{}
	for _, q := range FormOf(p).Questions {
		text := fmt.Sprint(q.Text, q.Choices, q.Codes)
		if was, ok := offered[q.Ask]; ok && was != text {
			t.Errorf("question %d offers %s, another one %s", q.Number, text, was)
		}
		offered[q.Ask] = text
	}
}

// secretsOf is every word that must not reach the group.
func secretsOf(t *testing.T, b *Bouts, p Plan) []string {
	t.Helper()
	var out []string
	add := func(s ...string) {
		for _, x := range s {
			if len(x) >= 3 { // "7" is anywhere; numbers of two digits, too
				out = append(out, x)
			}
		}
	}
	for _, x := range b.list {
		f := x.s.Facts
		add(x.path, filepath.Dir(x.path), filepath.Base(x.path), f.Info.Title, f.Info.Venue)
		for _, team := range f.Teams {
			add(team.Name)
			for _, k := range team.Roster {
				add(k.Name)
				if len(k.Number) == 4 {
					add(string(k.Number))
				}
			}
		}
		for _, m := range f.Footage {
			add(filepath.Base(m.Path), m.Fingerprint)
		}
		for _, j := range x.s.Bout.Jams {
			add(string(j.ID))
		}
	}
	for _, i := range p.Items {
		add(string(i.Example), i.Words, i.Source)
	}
	// Words of solutions.
	add("accepted", "Verdict", "verdict", "back block", "4.1.", "4.2.", "staged", "period", "Period", "plan.json", "seed")
	return out
}

// readBack reads all files that the group gets, names and bytes, what ffprobe finds
// in the film and what stands in its text.
func readBack(t *testing.T, dir string, secrets []string) {
	t.Helper()
	var names []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		switch {
		case err != nil:
			return err
		case d.IsDir() && rel == TrainerDir:
			return fs.SkipDir
		case d.IsDir():
			return nil
		}
		names = append(names, rel)
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for _, text := range texts(t, path, data) {
			for _, s := range secrets {
				// A PDF holds its properties in UTF-16.
				if (bytes.Contains(text.data, []byte(s)) || bytes.Contains(text.data, wide16(s))) && !text.allows(s) {
					t.Errorf("%s (%s) holds %q", rel, text.what, s)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(names)
	if want := []string{FormTableName, FormPageName, FormPaperName, FilmName}; !slices.Equal(names, want) {
		t.Errorf("the group gets %q, want %q", names, want)
	}
}

// wide16 is a text in UTF-16, big end first.
func wide16(s string) (out []byte) {
	for _, u := range utf16.Encode([]rune(s)) {
		out = append(out, byte(u>>8), byte(u))
	}
	return out
}

type text struct {
	what   string
	data   []byte
	legend bool // it may hold the full list of letters with their names
}

// allows says which words a file may hold that are no secret there: the list of all
// penalties, the same for every question.
func (x text) allows(s string) bool {
	return x.legend && slices.Contains([]string{"back block", "4.1.", "4.2."}, s)
}

// texts are the ways in which a file can be read.
func texts(t *testing.T, path string, data []byte) []text {
	t.Helper()
	base := filepath.Base(path)
	switch filepath.Ext(path) {
	case ".mp4":
		out, err := exec.Command("ffprobe", "-v", "error", "-show_format", "-show_streams", "-show_chapters", "-show_programs", "-of", "json", path).Output()
		if err != nil {
			t.Fatal(err)
		}
		var probe struct {
			Chapters []struct{ Tags map[string]string }
			Format   struct{ Tags map[string]string }
			Streams  []struct {
				Type string `json:"codec_type"`
				Tags map[string]string
			}
		}
		if err := json.Unmarshal(out, &probe); err != nil {
			t.Fatal(err)
		}
		for i, c := range probe.Chapters {
			if title := c.Tags["title"]; title != fmt.Sprintf("Question %d", i) && !(i == 0 && title == "Quiz") {
				t.Errorf("chapter %d is called %q", i, title)
			}
		}
		for k, v := range probe.Format.Tags {
			if !slices.Contains([]string{"major_brand", "minor_version", "compatible_brands", "encoder", "title", "creation_time"}, k) || k == "title" && v != "Quiz" {
				t.Errorf("the film is tagged %s=%s", k, v)
			}
		}
		for _, s := range probe.Streams {
			if s.Type == "subtitle" {
				t.Error("the film has subtitles")
			}
		}
		// The film's name is in what ffprobe says.
		return []text{{what: "bytes", data: data}, {what: "ffprobe", data: bytes.ReplaceAll(out, []byte(path), nil)}}
	case ".pdf":
		out, err := exec.Command("pdftotext", path, "-").Output()
		if err != nil {
			t.Logf("pdftotext: %v; only the bytes are read", err)
		}
		return []text{{what: "bytes", data: data}, {what: "text", data: out, legend: true}}
	}
	return []text{{what: base, data: data, legend: true}}
}

// seen is a film of a quiz as decoded: the number each frame carries (-1 for none).
type seen struct {
	numbers []int
	sound   []int16 // one channel, 48 kHz
	fps     float64
}

func watch(t *testing.T, path string) seen {
	t.Helper()
	out := seen{fps: rate}
	var raw bytes.Buffer
	run := func(args ...string) []byte {
		raw.Reset()
		if err := ffmpeg.Default().Run(context.Background(), ffmpeg.Job{Args: args, Stdout: &raw}); err != nil {
			t.Fatal(err)
		}
		return raw.Bytes()
	}
	data := run("-i", path, "-map", "0:v:0", "-fps_mode", "passthrough", "-f", "rawvideo", "-pix_fmt", "gray", "pipe:1")
	for i := 0; i+wide*high <= len(data); i += wide * high {
		n, ok := picture.ReadCode(data[i:i+wide*high], wide, wide, high)
		if !ok {
			n = -1
		}
		out.numbers = append(out.numbers, n)
	}
	data = run("-i", path, "-map", "0:a:0", "-f", "s16le", "-ac", "1", "-ar", "48000", "pipe:1")
	for i := 0; i+1 < len(data); i += 2 {
		out.sound = append(out.sound, int16(uint16(data[i])|uint16(data[i+1])<<8))
	}
	return out
}

// sections of a question in a film made with Once: card and clip.
const perQuestion = 2

func (f seen) checkLengths(t *testing.T, made Made, p Plan) {
	t.Helper()
	if n := 1 + perQuestion*len(p.Items); len(made.Film.Sections) != n {
		t.Fatalf("%d sections instead of %d", len(made.Film.Sections), n)
	}
	first := made.Film.Sections[2].Length
	for i := range p.Items {
		if d := made.Film.Sections[2+perQuestion*i].Length - first; d.Abs() > 1100*time.Millisecond/rate { // a frame
			t.Errorf("question %d runs %v longer than the first", i+1, d)
		}
	}
	if len(f.numbers) != made.Film.Frames {
		t.Errorf("%d frames, %d were made", len(f.numbers), made.Film.Frames)
	}
}

// checkFrames: each clip begins where the plan says and its last picture is before
// the signal by the margin; all of it are the source's frames in order.
func (f seen) checkFrames(t *testing.T, b *Bouts, made Made, p Plan) {
	t.Helper()
	for i, x := range p.Items {
		sec := made.Film.Sections[2+perQuestion*i]
		from := int(sec.Start.Seconds()*f.fps + 0.5)
		list := f.numbers[from : from+sec.Frames]
		last, read := -1, 0
		for _, n := range list {
			if n < 0 {
				continue
			}
			if read++; n < last {
				t.Errorf("question %d goes back from frame %d to %d", x.Number, last, n)
			}
			last = n
		}
		if read < len(list)*9/10 {
			t.Errorf("question %d: only %d of %d frames have a number", x.Number, read, len(list))
			continue
		}
		e := b.Session(x.Bout).Facts.Tags[x.Example]
		want := int(float64(x.Shown.End)/float64(time.Second)*f.fps - 1e-6)
		if float64(want) == x.Shown.End.Seconds()*f.fps {
			want--
		}
		if last != want {
			t.Errorf("question %d ends with frame %d, want %d", x.Number, last, want)
		}
		at := time.Duration(float64(last) / f.fps * float64(time.Second))
		if s := e.Example.Signal.Film; !e.Example.Signal.IsZero() && at >= s-SignalMargin {
			t.Errorf("question %d shows a picture of %v, its signal is at %v", x.Number, at, s)
		}
		if at < e.Place.Film {
			t.Errorf("question %d ends at %v before its moment at %v", x.Number, at, e.Place.Film)
		}
	}
}

// checkSound: the film can be heard, and is silent for the last of each clip and
// after it, so that no whistle's rise is.
func (f seen) checkSound(t *testing.T, b *Bouts, made Made, p Plan) {
	t.Helper()
	level := func(from, to time.Duration) (most int) {
		// Sound coding smears a little over what is silent.
		a, z := int(from.Seconds()*48000), int(to.Seconds()*48000)
		for _, v := range f.sound[min(a, len(f.sound)):min(z, len(f.sound))] {
			most = max(most, int(v), -int(v))
		}
		return most
	}
	heard := 0
	for i := range p.Items {
		sec := made.Film.Sections[2+perQuestion*i]
		clip := p.Items[i].Shown.Duration()
		end := sec.Start + clip
		if level(sec.Start, end-QuietTime) > 300 {
			heard++
		}
		if n := level(end-QuietTime+100*time.Millisecond, sec.Start+sec.Length); n > 8 {
			t.Errorf("question %d is heard (%d) in its last %v", i+1, n, QuietTime)
		}
	}
	if heard < len(p.Items)/2 {
		t.Errorf("only %d of %d clips can be heard at all", heard, len(p.Items))
	}
}

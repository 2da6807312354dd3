package collection

import (
	"context"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

// whiteBout is a bout of a white film with two examples and a sensitive one. The
// right half of the film is hidden from 0.9 s to 3 s, which is over the first.
func whiteBout(t *testing.T) (dir, path string) {
	t.Helper()
	if _, err := ffmpeg.Default().Path(); err != nil {
		t.Skip("ffmpeg is not installed: " + err.Error())
	}
	dir = resolve(t.TempDir())
	film := filepath.Join(dir, "film.mp4")
	err := ffmpeg.Default().Run(t.Context(), ffmpeg.Job{Args: []string{
		"-f", "lavfi", "-i", "color=white:rate=10:size=640x360", "-t", "6", "-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-y", film,
	}})
	if err != nil {
		t.Fatal(err)
	}
	f := timeline.Facts{
		Tags:    map[timeline.ID]timeline.Tag{},
		Footage: map[timeline.ID]timeline.Footage{"f": {ID: "f", Path: film, Camera: "c", Duration: 6 * time.Second}},
	}
	f.Rules, _ = timeline.Edition("2025")
	for id, at := range map[timeline.ID]time.Duration{"one": time.Second, "two": 4 * time.Second, "three": 5 * time.Second} {
		f.Tags[id] = timeline.Tag{ID: id, Kind: timeline.KindExample, Place: timeline.OnFilm("f", at), Example: &timeline.Example{
			Ask: timeline.AskPenalty, End: timeline.OnFilm("f", at+time.Second), Edition: "2025", Sensitive: id == "three",
		}}
	}
	f.Tags["hide"] = hideRight(900*time.Millisecond, 3*time.Second)
	path = filepath.Join(dir, "bout.bout")
	writeBout(t, path, f)
	return dir, path
}

func hideRight(from, to time.Duration) timeline.Tag {
	return timeline.Tag{ID: "hide", Kind: timeline.KindDrawing, Place: timeline.OnFilm("f", from), Drawing: &timeline.Drawing{
		Shape: timeline.ShapeHide, Points: []timeline.Point{{X: 0.5, Y: 0}, {X: 1, Y: 1}}, End: timeline.OnFilm("f", to),
	}}
}

func bright(c color.Color) bool {
	r, g, b, _ := c.RGBA()
	return (r+g+b)/3 > 0xe000
}

// wantHalves checks that the left half of a picture is white, and whether the right one is.
func wantHalves(t *testing.T, what string, img image.Image, right bool) {
	t.Helper()
	b := img.Bounds()
	for y := b.Min.Y + 1; y < b.Max.Y-1; y += 3 {
		for x := b.Min.X + 1; x < b.Max.X-1; x += 3 {
			middle := (b.Min.X + b.Max.X) / 2
			if x > middle-6 && x < middle+6 {
				continue // the edge
			}
			want := x < middle || right
			if bright(img.At(x, y)) != want {
				t.Fatalf("%s: at %d, %d of %v white is %v, want %v", what, x, y, b, !want, want)
			}
		}
	}
}

func openStill(t *testing.T, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := jpeg.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	if w := img.Bounds().Dx(); w != 480 {
		t.Errorf("%s is %d pixels wide", path, w)
	}
	return img
}

func firstFrames(t *testing.T, path string, at ...int) (out []image.Image) {
	t.Helper()
	f, err := footage.Open(t.Context(), nil, path)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range at {
		frames, err := f.Frames(t.Context(), k, k+1, footage.Picture{})
		if err != nil {
			t.Fatal(err)
		}
		img := image.NewRGBA(image.Rect(0, 0, f.Info.Video.Width, f.Info.Video.Height))
		if _, err := frames.Next(img.Pix); err != nil {
			t.Fatal(err)
		}
		frames.Close()
		out = append(out, img)
	}
	return out
}

func example(t *testing.T, x *Index, bout string, id timeline.ID) Entry {
	t.Helper()
	e, ok, err := x.Get(t.Context(), bout, id)
	if err != nil || !ok {
		t.Fatal(id, ok, err)
	}
	return e
}

func TestPictures(t *testing.T) {
	dir, path := whiteBout(t)
	ctx := context.Background()
	x := mustOpen(t, filepath.Join(dir, "index", "collection.db"))
	a := app.New("Ada")
	update := func() {
		t.Helper()
		if _, err := x.Add(ctx, a, path); err != nil {
			t.Fatal(err)
		}
	}
	take := func(o PictureOptions, made int, says string) PictureReport {
		t.Helper()
		r, err := x.MakePictures(ctx, a, o)
		if err != nil || r.Made != made || !strings.Contains(strings.Join(r.Notices, "\n"), says) {
			t.Fatalf("%+v, %v; want %d made and %q", r, err, made, says)
		}
		return r
	}
	update()
	if e := example(t, x, path, "one"); e.Still != "" {
		t.Errorf("a still before one was made: %q", e.Still)
	}
	take(PictureOptions{}, 2, "")
	take(PictureOptions{}, 0, "")
	one, two := example(t, x, path, "one"), example(t, x, path, "two")
	wantHalves(t, "hidden", openStill(t, one.Still), false)
	wantHalves(t, "not hidden", openStill(t, two.Still), true)
	if e := example(t, x, path, "three"); e.Still != "" {
		t.Error("a sensitive example has a still")
	}
	if n := filepath.Base(one.Still); strings.ContainsAny(n, " _") || strings.Contains(n, "one") || strings.Contains(n, "bout") {
		t.Errorf("the name %s tells something", n)
	}

	take(PictureOptions{Previews: true}, 2, "")
	for i, img := range firstFrames(t, example(t, x, path, "one").Preview, 0, 9) {
		wantHalves(t, []string{"preview", "its end"}[i], img, false)
	}
	wantHalves(t, "preview of two", firstFrames(t, example(t, x, path, "two").Preview, 0)[0], true)

	// The other one is hidden, too: its older pictures go at once, even without the film.
	film := filepath.Join(dir, "film.mp4")
	if err := os.Rename(film, film+".away"); err != nil {
		t.Fatal(err)
	}
	edit(t, path, timeline.SetTag(hideRight(900*time.Millisecond, 6*time.Second)))
	update()
	if e := example(t, x, path, "two"); e.Still != "" || e.Preview != "" {
		t.Error("an entry shows what is to be hidden")
	}
	r := take(PictureOptions{}, 0, "film.mp4 is missing")
	if r.Missing != 1 {
		t.Errorf("%+v", r)
	}
	if _, err := os.Stat(two.Still); err == nil {
		t.Error("a picture of what is to be hidden was left")
	}
	if e := example(t, x, path, "one"); e.Still == "" {
		t.Error("the still of an example whose film is away is gone, though nothing changed for it")
	}
	if err := os.Rename(film+".away", film); err != nil {
		t.Fatal(err)
	}
	take(PictureOptions{}, 1, "")
	wantHalves(t, "hidden later", openStill(t, example(t, x, path, "two").Still), false)

	// The limit.
	if n, err := x.DeletePictures(); err != nil || n != 3 {
		t.Errorf("%d deleted, %v", n, err)
	}
	take(PictureOptions{Bytes: roomForStill + 100}, 1, "for 1 examples there was no room")
	if r := take(PictureOptions{Bytes: 100}, 0, "for 2 examples there was no room"); r.Bytes != 0 || r.Missing != 2 {
		t.Errorf("%+v", r)
	}

	// A cancel.
	stopped, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := x.MakePictures(stopped, a, PictureOptions{}); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	take(PictureOptions{}, 2, "")
	if _, err := x.Forget(ctx, path); err != nil {
		t.Fatal(err)
	}
	left, err := os.ReadDir(x.pictureDir())
	if err != nil || len(left) > 0 {
		t.Errorf("%d pictures of a forgotten bout are left (%v)", len(left), err)
	}
}

package app

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/adrg/xdg"

	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/whistle"
)

// Listened is what was heard in one file, in film time.
type Listened struct {
	whistle.Result
	Path        string
	Fingerprint footage.Fingerprint
	// Note says why nothing was or could be heard, or what was odd; empty: all well.
	Note string
}

// NoSound says of a film that there is nothing to hear in it.
const NoSound = "no sound"

// Listen hears the whistles of a film or a sound file. What was heard before is
// taken from the cache. A silent film is no error, nor is damaged sound of which
// something could be read: Note says so.
func (a *App) Listen(ctx context.Context, path string) (Listened, error) {
	return a.listen(ctx, path, whistle.Options{})
}

// leastForJams is how sure a blast must be to help in lining up: less than to be
// shown, since what is known of the bout tells the true from the false.
const leastForJams = 0.12

// listen hears a file with given options.
func (a *App) listen(ctx context.Context, path string, o whistle.Options) (Listened, error) {
	if err := fileThere(path); err != nil {
		return Listened{}, err
	}
	fp, err := footage.FingerprintOf(path)
	if err != nil {
		return Listened{}, err
	}
	out := Listened{Path: path, Fingerprint: fp}
	if r, note, ok := loadHeard(fp, o.Least); ok {
		out.Result, out.Note = r, note
		return out, nil
	}
	var whole bool
	if out.Result, out.Note, whole, err = a.hear(ctx, path, o); err != nil {
		return out, err
	}
	if whole {
		storeHeard(fp, o.Least, out.Result, out.Note)
	}
	return out, nil
}

// hear listens to all of a file. whole is false when the sound broke off for a
// reason that may be gone the next time.
func (a *App) hear(ctx context.Context, path string, o whistle.Options) (r whistle.Result, note string, whole bool, err error) {
	sound, channels, length, err := a.openSound(ctx, path)
	if errors.Is(err, footage.ErrNoSound) {
		return whistle.Result{Length: length, Silent: true}, NoSound, true, nil
	}
	if err != nil {
		return whistle.Result{}, "", false, err
	}
	mono := newMono(sound, channels)
	in := &readable{r: mono}
	r, err = whistle.ListenWith(ctx, in, length, a.Step("listening to "+filepath.Base(path)), o)
	if cerr := sound.Close(); in.failed == nil {
		in.failed = cerr
	}
	if err == nil && (ctx.Err() != nil || r.Length == 0) {
		err = errors.Join(ctx.Err(), in.failed)
	}
	if err != nil {
		return whistle.Result{}, "", false, fmt.Errorf("cannot hear the whistles of %s: %w", filepath.Base(path), err)
	}
	a.Step("listening to " + filepath.Base(path))(1)
	note = mono.note()
	if r.Silent {
		note = NoSound
	} else if r.Clipped > 0.01 {
		note = join(note, fmt.Sprintf("%.0f %% of the sound is clipped", 100*r.Clipped))
	}
	whole = in.failed == nil || length > 0 && r.Length >= length-shortSound
	return r, join(note, brokenNote(r.Length, length, in.failed)), whole, nil
}

// shortSound is how much earlier than the picture sound may end without a word.
const shortSound = 3 * time.Second

// brokenNote says of damaged sound how much of it was heard; film is the length
// of the film, 0 where it is sound alone.
func brokenNote(heard, film time.Duration, failed error) string {
	switch {
	case heard < film-shortSound && failed != nil:
		return fmt.Sprintf("the sound could be read up to %s of %s only (%v)", Clock(heard), Clock(film), failed)
	case heard < film-shortSound:
		return fmt.Sprintf("the sound ends at %s, the picture at %s", Clock(heard), Clock(film))
	case failed != nil:
		return "parts of the sound are damaged; what could be read was heard"
	}
	return ""
}

// readable ends a stream where it breaks off, so that what came before is heard,
// and keeps the reason.
type readable struct {
	r      io.Reader
	failed error
}

func (r *readable) Read(p []byte) (int, error) {
	n, err := r.r.Read(p)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		r.failed, err = err, io.EOF
	}
	return n, err
}

// openSound opens the sound of a film, or of a file that is sound alone, as
// floats at the listener's rate.
func (a *App) openSound(ctx context.Context, path string) (r io.ReadCloser, channels int, length time.Duration, err error) {
	f, err := footage.Open(ctx, a.Runner, path)
	if errors.Is(err, footage.ErrNoPicture) {
		r, err = a.openPlainSound(ctx, path)
		return r, 2, 0, err
	}
	if err != nil {
		return nil, 0, 0, err
	}
	length = f.Index.Duration()
	track, ok := f.Info.Sound()
	if !ok {
		return nil, 0, length, footage.ErrNoSound
	}
	channels = min(max(track.Channels, 1), 2)
	s, err := f.Sound(ctx, footage.SoundFormat{Rate: whistle.Rate, Channels: channels, Float: true}, 0, 0)
	if err != nil {
		return nil, 0, length, err
	}
	return s, channels, length, nil
}

// openPlainSound decodes a file without picture to stereo.
func (a *App) openPlainSound(ctx context.Context, path string) (io.ReadCloser, error) {
	var g ffmpeg.Graph
	s := g.Input(path, ffmpeg.Options{"vn": ""}).Pick("a").
		Filter("aresample", ffmpeg.Options{"osr": whistle.Rate}).
		Filter("aformat", ffmpeg.Options{"sample_fmts": "flt", "channel_layouts": "stereo"})
	g.Pipe(ffmpeg.Options{"f": "f32le", "c:a": "pcm_f32le"}, s)
	args, err := g.Args()
	if err != nil {
		return nil, err
	}
	runner := a.Runner
	if runner == nil {
		runner = ffmpeg.Default()
	}
	return runner.Start(ctx, ffmpeg.Job{Args: args, Doing: "read the sound of", Subject: path})
}

// heardVersion changes whenever listening would hear something else; kept results
// of another version or program build are not used.
const heardVersion = 3

type keptHeard struct {
	Version int            `json:"version"`
	Build   string         `json:"build"`
	Note    string         `json:"note,omitempty"`
	Result  whistle.Result `json:"result"`
}

// build names this very program by its content, so that a newer listener listens
// anew. The revision would not do: builds leave it out (-buildvcs=false).
var build = sync.OnceValue(func() string {
	path, err := os.Executable()
	if err != nil {
		return ""
	}
	fp, err := footage.FingerprintOf(path)
	if err != nil {
		return ""
	}
	return string(fp)
})

func heardPath(fp footage.Fingerprint, least float64) string {
	return filepath.Join(xdg.CacheHome, "whistlecut", "heard", fmt.Sprintf("%s-%.0f.json", fp, 100*least))
}

func loadHeard(fp footage.Fingerprint, least float64) (whistle.Result, string, bool) {
	b, err := os.ReadFile(heardPath(fp, least))
	if err != nil {
		return whistle.Result{}, "", false
	}
	var k keptHeard
	if json.Unmarshal(b, &k) != nil || k.Version != heardVersion || k.Build == "" || k.Build != build() {
		return whistle.Result{}, "", false
	}
	return k.Result, k.Note, true
}

// storeHeard keeps a result; a cache that can't be written costs time later and
// nothing else.
func storeHeard(fp footage.Fingerprint, least float64, r whistle.Result, note string) {
	b, err := json.Marshal(keptHeard{Version: heardVersion, Build: build(), Note: note, Result: r})
	if err != nil {
		return
	}
	path := heardPath(fp, least)
	if os.MkdirAll(filepath.Dir(path), 0o755) != nil {
		return
	}
	_ = ffmpeg.Whole(path, func(temp string) error { return os.WriteFile(temp, b, 0o644) })
}

func join(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "; " + b
}

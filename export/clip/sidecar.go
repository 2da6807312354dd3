package clip

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"whistlecut/timeline/footage/mp4"
)

// sidecarFormat names the form of sidecars.
const sidecarFormat = "whistlecut clip 1"

// Sidecar says what a clip is. It lies beside the clip under the same name,
// ending .json. Times are seconds of film time.
type Sidecar struct {
	Format  string          `json:"format"`
	Clip    string          `json:"clip"`           // file name
	Size    int64           `json:"size,omitempty"` // bytes; 0 while the clip is being made
	Source  SidecarSource   `json:"source"`
	First   int             `json:"first_frame"`
	Last    int             `json:"last_frame"`
	From    float64         `json:"first_time_s"`
	LastAt  float64         `json:"last_time_s"`
	End     float64         `json:"end_s"`
	Method  Method          `json:"method,omitempty"`
	Why     string          `json:"why,omitempty"`
	Encoded int             `json:"encoded_frames"`
	Dropped []string        `json:"dropped,omitempty"`
	Note    string          `json:"note,omitempty"`
	Caption bool            `json:"caption"`
	Moments []SidecarMoment `json:"moments"`
	Request string          `json:"request"` // digest of what was asked for
}

// SidecarSource is the film a clip was cut from.
type SidecarSource struct {
	Path        string `json:"path"`
	Fingerprint string `json:"fingerprint"`
}

// SidecarMoment is one moment a clip shows.
type SidecarMoment struct {
	Kind   string            `json:"kind,omitempty"`
	From   float64           `json:"from_s"`
	To     float64           `json:"to_s"`
	Labels map[string]string `json:"labels,omitempty"`
}

// SidecarPath is where the sidecar of a clip lies.
func SidecarPath(clip string) string {
	return clip[:len(clip)-len(filepath.Ext(clip))] + ".json"
}

// ReadSidecar reads the sidecar of a clip.
func ReadSidecar(clip string) (Sidecar, error) {
	var s Sidecar
	b, err := os.ReadFile(SidecarPath(clip))
	if err != nil {
		return s, err
	}
	if err := json.Unmarshal(b, &s); err != nil || s.Format != sidecarFormat {
		return s, fmt.Errorf("%s is not the sidecar of a clip", filepath.Base(SidecarPath(clip)))
	}
	return s, nil
}

func (s Sidecar) write(clip string) error {
	b, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		return err
	}
	return whole(SidecarPath(clip), func(f *os.File) error {
		_, err := f.Write(append(b, '\n'))
		return err
	})
}

// newSidecar describes a window before it is cut.
func newSidecar(s *Source, w Window, first, last int, name string, b *Batch) Sidecar {
	out := Sidecar{
		Format: sidecarFormat, Clip: name,
		Source: SidecarSource{Path: s.Path, Fingerprint: string(s.file.Fingerprint)},
		First:  first, Last: last, Caption: b.Captions,
	}
	for _, m := range w.Moments {
		out.Moments = append(out.Moments, SidecarMoment{Kind: m.Kind, From: m.From.Seconds(), To: max(m.From, m.To).Seconds(), Labels: m.Labels})
	}
	// What makes a clip another one: the film's content, the frames, what is
	// said and drawn. Not the paths: a moved film is the same film.
	key, err := json.Marshal([]any{out.Format, out.Source.Fingerprint, first, last, b.Captions, b.Reencode, out.Moments})
	if err != nil {
		panic(err) // numbers and strings always encode
	}
	sum := sha256.Sum256(key)
	out.Request = hex.EncodeToString(sum[:12])
	return out
}

// finished fills in what came out.
func (s Sidecar) finished(r Result) (Sidecar, error) {
	st, err := os.Stat(r.Out)
	if err != nil {
		return s, err
	}
	s.Size = st.Size()
	s.First, s.Last = r.FirstFrame, r.LastFrame
	s.From, s.LastAt, s.End = r.FirstTime.Seconds(), r.LastTime.Seconds(), r.End.Seconds()
	s.Method, s.Why, s.Encoded, s.Dropped, s.Note = r.Method, r.Why, r.Encoded, r.Dropped, r.Note
	return s, nil
}

// result is what a kept clip's sidecar says.
func (s Sidecar) result(clip string) Result {
	d := func(v float64) time.Duration { return time.Duration(v*1e9 + 0.5) }
	return Result{
		Out: clip, FirstFrame: s.First, LastFrame: s.Last, FirstTime: d(s.From), LastTime: d(s.LastAt), End: d(s.End),
		Method: s.Method, Why: s.Why, Encoded: s.Encoded, Dropped: s.Dropped, Note: s.Note,
	}
}

// kept says whether a finished clip of the same request lies there already.
func kept(clip, request string) (Sidecar, bool) {
	s, err := ReadSidecar(clip)
	if err != nil || s.Request != request || s.Size == 0 {
		return s, false
	}
	st, err := os.Stat(clip)
	if err != nil || st.Size() != s.Size {
		return s, false
	}
	film, err := mp4.Open(clip)
	return s, err == nil && film.Short == nil
}

// ours says whether what lies under a clip's name, if anything, was made by a
// batch and may be replaced.
func ours(clip string) bool {
	if _, err := os.Stat(clip); errors.Is(err, os.ErrNotExist) {
		if _, err := os.Stat(SidecarPath(clip)); errors.Is(err, os.ErrNotExist) {
			return true
		}
	}
	s, err := ReadSidecar(clip)
	return err == nil && s.Clip == filepath.Base(clip)
}

package interchange

import (
	"math"
	"net/url"
	"path/filepath"
	"strings"
	"time"
)

// Rate is frames a second as a fraction, such as 30000/1001.
type Rate struct{ Num, Den int64 }

// Float is the rate as a number; 30 where it is not known.
func (r Rate) Float() float64 {
	if r.Num <= 0 || r.Den <= 0 {
		return 30
	}
	return float64(r.Num) / float64(r.Den)
}

// frame is the number of the frame nearest to a time.
func (r Rate) frame(d time.Duration) float64 { return math.Round(d.Seconds() * r.Float()) }

func (r Rate) time(frames float64) Time {
	return Time{"RationalTime.1", Number(r.Float()), Number(frames)}
}

// span is the frames from one time to another; both ends are rounded, so that
// spans that touch still do.
func (r Rate) span(from, to time.Duration) Range {
	a, b := r.frame(from), r.frame(to)
	return Range{"TimeRange.1", r.time(max(b-a, 0)), r.time(a)}
}

// Film is a video file.
type Film struct {
	Path    string // absolute
	Camera  string
	Rate    Rate
	Length  time.Duration // 0 when not known
	Missing bool          // it is not where it was: named, and not referred to
	// Start is when it starts on a clock that all placed films share.
	Start  time.Duration
	Placed bool
	Marks  []Mark // in film time
}

// Mark is something marked on a film or in a reel.
type Mark struct {
	At, End time.Duration // End == At for an instant
	Kind    MarkKind
	Name    string // "P1 J7", "penalty B"
	Note    string
	// For tables.
	Period, Jam int // 0 for none
	Side        string
	Skater      string
}

// MarkKind is what a mark is of.
type MarkKind string

// The kinds of mark that are given away.
const (
	MarkJam     MarkKind = "jam"
	MarkPenalty MarkKind = "penalty"
	MarkOwn     MarkKind = "mark"
)

// colours are those of the marker schema (its MarkerColor names).
var colours = map[MarkKind]string{MarkJam: "GREEN", MarkPenalty: "RED", MarkOwn: "YELLOW"}

func (f *Film) marker(m Mark) Marker {
	x := Marker{
		Schema: "Marker.2", Name: m.Name, Color: colours[m.Kind], Range: f.Rate.span(m.At, max(m.At, m.End)),
		Comment: m.Note, Metadata: ours("kind", string(m.Kind), "side", m.Side, "skater", m.Skater),
	}
	if x.Color == "" {
		x.Color = "WHITE"
	}
	return x
}

// media refers to the film.
func (f *Film) media() map[string]Media {
	m := Media{Schema: "ExternalReference.1", Name: filepath.Base(f.Path), URL: fileURL(f.Path), Metadata: Metadata{}}
	if f.Missing {
		m.Schema, m.URL = "MissingReference.1", ""
		m.Metadata = ours("path", f.Path)
	}
	if f.Length > 0 {
		r := f.Rate.span(0, f.Length)
		m.Available = &r
	}
	return map[string]Media{defaultMedia: m}
}

// fileURL is an absolute path as a URL (RFC 8089).
func fileURL(path string) string {
	p := filepath.ToSlash(path)
	if !strings.HasPrefix(p, "/") {
		p = "/" + p // a drive's letter
	}
	return (&url.URL{Scheme: "file", Path: p}).String()
}

// ours is metadata of pairs of names and values; empty values are left out.
func ours(pairs ...string) Metadata {
	own := map[string]any{}
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			own[pairs[i]] = pairs[i+1]
		}
	}
	if len(own) == 0 {
		return Metadata{}
	}
	return Metadata{"whistlecut": own}
}

func gap(name string, length Range) Item {
	return Item{Schema: "Gap.1", Name: name, Source: &length, Enabled: true, Metadata: Metadata{}}
}

func videoTrack(name string, items []Item) Track {
	return Track{Schema: "Track.1", Name: name, Children: items, Kind: "Video", Enabled: true, Metadata: Metadata{}}
}

func timelineOf(name string, tracks []Track) Timeline {
	return Timeline{
		Schema: "Timeline.1", Name: name, Metadata: Metadata{},
		Tracks: Stack{Schema: "Stack.1", Name: "tracks", Enabled: true, Children: tracks, Metadata: Metadata{}},
	}
}

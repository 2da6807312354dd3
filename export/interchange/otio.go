package interchange

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// Number is a JSON number written with a point, as the schema's times are.
type Number float64

// MarshalJSON writes the shortest text that reads back the same.
func (n Number) MarshalJSON() ([]byte, error) {
	f := float64(n)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return nil, fmt.Errorf("%v is no time", f)
	}
	s := strconv.FormatFloat(f, 'f', -1, 64)
	if !strings.Contains(s, ".") {
		s += ".0"
	}
	return []byte(s), nil
}

// Metadata is what a program keeps beside an object; ours lies under "whistlecut".
type Metadata map[string]any

// Time is RationalTime.1: Value frames at Rate frames a second.
type Time struct {
	Schema string `json:"OTIO_SCHEMA"`
	Rate   Number `json:"rate"`
	Value  Number `json:"value"`
}

// Range is TimeRange.1.
type Range struct {
	Schema   string `json:"OTIO_SCHEMA"`
	Duration Time   `json:"duration"`
	Start    Time   `json:"start_time"`
}

// Marker is Marker.2. Its range is on the clock of the item it belongs to: media
// time on a clip.
type Marker struct {
	Schema   string   `json:"OTIO_SCHEMA"`
	Metadata Metadata `json:"metadata"`
	Name     string   `json:"name"`
	Color    string   `json:"color"` // RED, GREEN...
	Range    Range    `json:"marked_range"`
	Comment  string   `json:"comment"`
}

// Effect is LinearTimeWarp.1 or FreezeFrame.1. It does not change how long an item
// is: its source range starts in the media and lasts as long as it is shown.
type Effect struct {
	Schema     string   `json:"OTIO_SCHEMA"`
	Metadata   Metadata `json:"metadata"`
	Name       string   `json:"name"`
	EffectName string   `json:"effect_name"`
	Scalar     Number   `json:"time_scalar"` // 0.5 is half as fast; 0 on a held frame
}

// Media is ExternalReference.1, or MissingReference.1 without URL.
type Media struct {
	Schema    string   `json:"OTIO_SCHEMA"`
	Metadata  Metadata `json:"metadata"`
	Name      string   `json:"name"`
	Available *Range   `json:"available_range"`
	URL       string   `json:"target_url,omitempty"`
}

// Item is Clip.2 or Gap.1; a gap has no media.
type Item struct {
	Schema   string           `json:"OTIO_SCHEMA"`
	Metadata Metadata         `json:"metadata"`
	Name     string           `json:"name"`
	Source   *Range           `json:"source_range"`
	Effects  []Effect         `json:"effects"`
	Markers  []Marker         `json:"markers"`
	Enabled  bool             `json:"enabled"`
	Media    map[string]Media `json:"media_references,omitempty"`
	Active   string           `json:"active_media_reference_key,omitempty"`
}

// Track is Track.1.
type Track struct {
	Schema   string   `json:"OTIO_SCHEMA"`
	Metadata Metadata `json:"metadata"`
	Name     string   `json:"name"`
	Source   *Range   `json:"source_range"`
	Effects  []Effect `json:"effects"`
	Markers  []Marker `json:"markers"`
	Enabled  bool     `json:"enabled"`
	Children []Item   `json:"children"`
	Kind     string   `json:"kind"` // Video or Audio
}

// Stack is Stack.1: tracks above each other, the lowest first.
type Stack struct {
	Schema   string   `json:"OTIO_SCHEMA"`
	Metadata Metadata `json:"metadata"`
	Name     string   `json:"name"`
	Source   *Range   `json:"source_range"`
	Effects  []Effect `json:"effects"`
	Markers  []Marker `json:"markers"`
	Enabled  bool     `json:"enabled"`
	Children []Track  `json:"children"`
}

// Timeline is Timeline.1.
type Timeline struct {
	Schema      string   `json:"OTIO_SCHEMA"`
	Metadata    Metadata `json:"metadata"`
	Name        string   `json:"name"`
	GlobalStart *Time    `json:"global_start_time"`
	Tracks      Stack    `json:"tracks"`
}

// defaultMedia is the name under which a clip's only reference stands.
const defaultMedia = "DEFAULT_MEDIA"

// WriteOTIO writes a timeline as OpenTimelineIO JSON (.otio).
func WriteOTIO(w io.Writer, t Timeline) error {
	if err := check(&t); err != nil {
		return err
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "    ")
	e.SetEscapeHTML(false)
	if err := e.Encode(t); err != nil {
		return fmt.Errorf("cannot write the timeline: %w", err)
	}
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("cannot write the timeline: %w", err)
	}
	return nil
}

// largest is more than the timeline of any bout; reading stops there.
const largest = 64 << 20

// ReadOTIO reads timelines of the kind that WriteOTIO writes: video and audio
// tracks of clips and gaps. Anything else in a file is an error that names it.
func ReadOTIO(r io.Reader) (Timeline, error) {
	data, err := io.ReadAll(io.LimitReader(r, largest+1))
	if err != nil {
		return Timeline{}, fmt.Errorf("cannot read the timeline: %w", err)
	}
	if len(data) > largest {
		return Timeline{}, fmt.Errorf("the timeline is larger than %d MB", largest>>20)
	}
	var t Timeline
	if err := json.Unmarshal(data, &t); err != nil {
		return Timeline{}, fmt.Errorf("this is no OpenTimelineIO file that can be read here: %w", err)
	}
	if err := check(&t); err != nil {
		return Timeline{}, err
	}
	return t, nil
}

// check holds a timeline against the schemas and fills what may be left out.
func check(t *Timeline) error {
	c := checker{}
	c.schema("the file", t.Schema, "Timeline.1")
	c.schema("tracks", t.Tracks.Schema, "Stack.1")
	fill(&t.Metadata, &t.Tracks.Metadata)
	c.lists("tracks", &t.Tracks.Effects, &t.Tracks.Markers)
	if t.GlobalStart != nil {
		c.time("global_start_time", *t.GlobalStart)
	}
	if t.Tracks.Children == nil {
		t.Tracks.Children = []Track{}
	}
	c.span("tracks", t.Tracks.Source)
	for i := range t.Tracks.Children {
		k, at := &t.Tracks.Children[i], fmt.Sprintf("track %d", i+1)
		c.schema(at, k.Schema, "Track.1")
		fill(&k.Metadata)
		c.span(at, k.Source)
		c.lists(at, &k.Effects, &k.Markers)
		if k.Children == nil {
			k.Children = []Item{}
		}
		if k.Kind != "Video" && k.Kind != "Audio" {
			c.fail(at, "its kind is %q; want Video or Audio", k.Kind)
		}
		for n := range k.Children {
			c.item(fmt.Sprintf("%s, item %d", at, n+1), &k.Children[n])
		}
	}
	return c.err
}

type checker struct{ err error }

func (c *checker) fail(at, format string, args ...any) {
	if c.err == nil {
		c.err = fmt.Errorf("%s: %s", at, fmt.Sprintf(format, args...))
	}
}

func (c *checker) schema(at, got string, want ...string) {
	for _, w := range want {
		if got == w {
			return
		}
	}
	c.fail(at, "its schema is %q; want %s", got, strings.Join(want, " or "))
}

func (c *checker) item(at string, x *Item) {
	c.schema(at, x.Schema, "Clip.2", "Gap.1")
	fill(&x.Metadata)
	c.span(at, x.Source)
	c.lists(at, &x.Effects, &x.Markers)
	switch {
	case x.Schema == "Gap.1":
		if x.Source == nil {
			c.fail(at, "the gap has no length")
		}
		if len(x.Media) > 0 {
			c.fail(at, "a gap has no media")
		}
	case len(x.Media) == 0:
		c.fail(at, "the clip has no media")
	default:
		if _, ok := x.Media[x.Active]; !ok {
			c.fail(at, "its media %q is not among its references", x.Active)
		}
	}
	for name, m := range x.Media {
		c.schema(at+", media", m.Schema, "ExternalReference.1", "MissingReference.1")
		if m.Schema == "ExternalReference.1" && m.URL == "" {
			c.fail(at, "the reference has no URL")
		}
		fill(&m.Metadata)
		c.span(at+", media", m.Available)
		x.Media[name] = m
	}
}

func (c *checker) lists(at string, effects *[]Effect, markers *[]Marker) {
	if *effects == nil {
		*effects = []Effect{}
	}
	if *markers == nil {
		*markers = []Marker{}
	}
	for i := range *effects {
		e := &(*effects)[i]
		c.schema(at+", effect", e.Schema, "LinearTimeWarp.1", "FreezeFrame.1")
		fill(&e.Metadata)
	}
	for i := range *markers {
		m := &(*markers)[i]
		c.schema(at+", marker", m.Schema, "Marker.2")
		fill(&m.Metadata)
		c.span(at+", marker", &m.Range)
	}
}

func (c *checker) span(at string, r *Range) {
	if r == nil {
		return
	}
	c.schema(at+", range", r.Schema, "TimeRange.1")
	c.time(at, r.Start)
	c.time(at, r.Duration)
	if r.Duration.Value < 0 {
		c.fail(at, "its length is %v frames", float64(r.Duration.Value))
	}
}

func (c *checker) time(at string, t Time) {
	c.schema(at+", time", t.Schema, "RationalTime.1")
	if !(t.Rate > 0 && t.Rate <= 1e6) || math.Abs(float64(t.Value)) > 1e12 {
		c.fail(at, "%v frames at %v a second are no time", float64(t.Value), float64(t.Rate))
	}
}

func fill(list ...*Metadata) {
	for _, m := range list {
		if *m == nil {
			*m = Metadata{}
		}
	}
}

package timeline

import "time"

// Moment is one thing found: a tag, a jam or a stretch of a situation, with the
// fields a caption or a list needs.
type Moment struct {
	// Key is stable for the same tag or stretch of the same facts.
	Key       string        `json:"key"`
	Kind      Kind          `json:"kind,omitempty"`      // of the tag; empty for a situation
	Situation SituationKind `json:"situation,omitempty"` // empty for a tag
	Jam       ID            `json:"jam,omitempty"`       // empty for a tag without a jam
	Period    int           `json:"period,omitempty"`
	Number    int           `json:"number,omitempty"` // of the jam
	Side      Side          `json:"side,omitempty"`
	Who       Number        `json:"who,omitempty"`
	// Skater is Who with her own side: in a power jam she is of the other one.
	Skater SkaterRef `json:"skater,omitzero"`
	Name   string    `json:"name,omitempty"` // from the roster
	Role   Role      `json:"role,omitempty"`
	Place  Place     `json:"place"`
	// Range is jam time: a moment has Start == End; Timed is false when only the jam is known.
	Range TimeRange `json:"range"`
	Timed bool      `json:"timed"`
	// Clock is the period clock at Range.Start.
	Clock      time.Duration `json:"clock,omitempty"`
	ClockKnown bool          `json:"clock_known,omitempty"`
	Score      [2]Range      `json:"score"` // at Range.Start, or at the jam's start where trips are not timed
	Code       string        `json:"code,omitempty"`
	Points     *Range        `json:"points,omitempty"` // of a trip, or of the side's jam
	N          int           `json:"n,omitempty"`      // short-handed by
	Note       string        `json:"note,omitempty"`
	Tags       []ID          `json:"tags,omitempty"` // it rests on
	Why        []Reason      `json:"why,omitempty"`

	State FilmState `json:"state"`
	// Film is the place in each file that shows it, the best one first.
	Film []FilmStretch `json:"film,omitempty"`
}

// FilmState says whether a moment can be shown.
type FilmState string

// The states of a moment on film.
const (
	// FilmShown: the whole of it is on film, of one camera at least.
	FilmShown FilmState = "on film"
	// FilmPartly: a part of it is.
	FilmPartly FilmState = "partly on film"
	// FilmNone: it happened, and no file shows it.
	FilmNone FilmState = "not on film"
	// FilmNoTime: only its jam is known. Film then shows the jam, if any file does.
	FilmNoTime FilmState = "time not known"
)

// FilmStretch is a part of one file that shows a moment. From == To for an instant.
type FilmStretch struct {
	Camera  string        `json:"camera"`
	Footage ID            `json:"footage"`
	From    time.Duration `json:"from"`
	To      time.Duration `json:"to"`
}

// FilmRange lists the parts of files that show a stretch of a jam (jam time), by
// camera, and whether one camera shows all of it. An instant has Start == End.
func (a Alignment) FilmRange(jam ID, r TimeRange) (parts []FilmStretch, whole bool) {
	done := map[string]bool{}
	for _, spot := range a.Jams[jam] {
		s := &a.Stretches[spot.Stretch]
		from, to := spot.Start+scaled(r.Start, 1/s.Scale), spot.Start+scaled(r.End, 1/s.Scale)
		got := a.cut(s, from, to)
		var length time.Duration
		for _, p := range got {
			length += p.To - p.From
		}
		full := len(got) > 0 && length >= to-from
		if done[s.Camera] && !full {
			continue
		}
		done[s.Camera] = done[s.Camera] || full
		parts = append(parts, got...)
		whole = whole || full
	}
	return parts, whole
}

// cut is the part of each file of a stretch within a range of stretch time.
func (a Alignment) cut(s *Stretch, from, to time.Duration) (out []FilmStretch) {
	for _, id := range s.Files {
		f := a.Files[id]
		lo, hi := time.Duration(0), forever
		if f.Length > 0 {
			hi = f.Length
		}
		if f.Range != (TimeRange{}) {
			lo, hi = max(lo, f.Range.Start), min(hi, f.Range.End)
		}
		x, y := max(from-f.From, lo), min(to-f.From, hi)
		if x < y || x == y && from == to && f.Covers(x) {
			out = append(out, FilmStretch{s.Camera, id, x, y})
		}
	}
	return out
}

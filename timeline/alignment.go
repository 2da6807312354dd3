package timeline

import (
	"sort"
	"time"
)

// Alignment maps film time to real time and to jam time. Each unbroken stretch
// of film (one file, or files joined without a gap) has one offset and one
// scale. A file is taken to be unbroken: an edited film must be given as
// several files or ranges.
//
// Stretches that can be related to each other, because they show a common jam
// edge, share a group; between groups nothing is known, and Alignment says so
// instead of guessing.
type Alignment struct {
	Stretches []Stretch       // by camera, then order
	Files     map[ID]FileSpot // where each footage file lies
	Jams      map[ID][]JamSpot
	// Group time of jam starts and ends, where a stretch shows them.
	Starts map[ID]GroupTime
	Ends   map[ID]GroupTime
}

// GroupTime is a real time on the common clock of one group of stretches.
type GroupTime struct {
	Group int
	At    time.Duration
}

// Stretch is a run of film without a gap. Its own clock (stretch time) starts
// at the first file's first shown frame.
type Stretch struct {
	Camera string
	Files  []ID
	// Group is the stretch's group, or -1 when nothing anchors it.
	Group int
	// Group time = Offset + Scale * stretch time. Scale is within a few hundred
	// parts per million of 1 (clock drift between cameras).
	Offset time.Duration
	Scale  float64
	// Anchors is how many jam edges pin the stretch; Residual the root mean square
	// of what they differ from the line.
	Anchors  int
	Residual time.Duration
	// Jams are the jams known to start in, before or after the stretch, by start.
	Jams []StretchJam
}

// StretchJam is one jam on a stretch's own clock.
type StretchJam struct {
	Jam        ID
	Start      time.Duration // stretch time of the start whistle
	Direct     bool          // pinned by an anchor of this stretch, not carried over from another
	Confidence float64       // of the anchor: 1 set by hand
}

// FileSpot is where a file lies in its stretch.
type FileSpot struct {
	Stretch int
	From    time.Duration // stretch time of the file's first shown frame
	Length  time.Duration // 0: not known
	Range   TimeRange     // part of the file that belongs to the bout; zero: all
}

// JamSpot is one stretch that shows, or could show, a jam.
type JamSpot struct {
	Stretch    int
	Start      time.Duration // stretch time
	Direct     bool
	Confidence float64
}

// FilmSpot is one place on film.
type FilmSpot struct {
	Camera  string        `json:"camera"`
	Footage ID            `json:"footage"`
	Film    time.Duration `json:"film"`
}

// Covers reports whether the file shows film time t as part of the bout.
func (f FileSpot) Covers(t time.Duration) bool {
	if t < 0 || f.Length > 0 && t >= f.Length {
		return false
	}
	return f.Range == TimeRange{} || f.Range.Contains(t)
}

// FilmOf is the film place of a place: the best anchored file first. It is not
// ok for a place without a time, and for a moment that no file shows.
func (a Alignment) FilmOf(p Place) (footage ID, film time.Duration, ok bool) {
	s, ok := a.first(p, "", false)
	return s.Footage, s.Film, ok
}

// FilmOn is FilmOf for one camera.
func (a Alignment) FilmOn(camera string, p Place) (footage ID, film time.Duration, ok bool) {
	s, ok := a.first(p, camera, true)
	return s.Footage, s.Film, ok
}

func (a Alignment) first(p Place, camera string, only bool) (FilmSpot, bool) {
	for _, s := range a.Films(p) {
		if !only || s.Camera == camera {
			return s, true
		}
	}
	return FilmSpot{}, false
}

// Films lists one film place per camera that shows the place: the file it was placed on or the
// best anchored one first, then the other cameras.
func (a Alignment) Films(p Place) []FilmSpot {
	var out []FilmSpot
	add := func(stretch int, at time.Duration) {
		if s, ok := a.fileAt(stretch, at); ok {
			for _, o := range out {
				if o.Camera == s.Camera {
					return
				}
			}
			out = append(out, s)
		}
	}
	switch {
	case p.Footage != "":
		f, ok := a.Files[p.Footage]
		if !ok {
			return nil
		}
		if f.Covers(p.Film) {
			out = append(out, FilmSpot{a.Stretches[f.Stretch].Camera, p.Footage, p.Film})
		}
		home := a.Stretches[f.Stretch]
		if home.Group < 0 {
			return out
		}
		// The jam it lies in carries it over best; without one, the group's clock.
		if j, off, ok := a.before(f.Stretch, f.From+p.Film); ok {
			for _, spot := range a.Jams[j] {
				if spot.Direct {
					add(spot.Stretch, spot.Start+scaled(off, 1/a.Stretches[spot.Stretch].Scale))
				}
			}
		}
		at := home.group(f.From + p.Film)
		for i, s := range a.Stretches {
			if s.Group == home.Group {
				add(i, s.own(at))
			}
		}
	case p.InJam:
		for _, spot := range a.Jams[p.Jam] {
			add(spot.Stretch, spot.Start+scaled(p.Offset, 1/a.Stretches[spot.Stretch].Scale))
		}
	}
	return out
}

// JamAt is the last jam that started at or before a film time, and the jam time
// there. The jam may have ended already: compare with its duration.
func (a Alignment) JamAt(footage ID, film time.Duration) (jam ID, offset time.Duration, ok bool) {
	f, ok := a.Files[footage]
	if !ok {
		return "", 0, false
	}
	return a.before(f.Stretch, f.From+film)
}

// NextJam is the first jam that starts after a film time, and how long until then.
func (a Alignment) NextJam(footage ID, film time.Duration) (jam ID, in time.Duration, ok bool) {
	f, ok := a.Files[footage]
	if !ok {
		return "", 0, false
	}
	s := a.Stretches[f.Stretch]
	at := f.From + film
	i := sort.Search(len(s.Jams), func(i int) bool { return s.Jams[i].Start > at })
	if i == len(s.Jams) {
		return "", 0, false
	}
	return s.Jams[i].Jam, scaled(s.Jams[i].Start-at, s.Scale), true
}

// OffsetIn is the jam time of a film time in one given jam, negative before its
// start whistle.
func (a Alignment) OffsetIn(jam, footage ID, film time.Duration) (time.Duration, bool) {
	f, ok := a.Files[footage]
	if !ok {
		return 0, false
	}
	for _, spot := range a.Jams[jam] {
		if spot.Stretch == f.Stretch {
			return scaled(f.From+film-spot.Start, a.Stretches[f.Stretch].Scale), true
		}
	}
	return 0, false
}

// GroupAt is the real time of a film time on its group's clock.
func (a Alignment) GroupAt(footage ID, film time.Duration) (GroupTime, bool) {
	f, ok := a.Files[footage]
	if !ok || a.Stretches[f.Stretch].Group < 0 {
		return GroupTime{}, false
	}
	s := a.Stretches[f.Stretch]
	return GroupTime{s.Group, s.group(f.From + film)}, true
}

// Confidence is that of a jam's best anchor on film: 1 set by hand, 0 none.
func (a Alignment) Confidence(jam ID) float64 {
	best := 0.0
	for _, spot := range a.Jams[jam] {
		if spot.Direct {
			best = max(best, spot.Confidence)
		}
	}
	return best
}

func (a Alignment) before(stretch int, at time.Duration) (ID, time.Duration, bool) {
	s := a.Stretches[stretch]
	i := sort.Search(len(s.Jams), func(i int) bool { return s.Jams[i].Start > at }) - 1
	if i < 0 {
		return "", 0, false
	}
	return s.Jams[i].Jam, scaled(at-s.Jams[i].Start, s.Scale), true
}

func (a Alignment) fileAt(stretch int, at time.Duration) (FilmSpot, bool) {
	s := a.Stretches[stretch]
	for _, id := range s.Files {
		f := a.Files[id]
		if f.Covers(at - f.From) {
			return FilmSpot{s.Camera, id, at - f.From}, true
		}
	}
	return FilmSpot{}, false
}

func (s Stretch) group(at time.Duration) time.Duration { return s.Offset + scaled(at, s.Scale) }

func (s Stretch) own(group time.Duration) time.Duration {
	return scaled(group-s.Offset, 1/s.Scale)
}

// scaled multiplies without losing nanoseconds at scale 1.
func scaled(d time.Duration, by float64) time.Duration {
	if by == 1 {
		return d
	}
	return d + time.Duration(float64(d)*(by-1))
}

package app

import (
	"cmp"
	"encoding/json"
	"slices"
	"time"

	"whistlecut/timeline"
)

// SureEnough is the confidence from which a jam placed by ear needs no person to
// look at it, about one in ten wrong at worst (common practice, no source).
const SureEnough = 0.9

// JamStart is where a jam starts on film, and how sure that is.
type JamStart struct {
	Jam    timeline.ID
	Period int
	Number int
	// Footage and Film are the start as it stands; Footage is empty when the jam has
	// no place on film.
	Footage    timeline.ID
	Film       time.Duration
	Confidence float64 // 0..1
	Hand       bool    // set by a person
	NotHere    bool    // a person said that it is not there
}

// Doubtful reports whether a person should look at the place.
func (j JamStart) Doubtful() bool { return !j.Hand && !j.NotHere && j.Confidence < SureEnough }

// JamStarts lists all jams with their place on film, in the order of the bout.
func (s *Session) JamStarts() []JamStart {
	out := make([]JamStart, 0, len(s.Bout.Jams))
	for _, j := range s.Bout.Jams {
		x := JamStart{Jam: j.ID, Period: j.Period, Number: j.Number}
		take := func(footage timeline.ID, film time.Duration, confidence float64, hand bool) {
			f, there := s.Facts.Footage[footage]
			if !there || x.Hand && !hand {
				return
			}
			// Of equals the first camera by name, so that the answer is always the same.
			better := x.Footage == "" || hand && !x.Hand || confidence > x.Confidence ||
				confidence == x.Confidence && f.Camera < s.Facts.Footage[x.Footage].Camera
			if better {
				x.Footage, x.Film, x.Confidence, x.Hand = footage, film, confidence, hand
			}
		}
		if t := s.Facts.Tags[j.ID]; t.Place.Footage != "" {
			if t.Source == fromListener {
				take(t.Place.Footage, t.Place.Film, t.Confidence, false)
			} else {
				take(t.Place.Footage, t.Place.Film, 1, true)
			}
		}
		for _, m := range s.Facts.Marks {
			if m.Jam != j.ID || m.Edge != timeline.EdgeStart {
				continue
			}
			if m.Hand {
				take(m.Footage, m.Film, 1, true)
			} else {
				take(m.Footage, m.Film, m.Confidence, false)
			}
		}
		if x.Footage == "" { // placed through another jam's edge, if at all
			x.Footage, x.Film, _ = s.Bout.Alignment.FilmOf(timeline.InJam(j.ID, 0))
		}
		if away, said := s.saidAway(j.ID); said && !x.Hand {
			x.NotHere = x.Footage == "" || nearAny(away, x.Footage, x.Film)
		}
		out = append(out, x)
	}
	return out
}

// DoubtfulJams lists the jams whose start a person should look at: placed ones
// first, the least sure at the head, then those that were not found. A bout whose
// film was never lined up has none.
func (s *Session) DoubtfulJams() []JamStart {
	all := s.JamStarts()
	if !slices.ContainsFunc(all, func(j JamStart) bool { return j.Footage != "" }) {
		return nil
	}
	all = slices.DeleteFunc(all, func(j JamStart) bool { return !j.Doubtful() })
	slices.SortStableFunc(all, func(x, y JamStart) int {
		if (x.Footage == "") != (y.Footage == "") {
			if x.Footage == "" {
				return 1
			}
			return -1
		}
		return cmp.Compare(x.Confidence, y.Confidence)
	})
	return all
}

// StartByHand are the edits that pin a jam's start to a film time, as a hard fact.
// Hand marks of the same start on other files of that camera go, and so does a
// word that the jam was not there.
func (s *Session) StartByHand(jam, footage timeline.ID, film time.Duration) []timeline.Change {
	m := timeline.SyncMark{
		ID: timeline.ImportID("hand", string(jam), string(timeline.EdgeStart), string(footage)), Jam: jam,
		Edge: timeline.EdgeStart, Footage: footage, Film: max(film, 0), Hand: true,
	}
	changes := []timeline.Change{timeline.SetMark(m)}
	camera := s.Facts.Footage[footage].Camera
	for id, o := range s.Facts.Marks {
		if id != m.ID && o.Hand && o.Jam == jam && o.Edge == timeline.EdgeStart && s.Facts.Footage[o.Footage].Camera == camera {
			changes = append(changes, timeline.DeleteMark(id))
		}
	}
	if _, said := s.Facts.Resolutions[awayKey(jam)]; said {
		changes = append(changes, timeline.DeleteResolution(awayKey(jam)))
	}
	return changes
}

// NotThere are the edits that say a jam does not start where it is placed: its
// marks go, and lining up again does not put it back there. A jam that the
// listener proposed goes altogether.
func (s *Session) NotThere(j JamStart) []timeline.Change {
	var changes []timeline.Change
	for id, m := range s.Facts.Marks {
		if m.Jam == j.Jam {
			changes = append(changes, timeline.DeleteMark(id))
		}
	}
	if t := s.Facts.Tags[j.Jam]; t.Source == fromListener {
		return append(changes, timeline.DeleteTag(j.Jam))
	}
	away, _ := s.saidAway(j.Jam)
	if j.Footage != "" {
		away = append(away, timeline.OnFilm(j.Footage, j.Film))
	}
	note, err := json.Marshal(away)
	if err != nil {
		return nil
	}
	return append(changes, timeline.SetResolution(timeline.Resolution{ID: awayKey(j.Jam), Verdict: verdictAway, Note: string(note)}))
}

// verdictAway is what a person said of a jam's place by ear.
const verdictAway = "not there on film"

// nearAway is how near to a place that a person refused another counts as the same.
const nearAway = 1500 * time.Millisecond

func awayKey(jam timeline.ID) timeline.ID { return "film of " + jam }

// saidAway are the places at which a person said a jam does not start, and
// whether anything was said.
func (s *Session) saidAway(jam timeline.ID) ([]timeline.Place, bool) {
	r, ok := s.Facts.Resolutions[awayKey(jam)]
	if !ok || r.Verdict != verdictAway {
		return nil, false
	}
	var out []timeline.Place
	if json.Unmarshal([]byte(r.Note), &out) != nil {
		return nil, true
	}
	return out, true
}

// refused reports whether a person said that a jam does not start at a place.
func (s *Session) refused(jam, footage timeline.ID, film time.Duration) bool {
	away, _ := s.saidAway(jam)
	return nearAny(away, footage, film)
}

func nearAny(away []timeline.Place, footage timeline.ID, film time.Duration) bool {
	return slices.ContainsFunc(away, func(p timeline.Place) bool {
		return p.Footage == footage && (p.Film-film).Abs() < nearAway
	})
}

package print

import (
	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// Speech says numbers in the words and the form of the printed pages, for what
// shows them elsewhere. It adds no language: see Options.
type Speech struct{ w words }

// Speak is the speech of a language.
func Speak(language string) Speech { return Speech{Options{Language: language}.words()} }

// T is a text of the printed pages.
func (s Speech) T(english string) string { return s.w.t(english) }

// Range writes a range, a sure one as one number.
func (s Speech) Range(r timeline.Range) string { return s.w.rng(r) }

// Points writes points, or that they are not known.
func (s Speech) Points(p numbers.Points) string { return s.w.points(p) }

// Basis says by what points were counted.
func (s Speech) Basis(b numbers.Basis) string { return s.w.basis(b) }

// Mean writes a mean per jam with its interval; one that rests on few jams is starred.
func (s Speech) Mean(m numbers.Mean) string { return s.w.mean(m) }

// Share writes a share with what it is out of.
func (s Speech) Share(x numbers.Share, known bool) string { return s.w.share(x, known) }

// PerTrip writes points per scoring trip.
func (s Speech) PerTrip(m numbers.Jamming) string { return s.w.perTrip(m) }

// Note is a caution as a sentence.
func (s Speech) Note(n numbers.Note) string { return s.w.note(n) }

// Small explains the star of small samples.
func (s Speech) Small() string { return s.w.smallNote() }

// Team is a team's name, or its side.
func (s Speech) Team(name string, side timeline.Side) string { return s.w.team(name, side) }

// Sat says in which jams a penalty of a page was served, and how long.
func (s Speech) Sat(p numbers.Page, x numbers.Penalty) string { return s.w.sat(p, x) }

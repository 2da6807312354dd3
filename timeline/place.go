package timeline

import "time"

// ID names one stored record (a tag, a footage file, a mark...). IDs are opaque
// text, unique in a bout.
type ID string

// Place says where something happened: on film, at an offset in a jam, or in a
// jam alone ("not on film"). It is never bout time, so that re-aligning the
// footage edits no tag.
//
// Exactly one of three forms holds: Footage set (Film counts); Jam set and
// InJam true (Offset counts); Jam set and InJam false. The zero Place is
// nowhere.
type Place struct {
	Footage ID            `json:"footage,omitempty"`
	Film    time.Duration `json:"film,omitempty"` // film time, from the file's first shown frame
	Jam     ID            `json:"jam,omitempty"`
	InJam   bool          `json:"in_jam,omitempty"`
	Offset  time.Duration `json:"offset,omitempty"` // jam time, since the jam-start whistle
}

// OnFilm is the place at a film time of one footage file.
func OnFilm(footage ID, film time.Duration) Place { return Place{Footage: footage, Film: film} }

// InJam is the place at a jam time of one jam.
func InJam(jam ID, offset time.Duration) Place { return Place{Jam: jam, InJam: true, Offset: offset} }

// JamAlone is the place somewhere in one jam, time unknown.
func JamAlone(jam ID) Place { return Place{Jam: jam} }

// IsZero reports whether the place is nowhere.
func (p Place) IsZero() bool { return p == Place{} }

// HasTime reports whether the place names a moment, not only a jam.
func (p Place) HasTime() bool { return p.Footage != "" || p.InJam }

// TimeRange is a half-open stretch on one clock: Start belongs to it, End does not.
type TimeRange struct {
	Start time.Duration `json:"start"`
	End   time.Duration `json:"end"`
}

// Duration is the length of the range.
func (r TimeRange) Duration() time.Duration { return r.End - r.Start }

// Contains reports whether t lies in the range (End excluded).
func (r TimeRange) Contains(t time.Duration) bool { return t >= r.Start && t < r.End }

// Overlaps reports whether the two ranges share more than an edge.
func (r TimeRange) Overlaps(o TimeRange) bool { return r.Start < o.End && o.Start < r.End }

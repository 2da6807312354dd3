package timeline

import (
	"cmp"
	"slices"
	"strings"
	"time"
)

// Conflict is a record that several people set to different values without
// knowing of each other. Applying any change to the record decides it.
type Conflict struct {
	Record   Record
	Versions []Version // the last one stands
}

// Version is one value of a record in conflict.
type Version struct {
	Edit   ID // the edit that set it
	Author string
	At     time.Time
	Label  string
	Value  []byte // JSON as stored; nil: deleted
	Stands bool
}

// Conflicts lists the records in conflict by collection and key.
func (l *Log) Conflicts() []Conflict {
	l.mu.Lock() // groups are indexed as they are looked into
	defer l.mu.Unlock()
	var out []Conflict
	for rec := range l.clashes {
		c := Conflict{Record: rec}
		heads := l.heads(rec)
		for i, h := range heads {
			o := l.origin(h)
			c.Versions = append(c.Versions, Version{
				Edit: o.ID, Author: o.Author, At: o.At, Label: o.Label,
				Value: slices.Clone(h.Value), Stands: i == len(heads)-1,
			})
		}
		out = append(out, c)
	}
	slices.SortFunc(out, func(a, b Conflict) int {
		return cmp.Or(strings.Compare(string(a.Record.Collection), string(b.Record.Collection)),
			strings.Compare(string(a.Record.Key), string(b.Record.Key)))
	})
	return out
}

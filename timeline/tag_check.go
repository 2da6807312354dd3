package timeline

import "fmt"

// FieldError says which field of a record is wrong, and how. The path is as the
// JSON has it: "trip.points", "line_up.blockers[2].number".
type FieldError struct {
	Path string
	Text string
}

func (e *FieldError) Error() string {
	if e.Path == "" {
		return e.Text
	}
	return e.Path + ": " + e.Text
}

func fieldErr(path, format string, args ...any) error {
	return &FieldError{Path: path, Text: fmt.Sprintf(format, args...)}
}

// tagPayloads lists a tag's payloads: the JSON name, which is set, and the kind
// it belongs to.
func tagPayloads(t Tag) [9]struct {
	name string
	set  bool
	kind Kind
} {
	return [9]struct {
		name string
		set  bool
		kind Kind
	}{
		{"jam", t.JamInfo != nil, KindJam},
		{"line_up", t.Lineup != nil, KindLineup},
		{"trip", t.Trip != nil, KindTrip},
		{"event", t.Event != nil, KindEvent},
		{"star_pass", t.StarPass != nil, KindStarPass},
		{"penalty", t.Penalty != nil, KindPenalty},
		{"box", t.Box != nil, KindBox},
		{"timeout", t.Timeout != nil, KindTimeout},
		{"review", t.Review != nil, KindReview},
	}
}

// checkPayload checks that exactly the payload of the tag's kind is set.
func checkPayload(t Tag) error {
	if t.Kind == "" {
		return fieldErr("kind", "it is missing")
	}
	for _, p := range tagPayloads(t) {
		switch {
		case p.set && p.kind != t.Kind:
			return fieldErr(p.name, "a tag of kind %q has no such field", t.Kind)
		case !p.set && p.kind == t.Kind:
			return fieldErr(p.name, "it is missing; a tag of kind %q needs it", t.Kind)
		}
	}
	return nil
}

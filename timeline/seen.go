package timeline

import "fmt"

// Seen says how sure the person who tagged was of one value.
type Seen uint8

// Sure is the zero value: a tag without a word on it is meant as it stands.
const (
	Sure    Seen = iota
	Unsure       // a value is given, to be looked at again
	NotSeen      // no value: hidden, off camera, or not looked at yet
)

func (s Seen) String() string {
	switch s {
	case Unsure:
		return "unsure"
	case NotSeen:
		return "not seen"
	}
	return "sure"
}

// MarshalText writes "sure", "unsure" or "not seen".
func (s Seen) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what MarshalText wrote; an empty text is Sure.
func (s *Seen) UnmarshalText(b []byte) error {
	switch string(b) {
	case "sure", "":
		*s = Sure
	case "unsure":
		*s = Unsure
	case "not seen":
		*s = NotSeen
	default:
		return fmt.Errorf("certainty %q: want sure, unsure or not seen", b)
	}
	return nil
}

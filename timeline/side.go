package timeline

import "fmt"

// Side is one of the two teams of a bout. The zero value is NoSide, for tags
// that belong to neither team (a jam, an official timeout).
type Side uint8

// The two sides, as the paperwork names them.
const (
	NoSide Side = iota
	Home
	Away
)

// Sides lists both teams in the order the paperwork prints them.
var Sides = [2]Side{Home, Away}

// Other returns the opposing side; NoSide stays NoSide.
func (s Side) Other() Side {
	switch s {
	case Home:
		return Away
	case Away:
		return Home
	}
	return NoSide
}

// Index returns 0 for Home and 1 for Away, for arrays of two teams. It panics
// for NoSide: indexing a team array by no team is a bug of the caller.
func (s Side) Index() int {
	if s != Home && s != Away {
		panic("timeline: Index of " + s.String())
	}
	return int(s) - 1
}

func (s Side) String() string {
	switch s {
	case Home:
		return "home"
	case Away:
		return "away"
	}
	return "none"
}

// MarshalText writes "home", "away" or "none".
func (s Side) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads what MarshalText wrote; an empty text is NoSide.
func (s *Side) UnmarshalText(b []byte) error {
	switch string(b) {
	case "home":
		*s = Home
	case "away":
		*s = Away
	case "none", "":
		*s = NoSide
	default:
		return fmt.Errorf("side %q: want home, away or none", b)
	}
	return nil
}

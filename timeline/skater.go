package timeline

import "fmt"

// Number is a skater's number as printed on the uniform. It is text: "0" and
// "00" are two skaters, leading zeros count, and editions before 2016 allowed
// letters (Uniform requirements 2009, 2016).
type Number string

// SkaterRef names one skater of one side.
type SkaterRef struct {
	Side   Side   `json:"side"`
	Number Number `json:"number"`
}

// IsZero reports whether no skater is named.
func (r SkaterRef) IsZero() bool { return r == SkaterRef{} }

func (r SkaterRef) String() string { return fmt.Sprintf("%s %s", r.Side, r.Number) }

// Who is a skater as a tag names her: by number, or not seen.
type Who struct {
	Number Number `json:"number,omitempty"`
	Seen   Seen   `json:"seen,omitempty"`
}

// Skater is one line of a roster.
type Skater struct {
	Number Number `json:"number"`
	Name   string `json:"name,omitempty"`
	// Minor and NoConsent keep her out of shared packs by default.
	Minor     bool `json:"minor,omitempty"`
	NoConsent bool `json:"no_consent,omitempty"`
	Captain   bool `json:"captain,omitempty"`
}

// Team is one side's name, uniform colour ("#RRGGBB", empty when unset) and roster.
type Team struct {
	Name   string   `json:"name"`
	Colour string   `json:"colour,omitempty"`
	Roster []Skater `json:"roster,omitempty"`
}

// Find returns the roster line with that number.
func (t Team) Find(n Number) (Skater, bool) {
	for _, s := range t.Roster {
		if s.Number == n {
			return s, true
		}
	}
	return Skater{}, false
}

// Role is what a skater is fielded as in one jam (Rules 2.2).
type Role uint8

// The roles of the rulebook. NoRole: not fielded.
const (
	NoRole Role = iota
	Jammer
	Pivot
	Blocker
)

func (r Role) String() string {
	switch r {
	case Jammer:
		return "jammer"
	case Pivot:
		return "pivot"
	case Blocker:
		return "blocker"
	}
	return "none"
}

// MarshalText writes the rulebook's word for the role.
func (r Role) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads what MarshalText wrote; an empty text is NoRole.
func (r *Role) UnmarshalText(b []byte) error {
	for _, x := range []Role{NoRole, Jammer, Pivot, Blocker} {
		if string(b) == x.String() {
			*r = x
			return nil
		}
	}
	if len(b) == 0 {
		*r = NoRole
		return nil
	}
	return fmt.Errorf("role %q: want jammer, pivot, blocker or none", b)
}

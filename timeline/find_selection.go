package timeline

// Selection says which moments of a bout are wanted. Fields combine with AND,
// the values of one field with OR; a zero field does not narrow. It is plain
// data, so that it can be kept with a reel and sent to another program.
//
//   - With Situations alone, each stretch that one of them holds for is a moment.
//   - With Kinds alone, each tag of those kinds is a moment; KindJam is the jam
//     as a whole, of which Skaters and Roles say who was fielded.
//   - With both, the tags of Kinds that lie in such a stretch.
//   - With neither, every tag that names one of Skaters, has one of Codes, or
//     whose skater has one of Roles; with none of these, every jam.
type Selection struct {
	Kinds      []Kind          `json:"kinds,omitempty"`
	Situations []SituationKind `json:"situations,omitempty"`
	Skaters    []SkaterRef     `json:"skaters,omitempty"`
	// Side of the skater, or that has the situation (the power jam, the short side).
	Side  Side   `json:"side,omitempty"`
	Roles []Role `json:"roles,omitempty"`
	// Codes are penalty letters of the bout's edition.
	Codes   []string `json:"codes,omitempty"`
	Jams    []ID     `json:"jams,omitempty"`
	Periods []int    `json:"periods,omitempty"`
	// Score narrows to a score state at the moment, or at the jam's start where
	// trips are not timed.
	Score *ScoreState `json:"score,omitempty"`
	// Cameras narrows to moments that one of these cameras shows.
	Cameras []string `json:"cameras,omitempty"`
	// OnFilm leaves out moments that no film shows.
	OnFilm bool `json:"on_film,omitempty"`
	// Tags picks single tags by ID.
	Tags []ID `json:"tags,omitempty"`
	// ShortBy narrows short-handed stretches to at least so many.
	ShortBy int `json:"short_by,omitempty"`
	// Words narrows to tags whose note or words contain the text, upper and lower case alike.
	Words string `json:"words,omitempty"`
}

// ScoreState is how a score stands for one side. A score that is not known well
// enough to tell does not match.
type ScoreState struct {
	Side  Side     `json:"side"`
	State Standing `json:"state,omitempty"`
	// ByMin and ByMax bound the difference in points (both inclusive; ByMax 0: no bound).
	ByMin int `json:"by_min,omitempty"`
	ByMax int `json:"by_max,omitempty"`
}

// Standing is leading, trailing or tied; empty for any.
type Standing string

// The standings of a score.
const (
	Leading  Standing = "leading"
	Trailing Standing = "trailing"
	Tied     Standing = "tied"
)

// matches reports whether a score is surely in the state.
func (s *ScoreState) matches(score [2]Range) bool {
	if s == nil {
		return true
	}
	side := s.Side
	if !side.known() {
		side = Home
	}
	mine, theirs := score[side.Index()], score[side.Other().Index()]
	low, high := mine.Low-theirs.High, mine.High-theirs.Low
	switch s.State {
	case Leading:
		return low > 0 && low >= s.ByMin && (s.ByMax == 0 || high <= s.ByMax)
	case Trailing:
		return high < 0 && -high >= s.ByMin && (s.ByMax == 0 || -low <= s.ByMax)
	case Tied:
		return low == 0 && high == 0
	}
	least := 0
	if low > 0 {
		least = low
	} else if high < 0 {
		least = -high
	}
	return least >= s.ByMin && (s.ByMax == 0 || max(high, -low) <= s.ByMax)
}

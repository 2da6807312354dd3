package timeline

// Reason is the answer to "why": one sentence and the rule section it rests on,
// for example {"earned: upright, in bounds, star showing", "2.5"}. Section is
// empty when no rule decides (a person tagged it so). Edition is the rule set's name.
type Reason struct {
	Text    string `json:"text"`
	Section string `json:"section,omitempty"`
	Tags    []ID   `json:"tags,omitempty"` // tags it rests on
}

// Range is a whole number known only within bounds (both inclusive). A sure
// value has Low == High.
type Range struct {
	Low  int `json:"low"`
	High int `json:"high"`
}

// Exactly is the range of one sure value.
func Exactly(n int) Range { return Range{n, n} }

// Sure reports whether the value is known.
func (r Range) Sure() bool { return r.Low == r.High }

// Add sums two ranges end by end.
func (r Range) Add(o Range) Range { return Range{r.Low + o.Low, r.High + o.High} }

// Contains reports whether n is possible.
func (r Range) Contains(n int) bool { return r.Low <= n && n <= r.High }

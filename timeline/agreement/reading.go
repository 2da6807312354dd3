package agreement

// Below these a result is mostly chance, and says so (common practice, no source).
const (
	SmallUnits  = 10 // questions
	SmallPeople = 5
)

// SmallSample reports whether a table is too small to say much: under SmallUnits
// units or SmallPeople people with an answer.
func SmallSample(t Table) bool {
	n := 0
	for _, row := range t.Answers {
		if given(row) > 1 {
			n++
		}
	}
	return n < SmallUnits || len(answering(t)) < SmallPeople
}

// Reading is what a coefficient says, in plain words.
type Reading struct {
	Key    string `json:"key"`    // the band, never changed
	Text   string `json:"text"`   // one sentence
	Source string `json:"source"` // of the bounds
}

// The sources of the bounds. Krippendorff's are on page 241 (from memory).
const (
	SourceAlpha = "Krippendorff, Content Analysis, 2nd edition (2004): 0.800 and 0.667"
	SourceKappa = "Landis and Koch, Biometrics 33 (1977), 159-174: bands of 0.20"
)

// Krippendorff's bounds.
const (
	AlphaReliable  = 0.800
	AlphaTentative = 0.667
)

// ReadAlpha puts alpha into words. Krippendorff asks for 0.800 and lets tentative
// conclusions be drawn from 0.667 on. Both are for data that research rests on; for
// a room that trains, the bounds only say how far the calls can be relied on to be
// the same whoever makes them.
func ReadAlpha(c Coefficient) Reading {
	r := Reading{Source: SourceAlpha}
	switch {
	case !c.Defined():
		return undefined(c.Why)
	case c.Value >= AlphaReliable:
		r.Key, r.Text = "reliable", "The room agrees: whoever is asked, the call is nearly always the same."
	case c.Value >= AlphaTentative:
		r.Key, r.Text = "tentative", "The room mostly agrees; conclusions are tentative."
	case c.Value > 0:
		r.Key, r.Text = "low", "The room agrees more than chance would, but who is asked still decides the call."
	default:
		r.Key, r.Text = "chance", "The room agrees no more than chance would."
	}
	return r
}

// ReadKappa puts kappa into the words of Landis and Koch.
func ReadKappa(c Coefficient) Reading {
	if !c.Defined() {
		return undefined(c.Why)
	}
	r := Reading{Source: SourceKappa}
	for _, x := range []struct {
		above     float64
		key, text string
	}{
		{0.80, "almost perfect", "Agreement is almost perfect."},
		{0.60, "substantial", "Agreement is substantial."},
		{0.40, "moderate", "Agreement is moderate."},
		{0.20, "fair", "Agreement is fair."},
	} {
		if c.Value > x.above {
			r.Key, r.Text = x.key, x.text
			return r
		}
	}
	if r.Key, r.Text = "slight", "Agreement is slight."; c.Value < 0 {
		r.Key, r.Text = "poor", "Agreement is poor, below what chance would give."
	}
	return r
}

// undefined says why there is no value.
func undefined(w Why) Reading {
	text := map[Why]string{
		NoAnswers:   "Nobody answered, so there is nothing to compare.",
		NoPairs:     "No question was answered by two people, so nobody can agree or disagree.",
		NoVariation: "Everybody gave one and the same answer to everything. That is full agreement, but the measure is not defined: chance alone would agree as well.",
		NoComplete:  "No question was answered by everybody, which this measure needs; the other one does not.",
		TooFewUnits: "Two questions at least are needed for an interval.",
		Unstable:    "The answers are too much alike for an interval.",
	}[w]
	return Reading{Key: string(w), Text: text}
}

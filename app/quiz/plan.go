package quiz

import (
	"bytes"
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/footage/ffmpeg"
)

// Plan is a quiz as made: what each number stands for. It is the trainer's, never
// given to those who answer.
type Plan struct {
	ID    string `json:"id"` // 12 random hex digits, which stand on sheet, page and answers
	Title string `json:"title"`
	// Seed the examples were drawn and ordered by.
	Seed      uint64    `json:"seed"`
	Made      time.Time `json:"made"`
	Edition   string    `json:"edition"`   // of the rules, of most of its examples
	Languages []string  `json:"languages"` // one or two, ISO 639-1, the main one first
	Items     []Item    `json:"items"`     // in the order shown
}

// Item is one question of a quiz.
type Item struct {
	Number  int         `json:"number"` // 1, 2, ... shown on the card
	Bout    string      `json:"bout"`   // path of the .bout file
	Example timeline.ID `json:"example"`

	Ask   timeline.Question `json:"ask"`
	Asked timeline.Words    `json:"asked,omitempty"` // the trainer's own question, if any
	// Footage and Shown are the film the group sees: it ends before anything tells.
	Footage timeline.ID        `json:"footage"`
	Shown   timeline.TimeRange `json:"shown"` // film time, in nanoseconds
	// Verdicts are the answers accepted, the preferred one first.
	Verdicts []timeline.Answer `json:"verdicts"`
	// Codes are the letters offered: all of the edition, the same for every question
	// about a penalty, so that they tell nothing.
	Codes      []timeline.PenaltyCode `json:"codes,omitempty"`
	Difficulty int                    `json:"difficulty,omitempty"` // 1 easy to 5 hard, 0 not said
	Impact     timeline.Impact        `json:"impact,omitempty"`
	Edition    string                 `json:"edition"`          // the verdicts were given by
	Words      string                 `json:"words,omitempty"`  // the trainer's reasoning
	Called     timeline.Answer        `json:"called,omitzero"`  // on the day
	Source     string                 `json:"source,omitempty"` // where the example is from, for the trainer: bout, period and jam
}

// Bounds of plans: they only keep out what cannot be meant.
const (
	mostItems   = 500
	largestPlan = 16 << 20 // bytes
	idDigits    = 12
)

// NewID is a fresh name for a quiz. It follows from nothing, the seed included,
// so that it tells nothing.
func NewID() string {
	var b [idDigits / 2]byte
	rand.Read(b[:]) // never fails (crypto/rand)
	return hex.EncodeToString(b[:])
}

// Item is the question of a number; ok is false when there is none.
func (p Plan) Item(number int) (Item, bool) {
	i := slices.IndexFunc(p.Items, func(x Item) bool { return x.Number == number })
	if i < 0 {
		return Item{}, false
	}
	return p.Items[i], true
}

// Accepts reports whether one of the verdicts accepts an answer.
func (x Item) Accepts(given timeline.Answer) bool {
	return timeline.Example{Verdicts: x.Verdicts}.Accepts(given)
}

// Check reports the first thing wrong with a plan, as a sentence; nil when there
// is none.
func (p Plan) Check() error {
	if len(p.ID) != idDigits || !isHex(p.ID) {
		return fmt.Errorf("id: %q is no name of a quiz; want %d hexadecimal digits", p.ID, idDigits)
	}
	if n := len(p.Languages); n < 1 || n > 2 {
		return fmt.Errorf("languages: there are %d; want one or two", n)
	}
	if len(p.Items) == 0 {
		return errors.New("items: the quiz has no question")
	}
	if len(p.Items) > mostItems {
		return fmt.Errorf("items: there are %d questions, at most %d can be asked", len(p.Items), mostItems)
	}
	for i, x := range p.Items {
		if err := x.check(i + 1); err != nil {
			return fmt.Errorf("items[%d]: %w", i, err)
		}
	}
	return nil
}

func (x Item) check(number int) error {
	switch {
	case x.Number != number:
		return fmt.Errorf("number: it is %d; questions are numbered from 1 in the order shown, so want %d", x.Number, number)
	case x.Bout == "":
		return errors.New("bout: it is missing; want the path of the bout file")
	case x.Example == "":
		return errors.New("example: it is missing; want the example's ID")
	case !slices.Contains(timeline.Questions(), x.Ask):
		return fmt.Errorf("ask: %q is no question; want one of %q", x.Ask, timeline.Questions())
	case x.Footage == "" || x.Shown.Start < 0 || x.Shown.End <= x.Shown.Start:
		return fmt.Errorf("shown: it shows %v to %v of footage %q; want a stretch of film", x.Shown.Start, x.Shown.End, x.Footage)
	case len(x.Verdicts) == 0:
		return errors.New("verdicts: there is none; a question without an answer cannot be marked")
	}
	for j, v := range x.Verdicts {
		if !slices.Contains(x.Ask.Choices(), v.Choice) {
			return fmt.Errorf("verdicts[%d]: %q does not answer it; want one of %q", j, v.Choice, x.Ask.Choices())
		}
	}
	return nil
}

func isHex(s string) bool {
	_, err := hex.DecodeString(s)
	return err == nil
}

// Write writes the plan as JSON.
func (p Plan) Write(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(p)
}

// ReadPlan reads a plan written by Write and checks it. Fields of later versions
// are passed over.
func ReadPlan(r io.Reader) (Plan, error) {
	var p Plan
	data, err := io.ReadAll(io.LimitReader(r, largestPlan+1))
	if err != nil {
		return p, fmt.Errorf("cannot read the plan of the quiz: %w", err)
	}
	if len(data) > largestPlan {
		return p, fmt.Errorf("cannot read the plan of the quiz: it is larger than %d MB, which no plan is", largestPlan>>20)
	}
	d := json.NewDecoder(bytes.NewReader(data))
	if err := d.Decode(&p); err != nil {
		return p, fmt.Errorf("cannot read the plan of the quiz: %w; it is the file plan.json that was written with the quiz", err)
	}
	if err := p.Check(); err != nil {
		return p, fmt.Errorf("cannot use the plan of the quiz: %w", err)
	}
	return p, nil
}

// ReadPlanFile reads the plan in a file.
func ReadPlanFile(path string) (Plan, error) {
	f, err := os.Open(path)
	if err != nil {
		return Plan{}, fmt.Errorf("cannot read the plan of the quiz: %w", err)
	}
	defer f.Close()
	p, err := ReadPlan(f)
	if err != nil {
		return p, fmt.Errorf("%s: %w", path, err)
	}
	return p, nil
}

// WriteFile writes the plan into a file, wholly or not at all.
func (p Plan) WriteFile(path string) error {
	var b bytes.Buffer
	if err := p.Write(&b); err != nil {
		return err
	}
	return ffmpeg.Whole(path, func(temp string) error { return os.WriteFile(temp, b.Bytes(), 0o600) })
}

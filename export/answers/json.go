package answers

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"time"

	"whistlecut/timeline"
)

// jsonMark stands in every file, so that no other JSON is taken for answers.
const jsonMark = "whistlecut answers"

// file is a sheet as JSON. The page writes the same.
type file struct {
	Form    string                     `json:"form"`
	Version int                        `json:"version"`
	Quiz    string                     `json:"quiz"`
	Person  string                     `json:"person"`
	Group   string                     `json:"group,omitempty"`
	Made    *time.Time                 `json:"made,omitempty"`
	Given   map[string]timeline.Answer `json:"given"`
}

const jsonVersion = 1

// WriteJSON writes a sheet as the page does.
func (s Sheet) WriteJSON(w io.Writer) error {
	if err := s.Check(); err != nil {
		return fmt.Errorf("cannot write the answers: %w", err)
	}
	f := file{Form: jsonMark, Version: jsonVersion, Quiz: s.Quiz, Person: s.Person, Group: s.Group, Given: map[string]timeline.Answer{}}
	if !s.Made.IsZero() {
		f.Made = &s.Made
	}
	for n, a := range s.Given {
		f.Given[strconv.Itoa(n)] = a
	}
	e := json.NewEncoder(w)
	e.SetIndent("", " ")
	e.SetEscapeHTML(false)
	return e.Encode(f)
}

// readJSON reads one sheet or a list of them.
func readJSON(data []byte) ([]Sheet, error) {
	if bytes.HasPrefix(data, []byte("[")) {
		var list []json.RawMessage
		if err := json.Unmarshal(data, &list); err != nil {
			return nil, fmt.Errorf("the file is cut short or damaged (%w); ask for it again", err)
		}
		var out []Sheet
		var bad error
		for i, x := range list {
			s, err := readOneJSON(x)
			if err != nil {
				bad = errors.Join(bad, fmt.Errorf("sheet %d: %w", i+1, err))
				continue
			}
			out = append(out, s)
		}
		return out, bad
	}
	s, err := readOneJSON(data)
	if err != nil {
		return nil, err
	}
	return []Sheet{s}, nil
}

func readOneJSON(data []byte) (Sheet, error) {
	var f file
	if err := json.Unmarshal(data, &f); err != nil {
		return Sheet{}, fmt.Errorf("the file is cut short or damaged (%w); ask for it again", err)
	}
	if f.Form != jsonMark {
		return Sheet{}, errors.New("this is no file of answers; want the one that the answer page saves")
	}
	if f.Version != jsonVersion {
		return Sheet{}, fmt.Errorf("the answers are of version %d, this program reads %d; get a newer one", f.Version, jsonVersion)
	}
	s := Sheet{Quiz: f.Quiz, Person: plain(f.Person), Group: GroupOf(f.Group), Given: map[int]timeline.Answer{}}
	if f.Made != nil {
		s.Made = f.Made.UTC().Truncate(time.Second)
	}
	for k, a := range f.Given {
		n, err := strconv.Atoi(k)
		if err != nil || k != strconv.Itoa(n) {
			return Sheet{}, fmt.Errorf("%q is no number of a question", shorten(k))
		}
		if !a.IsZero() {
			s.Given[n] = a
		}
	}
	return s, s.Check()
}

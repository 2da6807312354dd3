package app

import (
	"fmt"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// Check compares the bout's official sheet with the recount from its tags.
func (s *Session) Check() (sheet.Report, error) {
	r, ok, err := s.StoredSheet()
	if err != nil {
		return sheet.Report{}, err
	}
	if !ok {
		return sheet.Report{}, fmt.Errorf("%s holds no official sheet yet; put one in with: whistlecut sheet FILE --into %s", s.Path, s.Path)
	}
	return sheet.Check(r.Sheet, s.Bout, s.Facts), nil
}

// CheckSheet checks a sheet in itself, without film or tags.
func CheckSheet(s sheet.Sheet, rules timeline.RuleSet) []sheet.Finding {
	return sheet.SelfCheck(s, rules).Findings
}

package timeline

import (
	"cmp"
	"maps"
	"slices"
)

// Remark is what somebody wrote on a skater's page: her own words, or the coach's.
// Each is a record of its own, so that both can write at once and merge.
type Remark struct {
	ID     ID        `json:"id"`
	Skater SkaterRef `json:"skater"`
	By     Author    `json:"by"`
	Text   string    `json:"text"`
}

// Author says whose words a remark is.
type Author string

// Who writes on a skater's page.
const (
	BySkater Author = "skater"
	ByCoach  Author = "coach"
)

// RemarkID is the one ID that a skater's remark by an author has in everybody's
// copy of the bout.
func RemarkID(who SkaterRef, by Author) ID { return ImportID("remark", who.String(), string(by)) }

// Remark is what an author wrote on a skater's page, "" for nothing.
func (f Facts) Remark(who SkaterRef, by Author) string { return f.Remarks[RemarkID(who, by)].Text }

// SetRemark stores what an author wrote on a skater's page; nothing takes it away.
func SetRemark(who SkaterRef, by Author, text string) Change {
	id := RemarkID(who, by)
	if text == "" {
		return dropChange(ColRemark, id)
	}
	return setChange(ColRemark, id, Remark{id, who, by, text})
}

// RemarksInOrder lists all remarks by ID.
func (f Facts) RemarksInOrder() []Remark {
	return slices.SortedFunc(maps.Values(f.Remarks), func(a, b Remark) int { return cmp.Compare(a.ID, b.ID) })
}

// CheckRemark checks a remark that comes from outside. The error is a *FieldError.
func CheckRemark(r Remark) error {
	c := &checker{}
	c.id("id", r.ID, true)
	c.skater("skater", r.Skater)
	c.text("text", r.Text, longestNote)
	if r.By != BySkater && r.By != ByCoach {
		c.fail("by", "%q wrote nothing that is known here; want %s or %s", r.By, BySkater, ByCoach)
	}
	return c.err
}

package timeline

import (
	"cmp"
	"slices"
	"time"
)

// Step is what one undo or redo did.
type Step struct {
	Group   ID     // the new group; empty when nothing was changed
	Of      ID     // the group that was taken back
	Label   string // the label of the action that was taken back or done again
	Edits   []Edit
	Skipped []Skipped
}

// Skipped is a record an undo or redo left alone because it was changed since.
type Skipped struct {
	Record Record
	By     string // who changed it last
	At     time.Time
	Label  string
}

// Undo takes back the author's last action by adding its inverse. Records that
// were changed since are left alone and listed in Skipped; if that is all of
// them, nothing is added and the next Undo goes on to the action before.
// Nothing to undo is an empty Step. Undo reaches back over earlier sessions.
func (l *Log) Undo() (Step, error) { return l.step(l.undoTarget) }

// Redo takes back the author's last Undo, unless she did something else since.
func (l *Log) Redo() (Step, error) { return l.step(l.redoTarget) }

// PrepareUndo returns the step Undo would take without adding its edits, so
// that a store can write them down first and then Add them.
func (l *Log) PrepareUndo() (Step, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.invert(l.undoTarget())
}

// PrepareRedo is PrepareUndo for Redo.
func (l *Log) PrepareRedo() (Step, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.invert(l.redoTarget())
}

func (l *Log) step(target func() *logGroup) (Step, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	s, err := l.invert(target())
	if err != nil || len(s.Edits) == 0 {
		return s, err
	}
	_, err = l.add(s.Edits)
	return s, err
}

// CanUndo reports whether Undo has something to take back, and its label.
func (l *Log) CanUndo() (label string, ok bool) { return l.can(l.undoTarget) }

// CanRedo reports whether Redo has something to do again, and its label.
func (l *Log) CanRedo() (label string, ok bool) { return l.can(l.redoTarget) }

func (l *Log) can(target func() *logGroup) (string, bool) {
	l.mu.RLock()
	defer l.mu.RUnlock()
	g := target()
	if g == nil {
		return "", false
	}
	return g.first().Label, true
}

// undoTarget is the author's latest action, or action done again, that stands.
func (l *Log) undoTarget() *logGroup {
	for g := range l.ownGroups() {
		if !g.isUndo() && !l.spent[g.id] && !l.passed[g.id] {
			return g
		}
	}
	return nil
}

// redoTarget is the author's latest undo that stands, if no new action followed.
func (l *Log) redoTarget() *logGroup {
	for g := range l.ownGroups() {
		switch {
		case g.isUndo():
			if !l.spent[g.id] && !l.passed[g.id] {
				return g
			}
		case g.first().Redoes == "":
			return nil
		}
	}
	return nil
}

// ownGroups yields the author's groups, the latest first.
func (l *Log) ownGroups() func(yield func(*logGroup) bool) {
	return func(yield func(*logGroup) bool) {
		for i := len(l.sorted) - 1; i >= 0; i-- {
			n := l.sorted[i]
			if n.Author != l.author {
				continue
			}
			if g := l.groups[n.Group]; g.first() == n && !yield(g) {
				return
			}
		}
	}
}

// invert makes the edits that take a group back. A record's state before the
// group is the set of edits its edits name as parents: each of these is set
// again by one new edit, in the same order, so that a conflict the group had
// decided comes back as it was. All edits of one record share their parents, the
// heads of now.
func (l *Log) invert(g *logGroup) (Step, error) {
	if g == nil {
		return Step{}, nil
	}
	s := Step{Of: g.id, Label: g.first().Label}
	w := l.newWriter(s.Label)
	if g.isUndo() {
		w.redoes = g.id
	} else {
		w.undoes = g.id
	}
	seen := map[Record]bool{}
	for _, n := range g.nodes {
		r := n.Record
		if seen[r] {
			continue
		}
		seen[r] = true
		heads, made := l.heads(r), g.of(r)
		if !slices.Equal(l.origins(heads), l.origins(made)) {
			s.Skipped = append(s.Skipped, l.skipped(r, heads, made))
			continue
		}
		before := l.before(made)
		if len(before) == 0 {
			w.write(r, nil, heads)
		}
		for _, b := range before {
			w.write(r, b.Value, heads)
		}
	}
	var err error
	s.Edits, err = w.done()
	s.Group = w.group
	if err == nil && len(s.Edits) == 0 {
		l.passed[g.id] = true
	}
	return s, err
}

// before is the heads a record had when the given edits of one group were made.
func (l *Log) before(made []*logNode) []*logNode {
	var out []*logNode
	for _, m := range made {
		for _, id := range m.Parents {
			p := l.edits[id]
			if p == nil || !covers(m, p) {
				continue
			}
			if i, found := slices.BinarySearchFunc(out, p, compareNodes); !found {
				out = slices.Insert(out, i, p)
			}
		}
	}
	return out
}

// origin follows undos and redos back to the edit whose value they set again,
// or to the undo that led back to where there was no edit yet.
func (l *Log) origin(n *logNode) *logNode {
	for {
		of := cmp.Or(n.Undoes, n.Redoes)
		back, own := l.groups[of], l.groups[n.Group]
		if of == "" || back == nil {
			return n
		}
		made := back.of(n.Record)
		if len(made) == 0 || compareNodes(made[0], n) >= 0 {
			return n
		}
		before := l.before(made)
		i := slices.Index(own.of(n.Record), n)
		if i >= len(before) || !sameJSON(before[i].Value, n.Value) {
			return n
		}
		n = before[i]
	}
}

// origins are the origins of a record's heads, by ID; "" stands for no edit yet.
// Two states of a record with the same origins are the same state.
func (l *Log) origins(nodes []*logNode) []ID {
	var out []ID
	for _, n := range nodes {
		o := l.origin(n)
		id := o.ID
		if o.Undoes != "" && o.Value == nil {
			id = ""
		}
		if i, found := slices.BinarySearch(out, id); !found {
			out = slices.Insert(out, i, id)
		}
	}
	return out
}

// skipped tells who changed a record since the edits were made: the last head
// that is not theirs.
func (l *Log) skipped(r Record, heads, made []*logNode) Skipped {
	own := l.origins(made)
	last := heads[len(heads)-1]
	for _, h := range heads {
		if !slices.Contains(own, l.origin(h).ID) {
			last = h
		}
	}
	return Skipped{Record: r, By: last.Author, At: last.At, Label: last.Label}
}

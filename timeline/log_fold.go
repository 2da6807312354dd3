package timeline

import (
	"maps"
	"slices"
)

// fold takes in new, checked edits. Which edits are heads depends only on the
// set: an edit is covered as soon as it and one that names it as parent are
// both here, in whatever order they came.
func (l *Log) fold(fresh []*logNode) {
	touched := make(map[Record]*logRecord)
	for _, n := range fresh {
		l.edits[n.ID] = n
		l.maxSeq = max(l.maxSeq, n.Seq)
		r := l.records[n.Record]
		if r == nil {
			r = &logRecord{}
			l.records[n.Record] = r
		}
		touched[n.Record] = r
		for _, id := range n.Parents {
			if p := l.edits[id]; p == nil {
				l.waiting[id] = append(l.waiting[id], n)
			} else if covers(n, p) {
				r.heads = slices.DeleteFunc(slices.Clone(r.heads), func(h *logNode) bool { return h == p })
			}
		}
		if !slices.ContainsFunc(l.waiting[n.ID], func(c *logNode) bool { return covers(c, n) }) {
			i, _ := slices.BinarySearchFunc(r.heads, n, compareNodes)
			r.heads = slices.Insert(slices.Clip(r.heads), i, n)
		}
		delete(l.waiting, n.ID)
		l.groupIn(n)
	}
	l.sortIn(fresh)
	for rec, r := range touched {
		l.settle(rec, r)
	}
	for _, n := range fresh {
		n.decoded = nil
	}
}

// covers reports whether c was made knowing p. The Seq test keeps a forged
// circle of parents from hiding all heads of a record.
func covers(c, p *logNode) bool { return c.Record == p.Record && p.Seq < c.Seq }

// sortIn keeps the sorted list; new edits nearly always belong at its end.
func (l *Log) sortIn(fresh []*logNode) {
	if len(fresh) == 0 {
		return
	}
	fresh = slices.Clone(fresh)
	slices.SortFunc(fresh, compareNodes)
	tail := len(l.sorted) == 0 || compareNodes(l.sorted[len(l.sorted)-1], fresh[0]) < 0
	l.sorted = append(l.sorted, fresh...)
	if !tail {
		slices.SortFunc(l.sorted, compareNodes)
	}
}

// settle brings facts and the list of conflicts up to date for one record.
func (l *Log) settle(rec Record, r *logRecord) {
	top := r.heads[len(r.heads)-1] // a record always has a head: see covers
	value := top.decoded
	if value == nil && top.Value != nil {
		value, _ = decodeRecord(rec, top.Value) // it was checked when it came in
	}
	l.setFact(rec, value)
	if clash(r.heads) {
		l.clashes[rec] = true
	} else {
		delete(l.clashes, rec)
	}
}

func clash(heads []*logNode) bool {
	for _, h := range heads[1:] {
		if !sameJSON(heads[0].Value, h.Value) {
			return true
		}
	}
	return false
}

// factsShared says which maps of the current facts were handed out and must be
// copied before the next change.
type factsShared struct{ footage, marks, tags, resolutions, reels, parts, opinions, remarks, extra bool }

// Facts returns the state that follows from all edits. The result is a snapshot
// that later edits don't change; it shares memory with the log, so treat it as
// read-only. It costs next to nothing; the first edit after it copies the one
// map it changes.
func (l *Log) Facts() Facts {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.shared = factsShared{true, true, true, true, true, true, true, true, true}
	return l.facts
}

func (l *Log) setFact(rec Record, value any) {
	f, s := &l.facts, &l.shared
	switch rec.Collection {
	case ColInfo:
		f.Info = orZero[Info](value)
	case ColRules:
		f.Rules = orZero[RuleSet](value)
	case ColTeam:
		f.Teams[teamKeySide(rec.Key).Index()] = orZero[Team](value)
	case ColSheet:
		f.Sheet = nil
		if value != nil {
			sheet := value.(StoredSheet)
			f.Sheet = &sheet
		}
	case ColFootage:
		setEntry(&f.Footage, &s.footage, rec.Key, value)
	case ColMark:
		setEntry(&f.Marks, &s.marks, rec.Key, value)
	case ColTag:
		setEntry(&f.Tags, &s.tags, rec.Key, value)
	case ColResolution:
		setEntry(&f.Resolutions, &s.resolutions, rec.Key, value)
	case ColReel:
		setEntry(&f.Reels, &s.reels, rec.Key, value)
	case ColPart:
		setEntry(&f.Parts, &s.parts, rec.Key, value)
	case ColOpinion:
		setEntry(&f.Opinions, &s.opinions, rec.Key, value)
	case ColRemark:
		setEntry(&f.Remarks, &s.remarks, rec.Key, value)
	default:
		setEntry(&f.Extra, &s.extra, extraKey(rec), value)
	}
}

// extraKey names a record of an unknown collection in Facts.Extra.
func extraKey(r Record) string { return string(r.Collection) + "/" + string(r.Key) }

func orZero[T any](value any) T {
	v, _ := value.(T)
	return v
}

// setEntry sets or (value nil) deletes one entry, first copying a shared map. An
// empty map becomes nil, so that facts compare equal whatever led to them.
func setEntry[K comparable, V any](m *map[K]V, shared *bool, key K, value any) {
	v, ok := value.(V)
	if _, had := (*m)[key]; !ok && !had {
		return
	}
	if *shared {
		*m, *shared = maps.Clone(*m), false
	}
	switch {
	case !ok && len(*m) == 1:
		*m = nil
	case !ok:
		delete(*m, key)
	case *m == nil:
		*m = map[K]V{key: v}
	default:
		(*m)[key] = v
	}
}

package timeline

import (
	"cmp"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"
)

// Log is a set of edits and the state that follows from them. Two logs of one
// bout are merged by adding the edits of one to the other; the result does not
// depend on the order in which edits arrive.
//
// All methods are safe for concurrent use.
type Log struct {
	mu      sync.RWMutex
	author  string
	session string
	now     func() time.Time

	edits   map[ID]*logNode
	sorted  []*logNode // by (Seq, ID)
	maxSeq  int64
	records map[Record]*logRecord
	waiting map[ID][]*logNode // edits that name a parent not here yet
	groups  map[ID]*logGroup
	spent   map[ID]bool // groups that were undone or, if undos, redone
	passed  map[ID]bool // groups an undo could not take back, skipped from then on
	clashes map[Record]bool

	facts  Facts
	shared factsShared
	nextID int
}

// logNode is one edit in a log.
type logNode struct {
	Edit
	decoded any // the decoded value, only while a batch is folded in
}

// logRecord is what a log knows of one record.
type logRecord struct {
	heads []*logNode // edits nobody has built on, by (Seq, ID)
}

// maxEditSeq bounds Seq so that one past the highest is always a valid number,
// also in readers that hold numbers as 64-bit floats.
const maxEditSeq = 1 << 52

// NewLog returns an empty log whose new edits are by author. The session must be
// unique to this log for as long as it writes (two logs that write under one
// session would name different edits alike); an empty session gets a random one.
func NewLog(author, session string) *Log {
	if session == "" {
		session = NewSession()
	}
	return &Log{
		author:  author,
		session: session,
		now:     time.Now,
		edits:   map[ID]*logNode{},
		records: map[Record]*logRecord{},
		waiting: map[ID][]*logNode{},
		groups:  map[ID]*logGroup{},
		spent:   map[ID]bool{},
		passed:  map[ID]bool{},
		clashes: map[Record]bool{},
	}
}

// NewSession returns a random session name of 16 characters.
func NewSession() string {
	var b [8]byte
	rand.Read(b[:]) // never fails (crypto/rand)
	return hex.EncodeToString(b[:])
}

// SetClock replaces the clock that dates new edits, for reproducible logs.
func (l *Log) SetClock(now func() time.Time) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.now = now
}

// Author is the person new edits are by.
func (l *Log) Author() string { return l.author }

// Session is the session new edits are made in.
func (l *Log) Session() string { return l.session }

// Len is the number of edits.
func (l *Log) Len() int {
	l.mu.RLock()
	defer l.mu.RUnlock()
	return len(l.edits)
}

// Has reports whether the edit is in the log.
func (l *Log) Has(id ID) bool {
	l.mu.RLock()
	defer l.mu.RUnlock()
	return l.edits[id] != nil
}

// Edits returns all edits by (Seq, ID): an edit comes after those it builds on.
func (l *Log) Edits() []Edit {
	l.mu.RLock()
	defer l.mu.RUnlock()
	out := make([]Edit, len(l.sorted))
	for i, n := range l.sorted {
		out[i] = n.Edit
	}
	return out
}

// NewID returns an ID for a new record, unique over all copies of the bout.
func (l *Log) NewID() ID {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.nextID++
	return ID(l.session + "_" + strconv.Itoa(l.nextID))
}

// Apply makes one group of edits of the changes, which are undone together, and
// adds them. If several changes name one record, the last counts. Changes that
// change nothing make no edit; if none is left, the group is empty. A record
// that is in conflict is decided by the change. On an error nothing was applied.
func (l *Log) Apply(label string, changes ...Change) (group ID, edits []Edit, err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	edits, err = l.prepare(label, changes)
	if err != nil || len(edits) == 0 {
		return "", nil, err
	}
	if _, err = l.add(edits); err != nil {
		return "", nil, err
	}
	return edits[0].Group, edits, nil
}

// Prepare returns the edits Apply would add, without adding them, so that a
// store can write them down first and then Add them. Nothing else may be added
// in between.
func (l *Log) Prepare(label string, changes ...Change) ([]Edit, error) {
	l.mu.RLock()
	defer l.mu.RUnlock()
	return l.prepare(label, changes)
}

func (l *Log) prepare(label string, changes []Change) ([]Edit, error) {
	last := make(map[Record]int, len(changes))
	for i, c := range changes {
		last[c.Record] = i
	}
	w := l.newWriter(label)
	for i, c := range changes {
		if last[c.Record] != i {
			continue
		}
		value, err := normalValue(c.Value)
		if err == nil {
			_, err = decodeRecord(c.Record, value)
		}
		if err != nil {
			return nil, fmt.Errorf("cannot apply %q: %w", w.label, err)
		}
		heads := l.heads(c.Record)
		if unchanged(heads, value) {
			continue
		}
		w.write(c.Record, value, heads)
	}
	return w.done()
}

// unchanged reports whether setting value on a record with these heads would
// change nothing.
func unchanged(heads []*logNode, value []byte) bool {
	if len(heads) == 0 {
		return value == nil
	}
	for _, h := range heads {
		if !sameJSON(h.Value, value) {
			return false
		}
	}
	return true
}

// editWriter makes the edits of one group.
type editWriter struct {
	l      *Log
	label  string
	seq    int64
	group  ID
	undoes ID
	redoes ID
	at     time.Time
	edits  []Edit
}

func (l *Log) newWriter(label string) *editWriter {
	return &editWriter{l: l, label: strings.ToValidUTF8(label, "\uFFFD"), seq: l.maxSeq, at: normalTime(l.now())}
}

func (w *editWriter) write(r Record, value []byte, parents []*logNode) {
	w.seq++
	id := ID(w.l.session + "-" + strconv.FormatInt(w.seq, 10))
	if w.group == "" {
		w.group = id
	}
	e := Edit{
		ID: id, Author: w.l.author, Session: w.l.session, Seq: w.seq, Group: w.group,
		Undoes: w.undoes, Redoes: w.redoes, At: w.at, Label: w.label, Record: r, Value: value,
	}
	for _, p := range parents {
		e.Parents = append(e.Parents, p.ID)
	}
	w.edits = append(w.edits, e)
}

func (w *editWriter) done() ([]Edit, error) {
	if w.seq > maxEditSeq {
		return nil, errors.New("cannot add an edit: the history has reached its largest sequence number")
	}
	return w.edits, nil
}

// Add adds edits made elsewhere (read from a file, or from another person's
// copy) and returns those that were not here yet. Adding is a union: order and
// repetition don't matter. It fails, adding nothing, if an edit is malformed or
// has the ID of a different edit.
func (l *Log) Add(edits ...Edit) (added []Edit, err error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.add(edits)
}

// Fresh returns the edits Add would add, without adding them, so that a store
// can write them down first. It fails as Add does.
func (l *Log) Fresh(edits ...Edit) ([]Edit, error) {
	l.mu.RLock()
	defer l.mu.RUnlock()
	fresh, err := l.fresh(edits)
	return editsOf(fresh), err
}

func (l *Log) add(edits []Edit) ([]Edit, error) {
	fresh, err := l.fresh(edits)
	if err != nil {
		return nil, err
	}
	l.fold(fresh)
	return editsOf(fresh), nil
}

// fresh checks edits and picks those that are not here yet.
func (l *Log) fresh(edits []Edit) ([]*logNode, error) {
	fresh := make([]*logNode, 0, len(edits))
	byID := make(map[ID]*logNode, len(edits))
	for i := range edits {
		n, err := newNode(edits[i])
		if err != nil {
			return nil, err
		}
		have := l.edits[n.ID]
		if have == nil {
			have = byID[n.ID]
		}
		if have != nil {
			if !sameEdit(have.Edit, n.Edit) {
				return nil, fmt.Errorf("edit %s exists in two different versions: one of the copies was changed by another program", n.ID)
			}
			continue
		}
		byID[n.ID] = n
		fresh = append(fresh, n)
	}
	return fresh, nil
}

func editsOf(nodes []*logNode) []Edit {
	out := make([]Edit, len(nodes))
	for i, n := range nodes {
		out[i] = n.Edit
	}
	return out
}

// compareNodes sorts by (Seq, ID), the order in which the last one stands.
func compareNodes(a, b *logNode) int {
	return cmp.Or(cmp.Compare(a.Seq, b.Seq), strings.Compare(string(a.ID), string(b.ID)))
}

func (l *Log) heads(r Record) []*logNode {
	if h := l.records[r]; h != nil {
		return h.heads
	}
	return nil
}

// Value returns a record's standing value as stored; nil if there is none.
func (l *Log) Value(r Record) []byte {
	l.mu.RLock()
	defer l.mu.RUnlock()
	heads := l.heads(r)
	if len(heads) == 0 {
		return nil
	}
	return slices.Clone(heads[len(heads)-1].Value)
}

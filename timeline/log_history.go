package timeline

import (
	"cmp"
	"slices"
	"time"
)

// logGroup is the edits one action made.
type logGroup struct {
	id    ID
	nodes []*logNode // by (Seq, ID)
	index map[Record][]*logNode
}

// first carries what is said of the group as a whole.
func (g *logGroup) first() *logNode { return g.nodes[0] }

func (g *logGroup) isUndo() bool { return g.first().Undoes != "" }

// of returns the group's edits of one record. An import can be one group of
// thousands, so large groups keep an index.
func (g *logGroup) of(r Record) []*logNode {
	if len(g.nodes) > 16 {
		if g.index == nil {
			g.index = make(map[Record][]*logNode, len(g.nodes))
			for _, n := range g.nodes {
				g.index[n.Record] = append(g.index[n.Record], n)
			}
		}
		return g.index[r]
	}
	var out []*logNode
	for _, n := range g.nodes {
		if n.Record == r {
			out = append(out, n)
		}
	}
	return out
}

func (l *Log) groupIn(n *logNode) {
	g := l.groups[n.Group]
	if g == nil {
		g = &logGroup{id: n.Group}
		l.groups[n.Group] = g
	}
	i, _ := slices.BinarySearchFunc(g.nodes, n, compareNodes)
	g.nodes = slices.Insert(g.nodes, i, n)
	g.index = nil
	if of := cmp.Or(n.Undoes, n.Redoes); of != "" {
		l.spent[of] = true
	}
}

// Action is one line of the history: a group of edits.
type Action struct {
	Group   ID
	Author  string
	At      time.Time
	Label   string
	Records []Record
	Undoes  ID // the group this is the undo of
	Redoes  ID // the undo this takes back
	Undone  bool
}

// History returns all actions, the oldest first.
func (l *Log) History() []Action {
	l.mu.Lock() // groups are indexed as they are looked into
	defer l.mu.Unlock()
	var out []Action
	for _, n := range l.sorted {
		g := l.groups[n.Group]
		if g.first() != n {
			continue
		}
		a := Action{
			Group: g.id, Author: n.Author, At: n.At, Label: n.Label,
			Undoes: n.Undoes, Redoes: n.Redoes, Undone: l.spent[g.id],
		}
		for _, m := range g.nodes {
			if g.of(m.Record)[0] == m {
				a.Records = append(a.Records, m.Record)
			}
		}
		out = append(out, a)
	}
	return out
}

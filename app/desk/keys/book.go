package keys

import (
	"fmt"
	"slices"
)

// Press is one key going down, as the window system tells it.
type Press struct {
	Name             string // "" when the layout has no name for it
	Code             int    // hardware code, 0 when there is none
	Ctrl, Shift, Alt bool
	Held             bool // the key is held and goes down again by itself
}

// Everywhere is the scope of actions that hold in every task.
const Everywhere = ""

// Action is one thing a key can do.
type Action struct {
	ID    string // stable, kept in the settings: "log.lead.home"
	Scope string // the task's ID, or Everywhere
	Title string // what it does, for the list of keys
	Group string // heading in the list of keys
	Keys  []Chord
	Run   func()
	// Repeats: holding the key does it again and again (stepping, not logging).
	Repeats bool
}

// Book holds the actions of the desk and finds the one a press means.
type Book struct {
	actions []*Action
	own     map[string]string // rebound: action to chord
}

// NewBook starts a book; own are a person's own chords by action.
func NewBook(own map[string]string) *Book { return &Book{own: own} }

// Add registers actions. A person's own chord replaces the given ones; one that
// is not readable any more is left out.
func (b *Book) Add(actions ...Action) {
	for _, a := range actions {
		if text, ok := b.own[a.ID]; ok {
			if c, err := Parse(text); err == nil {
				a.Keys = []Chord{c}
			}
		}
		b.actions = append(b.actions, &a)
	}
}

// Find returns the action that a press means in a task: the task's own go before
// those of everywhere, and a position before a name, so that logging keys work on
// every layout.
func (b *Book) Find(scope string, p Press) (*Action, bool) {
	wanted := make([]Chord, 0, 2)
	if at := Position(p.Code); at != "" {
		wanted = append(wanted, Chord{at, p.Ctrl, p.Shift, p.Alt})
	}
	if p.Name != "" {
		wanted = append(wanted, Chord{p.Name, p.Ctrl, p.Shift, p.Alt})
	}
	for _, s := range []string{scope, Everywhere} {
		for _, c := range wanted {
			for _, a := range b.actions {
				if a.Scope == s && slices.Contains(a.Keys, c) {
					return a, true
				}
			}
		}
	}
	return nil, false
}

// Rebind gives an action another chord. The error says which action has it already.
func (b *Book) Rebind(id string, c Chord) error {
	a := b.Action(id)
	if a == nil {
		return fmt.Errorf("there is no action %q", id)
	}
	for _, o := range b.actions {
		if o != a && (o.Scope == a.Scope || o.Scope == Everywhere || a.Scope == Everywhere) && slices.Contains(o.Keys, c) {
			return fmt.Errorf("%s is taken by: %s", c, o.Title)
		}
	}
	a.Keys = []Chord{c}
	if b.own == nil {
		b.own = map[string]string{}
	}
	b.own[id] = c.String()
	return nil
}

// Own are the rebound actions, to be kept in the settings.
func (b *Book) Own() map[string]string { return b.own }

// Action is the action of that ID, nil when there is none.
func (b *Book) Action(id string) *Action {
	for _, a := range b.actions {
		if a.ID == id {
			return a
		}
	}
	return nil
}

// Actions lists all actions in the order they were added.
func (b *Book) Actions() []*Action { return b.actions }

// Clashes lists pairs of actions that one press could mean both.
func (b *Book) Clashes() [][2]string {
	var out [][2]string
	for i, a := range b.actions {
		for _, o := range b.actions[i+1:] {
			if a.Scope != o.Scope && a.Scope != Everywhere && o.Scope != Everywhere {
				continue
			}
			for _, c := range a.Keys {
				if slices.Contains(o.Keys, c) {
					out = append(out, [2]string{a.ID, o.ID})
				}
			}
		}
	}
	return out
}

// With lists every chord with a modifier that any action has, so that the window
// can ask for them.
func (b *Book) With() []Chord {
	var out []Chord
	for _, a := range b.actions {
		for _, c := range a.Keys {
			if (c.Ctrl || c.Alt) && !slices.Contains(out, c) {
				out = append(out, c)
			}
		}
	}
	return out
}

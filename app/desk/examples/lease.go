package examples

import "sync"

// lease keeps an index open while work goes on in it: who leaves meanwhile leaves
// the closing to the work, so that nobody waits.
type lease struct {
	index
	mu         sync.Mutex
	busy, left bool
}

// work does something with the index, on a goroutine of its own.
func (l *lease) work(do func(index) error) error {
	l.mu.Lock()
	l.busy = true
	l.mu.Unlock()
	err := do(l.index)
	l.mu.Lock()
	defer l.mu.Unlock()
	l.busy = false
	if l.left {
		if e := l.Close(); err == nil {
			err = e
		}
	}
	return err
}

// leave closes the index, or lets the work do it.
func (l *lease) leave() error {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.left = l.busy; l.left {
		return nil
	}
	return l.Close()
}

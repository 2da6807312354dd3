package desk

import (
	"sync"
	"time"

	"fyne.io/fyne/v2"
)

// queued is Fyne's test program with the one thing it lacks of a real window: what
// comes back through fyne.Do waits for the window's goroutine, which is the test's.
type queued struct {
	fyne.App
	driver *queuedDriver
}

func (q *queued) Driver() fyne.Driver { return q.driver }

type queuedDriver struct {
	fyne.Driver
	mu    sync.Mutex
	waits []func()
	came  chan struct{}
}

// newQueued wraps a test program and becomes the current one.
func newQueued(of fyne.App) *queued {
	q := &queued{App: of, driver: &queuedDriver{Driver: of.Driver(), came: make(chan struct{}, 1)}}
	fyne.SetCurrentApp(q)
	return q
}

func (d *queuedDriver) DoFromGoroutine(f func(), wait bool) {
	done := make(chan struct{})
	d.mu.Lock()
	d.waits = append(d.waits, func() { f(); close(done) })
	d.mu.Unlock()
	select {
	case d.came <- struct{}{}:
	default:
	}
	if wait {
		<-done
	}
}

// pump does what waits, for so long.
func (q *queued) pump(long time.Duration) {
	end := time.After(long)
	for {
		q.driver.mu.Lock()
		list := q.driver.waits
		q.driver.waits = nil
		q.driver.mu.Unlock()
		for _, f := range list {
			f()
		}
		select {
		case <-end:
			return
		case <-q.driver.came:
		}
	}
}

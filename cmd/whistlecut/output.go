package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"

	"whistlecut/app"
)

// printJSON writes v indented, with a newline at the end.
func (e *env) printJSON(v any) error {
	enc := json.NewEncoder(e.out)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}

func (e *env) printf(format string, args ...any) { fmt.Fprintf(e.out, format, args...) }

// checkedWriter remembers the first error of what is printed, so that a result
// that went nowhere is not called a success.
type checkedWriter struct {
	to  io.Writer
	err error
}

func (w *checkedWriter) Write(b []byte) (int, error) {
	n, err := w.to.Write(b)
	if err != nil && w.err == nil {
		w.err = err
	}
	return n, err
}

// count is a number with its noun in the singular or with an s.
func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// table prints rows in columns as wide as their longest cell.
func (e *env) table(rows [][]string) {
	var width []int
	for _, r := range rows {
		for i, c := range r {
			if i == len(width) {
				width = append(width, 0)
			}
			width[i] = max(width[i], len([]rune(c)))
		}
	}
	for _, r := range rows {
		var b strings.Builder
		for i, c := range r {
			b.WriteString(c)
			if i < len(r)-1 {
				b.WriteString(strings.Repeat(" ", width[i]-len([]rune(c))+2))
			}
		}
		e.printf("%s\n", strings.TrimRight(b.String(), " "))
	}
}

// progressPrinter shows progress on one line of a terminal and stays quiet in a pipe.
func progressPrinter(w io.Writer) func(app.Progress) {
	f, ok := w.(*os.File)
	if !ok {
		return nil
	}
	if st, err := f.Stat(); err != nil || st.Mode()&os.ModeCharDevice == 0 {
		return nil
	}
	var mu sync.Mutex
	var last time.Time
	return func(p app.Progress) {
		mu.Lock()
		defer mu.Unlock()
		if p.Fraction < 1 && time.Since(last) < 200*time.Millisecond {
			return
		}
		last = time.Now()
		fmt.Fprintf(w, "\r\x1b[K%s %3.0f %%", p.Doing, 100*p.Fraction)
		if p.Fraction >= 1 {
			fmt.Fprint(w, "\r\x1b[K")
		}
	}
}

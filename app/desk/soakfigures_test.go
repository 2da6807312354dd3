package desk

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// figures are what the program holds at one moment.
type figures struct {
	heap, rss  float64 // MB; after collecting garbage
	goroutines int
	children   int // processes, dead ones that nobody waited for included
}

func measured() figures {
	runtime.GC()
	debug.FreeOSMemory()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return figures{heap: float64(m.HeapAlloc) / (1 << 20), rss: resident(), goroutines: runtime.NumGoroutine(), children: len(children())}
}

func (f figures) String() string {
	return fmt.Sprintf("heap %5.1f MB, resident %6.1f MB, %3d goroutines, %d processes", f.heap, f.rss, f.goroutines, f.children)
}

// resident is the memory this process holds in MB, 0 where the system does not say.
func resident() float64 {
	data, err := os.ReadFile("/proc/self/statm")
	if err != nil {
		return 0
	}
	f := strings.Fields(string(data))
	if len(f) < 2 {
		return 0
	}
	pages, _ := strconv.ParseFloat(f[1], 64)
	return pages * float64(os.Getpagesize()) / (1 << 20)
}

// children names the processes that this one started and that are still there.
func children() []string {
	var out []string
	all, _ := filepath.Glob("/proc/[0-9]*/stat")
	for _, p := range all {
		data, err := os.ReadFile(p)
		if err != nil {
			continue
		}
		// "pid (name) state parent ...", where the name may hold anything.
		open, shut := bytes.IndexByte(data, '('), bytes.LastIndexByte(data, ')')
		if open < 0 || shut < open {
			continue
		}
		f := strings.Fields(string(data[shut+1:]))
		if len(f) > 1 && f[1] == strconv.Itoa(os.Getpid()) {
			out = append(out, string(data[open+1:shut])+" "+f[0])
		}
	}
	return out
}

// ours are the goroutines that run code of this program, other than the test's own
// and those that names, parts of their stacks, let stay.
func ours(but ...string) []string {
	buf := make([]byte, 4<<20)
	var out []string
next:
	for _, g := range strings.Split(string(buf[:runtime.Stack(buf, true)]), "\n\n") {
		if !strings.Contains(g, "whistlecut/") || strings.Contains(g, "testing.tRunner") || strings.Contains(g, "desk.TestMain") {
			continue
		}
		for _, b := range but {
			if strings.Contains(g, b) {
				continue next
			}
		}
		out = append(out, g)
	}
	return out
}

// What may grow from the first tenth of the use to its end. The window's own
// toolkit and the memory allocator keep some of what they once needed.
const (
	heapMargin     = 12 // MB
	residentMargin = 64 // MB
	othersMargin   = 4  // goroutines that are not ours
)

// grown compares the middle of the last quarter with the first figures and says
// what grew by more than its margin: a single peak is not growth.
func grown(f []figures) []string {
	last := f[len(f)-max(len(f)/4, 1):]
	var out []string
	for _, c := range []struct {
		what   string
		of     func(figures) float64
		margin float64
	}{
		{"heap (MB)", func(f figures) float64 { return f.heap }, heapMargin},
		{"resident memory (MB)", func(f figures) float64 { return f.rss }, residentMargin},
		{"goroutines", func(f figures) float64 { return float64(f.goroutines) }, othersMargin},
		{"processes", func(f figures) float64 { return float64(f.children) }, othersMargin},
	} {
		var v []float64
		for _, x := range last {
			v = append(v, c.of(x))
		}
		slices.Sort(v)
		if was, now := c.of(f[0]), v[len(v)/2]; now > was+c.margin {
			out = append(out, fmt.Sprintf("%s grew from %.1f to %.1f, margin %.0f", c.what, was, now, c.margin))
		}
	}
	return out
}

func TestGrowthIsSeen(t *testing.T) {
	flat := figures{heap: 40, rss: 100, goroutines: 5}
	for _, c := range []struct {
		name string
		last figures // of each round from the second half on
		want string
	}{
		{"flat", flat, ""},
		{"within the margin", figures{heap: 50, rss: 150, goroutines: 8}, ""},
		{"heap", figures{heap: 53, rss: 100, goroutines: 5}, "heap"},
		{"resident", figures{heap: 40, rss: 165, goroutines: 5}, "resident"},
		{"goroutines", figures{heap: 40, rss: 100, goroutines: 10}, "goroutines"},
		{"processes", figures{heap: 40, rss: 100, goroutines: 5, children: 5}, "processes"},
	} {
		t.Run(c.name, func(t *testing.T) {
			list := []figures{flat, flat, flat, flat, c.last, c.last, c.last, c.last}
			got := strings.Join(grown(list), "; ")
			if (c.want == "") != (got == "") || !strings.Contains(got, c.want) {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
	if peak := grown([]figures{flat, flat, flat, flat, flat, flat, {heap: 900}, flat, flat, flat, flat, flat}); len(peak) != 0 {
		t.Errorf("a single peak is called growth: %v", peak)
	}
}

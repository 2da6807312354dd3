package desk

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
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

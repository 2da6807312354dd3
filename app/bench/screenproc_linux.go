package bench

import (
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// own lists the numbers of this process's children and the fields of their
// stat files from the third on (proc(5)).
func own() (list map[string][]string) {
	list = map[string][]string{}
	stats, _ := filepath.Glob("/proc/[0-9]*/stat") // the pattern is good
	me := strconv.Itoa(os.Getpid())
	for _, path := range stats {
		data, err := os.ReadFile(path)
		if err != nil {
			continue // it has ended
		}
		at := bytes.LastIndexByte(data, ')')
		if f := strings.Fields(string(data[at+1:])); len(f) > 21 && f[1] == me {
			list[filepath.Base(filepath.Dir(path))] = f
		}
	}
	return list
}

// childrenTime is the processor time used by children that run now, which
// cpuTime does not count yet.
func childrenTime() (sum time.Duration) {
	for _, f := range own() {
		for _, i := range []int{11, 12} { // utime and stime in hundredths of a second
			n, _ := strconv.Atoi(f[i])
			sum += time.Duration(n) * 10 * time.Millisecond
		}
	}
	return sum
}

// residentMemory is what this process and what its children hold, in bytes.
func residentMemory() (self, children int64) {
	page := int64(os.Getpagesize())
	for _, f := range own() {
		n, _ := strconv.ParseInt(f[21], 10, 64)
		children += n * page
	}
	data, err := os.ReadFile("/proc/self/statm")
	if err != nil {
		return 0, 0
	}
	if f := strings.Fields(string(data)); len(f) > 1 {
		n, _ := strconv.ParseInt(f[1], 10, 64)
		self = n * page
	}
	return self, children
}

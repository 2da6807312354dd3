package app

import (
	"fmt"
	"strconv"
	"strings"
)

// ParseSize reads a size as people write it: "64MB", "64 MB", "900kB", "1.5GB";
// a bare number is in megabytes. Nothing is 0. The result is in bytes.
func ParseSize(text string) (int64, error) {
	t := strings.ToUpper(strings.ReplaceAll(strings.TrimSpace(text), ",", "."))
	if t == "" {
		return 0, nil
	}
	unit := 1e6
	for _, u := range []struct {
		end string
		n   float64
	}{{"GB", 1e9}, {"MB", 1e6}, {"KB", 1e3}, {"G", 1e9}, {"M", 1e6}, {"K", 1e3}} {
		if rest, ok := strings.CutSuffix(t, u.end); ok {
			t, unit = strings.TrimSpace(rest), u.n
			break
		}
	}
	v, err := strconv.ParseFloat(t, 64)
	if err != nil || !(v > 0) || v > 1e6 {
		return 0, fmt.Errorf("%q is not a size; write 64MB or 900kB", text)
	}
	return int64(v * unit), nil
}

// SizeText writes bytes as megabytes.
func SizeText(n int64) string { return strconv.FormatFloat(float64(n)/1e6, 'f', 1, 64) + " MB" }

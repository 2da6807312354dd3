package ffmpeg

import (
	"io"
	"os"
	"slices"
	"strings"
)

// Local returns a path in the form that ffmpeg takes for a local file and for
// nothing else: names that look like an option ("-y.mp4"), a pipe or an address
// ("http:...") stay file names.
func Local(path string) string {
	if path == "" {
		return path
	}
	return "file:" + path
}

// Input returns the arguments that open a local film for reading. Playlists and
// other lists of addresses in disguise may open neither other protocols nor the
// network. Options for the input go before it.
func Input(path string) []string {
	return []string{"-protocol_whitelist", "file,pipe", "-i", Local(path)}
}

func plainPath(arg string) string { return strings.TrimPrefix(arg, "file:") }

// inputsOf returns the paths after each -i of an argument list.
func inputsOf(args []string) []string {
	var paths []string
	for i := 0; i+1 < len(args); i++ {
		if args[i] == "-i" {
			paths = append(paths, plainPath(args[i+1]))
		}
	}
	return paths
}

// boxTypes are those that a film of the MP4 family may begin with (ISO/IEC
// 14496-12 and, for the last ones, the QuickTime file format).
var boxTypes = []string{"ftyp", "moov", "mdat", "free", "skip", "styp", "wide", "pnot", "uuid"}

// anyMP4 tells whether one of the files begins like an MP4 or MOV.
func anyMP4(paths []string) bool {
	return slices.ContainsFunc(paths, func(path string) bool {
		f, err := os.Open(path)
		if err != nil {
			return false
		}
		defer f.Close() // only read
		head := make([]byte, 8)
		if _, err := io.ReadFull(f, head); err != nil {
			return false
		}
		return slices.Contains(boxTypes, string(head[4:]))
	})
}

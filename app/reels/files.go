package reels

import (
	"os"
	"unicode/utf8"
)

func isFile(path string) bool {
	st, err := os.Stat(path)
	return err == nil && !st.IsDir()
}

func writeFile(path string, data []byte) error { return os.WriteFile(path, data, 0o644) }

func lastRune(s string) (rune, int) { return utf8.DecodeLastRuneInString(s) }

func first(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return list[0]
}

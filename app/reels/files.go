package reels

import "os"

func isFile(path string) bool {
	st, err := os.Stat(path)
	return err == nil && !st.IsDir()
}

// first is the main language of a reel.
func first(languages []string) string {
	if len(languages) == 0 {
		return ""
	}
	return languages[0]
}

package desk

import (
	"os"

	"whistlecut/app"
)

// backup copies a bout file. The system's dialog has made an empty file of that
// name already, which is not somebody's work.
func backup(s *app.Session, path string) error {
	if st, err := os.Stat(path); err == nil && st.Size() == 0 {
		os.Remove(path)
	}
	return s.File.Backup(path)
}

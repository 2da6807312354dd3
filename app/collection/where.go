package collection

import (
	"os"
	"path/filepath"

	"github.com/adrg/xdg"
)

// DefaultPath is where a person's index lies: WHISTLECUT_COLLECTION if set (tests,
// a stick), else whistlecut/collection.db in the user's data folder.
func DefaultPath() string {
	if p := os.Getenv("WHISTLECUT_COLLECTION"); p != "" {
		return p
	}
	return filepath.Join(xdg.DataHome, "whistlecut", "collection.db")
}

package bench

import "os"

// workFolder is dir, or without one a temporary folder of that pattern, which
// done removes.
func workFolder(dir, pattern string) (folder string, done func(), err error) {
	if dir != "" {
		return dir, func() {}, nil
	}
	folder, err = os.MkdirTemp("", pattern)
	return folder, func() { os.RemoveAll(folder) }, err
}

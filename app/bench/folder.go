package bench

import "os"

// workFolder is dir, made where it is missing, or without one a temporary folder of
// that pattern, which done removes.
func workFolder(dir, pattern string) (folder string, done func(), err error) {
	if dir != "" {
		return dir, func() {}, os.MkdirAll(dir, 0o777)
	}
	folder, err = os.MkdirTemp("", pattern)
	return folder, func() { os.RemoveAll(folder) }, err
}

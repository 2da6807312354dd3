//go:build !unix

package boutfile

// syncFolder does nothing: folders cannot be synced on this system.
func syncFolder(string) error { return nil }

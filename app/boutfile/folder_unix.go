//go:build unix

package boutfile

import (
	"errors"
	"os"
	"syscall"
)

// syncFolder makes a rename last through a loss of power.
func syncFolder(folder string) error {
	d, err := os.Open(folder)
	if err != nil {
		return err
	}
	err = d.Sync()
	if errors.Is(err, syscall.EINVAL) { // some network disks cannot
		err = nil
	}
	return errors.Join(err, d.Close())
}

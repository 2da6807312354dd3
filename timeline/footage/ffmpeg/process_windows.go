//go:build windows

package ffmpeg

import (
	"errors"
	"os"
	"os/exec"
	"syscall"
)

// createNoWindow keeps a console window from flashing up (CREATE_NO_WINDOW in
// the Windows process creation flags).
const createNoWindow = 0x08000000

// setGroup starts the child without a console window and in a process group of
// its own, so that Ctrl-C in the terminal reaches us alone.
func setGroup(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{
		HideWindow:    true,
		CreationFlags: createNoWindow | syscall.CREATE_NEW_PROCESS_GROUP,
	}
}

// interrupt kills: a child without our console can't be sent a console event.
// Outputs carry a temporary name until they are whole, so nothing half-written
// is taken for a film.
func interrupt(cmd *exec.Cmd) error { return kill(cmd) }

// kill ends the child at once. ffmpeg has no children of its own.
func kill(cmd *exec.Cmd) error {
	if cmd.Process == nil {
		return os.ErrProcessDone
	}
	return cmd.Process.Kill()
}

// isDiskFull recognises ERROR_HANDLE_DISK_FULL and ERROR_DISK_FULL (system
// error codes 39 and 112).
func isDiskFull(err error) bool {
	return errors.Is(err, syscall.Errno(39)) || errors.Is(err, syscall.Errno(112))
}

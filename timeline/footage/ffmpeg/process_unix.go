//go:build unix

package ffmpeg

import (
	"errors"
	"os"
	"os/exec"
	"syscall"
)

// setGroup puts the child into a process group of its own, so that Ctrl-C in
// the terminal reaches us alone and we end the child in order.
func setGroup(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
}

// interrupt asks the child's group to stop as Ctrl-C would.
func interrupt(cmd *exec.Cmd) error {
	return signalGroup(cmd, syscall.SIGINT)
}

// kill ends the child's group at once.
func kill(cmd *exec.Cmd) error {
	return signalGroup(cmd, syscall.SIGKILL)
}

func signalGroup(cmd *exec.Cmd, sig syscall.Signal) error {
	if cmd.Process == nil || cmd.Process.Pid <= 0 {
		return os.ErrProcessDone
	}
	err := syscall.Kill(-cmd.Process.Pid, sig)
	if err == syscall.ESRCH {
		return os.ErrProcessDone
	}
	return err
}

// isDiskFull recognises the error of a full disk or a used-up quota.
func isDiskFull(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT)
}

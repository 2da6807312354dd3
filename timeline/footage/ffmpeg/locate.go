package ffmpeg

import (
	"errors"
	"fmt"
	"os/exec"
	"runtime"
)

// locate finds one of the two programs: an explicit path first, then the one in
// the environment, then PATH.
func locate(name, explicit, fromEnv, envName string) (string, error) {
	want, origin := name, "on the PATH"
	switch {
	case explicit != "":
		want, origin = explicit, "as set"
	case fromEnv != "":
		want, origin = fromEnv, "as "+envName+" says"
	}
	path, err := exec.LookPath(want)
	if err == nil || errors.Is(err, exec.ErrDot) && path != "" && explicit+fromEnv != "" {
		return path, nil
	}
	return "", &Error{
		Kind:   NotInstalled,
		Doing:  "start " + name,
		Detail: fmt.Sprintf("%q was not found %s", want, origin),
		Hint:   installHint(envName),
		Err:    err,
	}
}

func installHint(envName string) string {
	how := "install ffmpeg from your system's packages"
	switch runtime.GOOS {
	case "linux":
		how = "install it with your package manager (Debian and Ubuntu: sudo apt install ffmpeg)"
	case "darwin":
		how = "install it (for instance: brew install ffmpeg)"
	case "windows":
		how = "install it (for instance: winget install ffmpeg)"
	}
	return how + ", or put its path into " + envName
}

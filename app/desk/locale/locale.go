// Package locale gives programs that were started without a locale an English
// one. Fyne looks at the environment while it is initialised and complains of
// "C", which is what servers, cron and bare machines have; every command would
// begin with three lines of noise.
//
// It is a module of its own for its name alone: Go initialises packages that are
// ready in the order of their paths, so that this one comes before Fyne's.
package locale

import "os"

func init() {
	for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		switch v := os.Getenv(name); v {
		case "":
			continue
		case "C", "POSIX", "C.UTF-8", "C.utf8":
			os.Setenv(name, "en_GB.UTF-8")
			return
		default:
			return
		}
	}
	os.Setenv("LANG", "en_GB.UTF-8")
}

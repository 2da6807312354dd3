package boutfile

import (
	"os"
	"os/exec"
	"regexp"
	"strings"
	"testing"
)

// TestLibcIsSQLitesOwn: the SQLite port is translated against one version of
// modernc.org/libc and breaks, perhaps silently, with any other.
func TestLibcIsSQLitesOwn(t *testing.T) {
	list := func(format, module string) string {
		out, err := exec.Command("go", "list", "-m", "-f", format, module).CombinedOutput()
		if err != nil {
			t.Fatalf("go list -m %s: %v: %s", module, err, out)
		}
		return strings.TrimSpace(string(out))
	}
	used := list("{{.Version}}", "modernc.org/libc")
	mod, err := os.ReadFile(list("{{.GoMod}}", "modernc.org/sqlite"))
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`(?m)^\s*(?:require )?modernc\.org/libc (v\S+)`).FindSubmatch(mod)
	if m == nil {
		t.Fatal("go.mod of modernc.org/sqlite names no modernc.org/libc")
	}
	if want := string(m[1]); used != want {
		t.Errorf("modernc.org/libc is %s, modernc.org/sqlite needs %s: set it in go.mod", used, want)
	}
}

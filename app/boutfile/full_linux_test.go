package boutfile

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"syscall"
	"testing"

	"whistlecut/app/database/crash"
	"whistlecut/timeline"
)

func init() { crash.Child("full disk", onFullDisk) }

// TestFullDisk runs onFullDisk in a mount namespace of its own, in which a
// folder can be a disk of a few hundred kilobytes without touching the machine.
func TestFullDisk(t *testing.T) {
	run := func(flags uintptr) (string, error) {
		cmd := exec.Command(os.Args[0])
		cmd.Env = crash.Env("full disk", "WHISTLECUT_BOUT="+t.TempDir())
		cmd.SysProcAttr = &syscall.SysProcAttr{Cloneflags: flags}
		if flags&syscall.CLONE_NEWUSER != 0 {
			cmd.SysProcAttr.UidMappings = []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}}
			cmd.SysProcAttr.GidMappings = []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}}
		}
		var out bytes.Buffer
		cmd.Stdout, cmd.Stderr = &out, &out
		err := cmd.Run()
		return out.String(), err
	}
	out, err := run(syscall.CLONE_NEWUSER | syscall.CLONE_NEWNS)
	if noMount(out, err) && os.Getuid() == 0 {
		out, err = run(syscall.CLONE_NEWNS) // root needs no user namespace
	}
	if noMount(out, err) {
		t.Skipf("FULL DISK NOT TESTED: this machine allows no user namespaces and the test does not run as root (%v %s)", err, out)
	}
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	t.Log(out)
}

const cannotMount = "cannot mount a small disk"

// noMount reports whether the child could not even get its disk.
func noMount(out string, err error) bool {
	var exit *exec.ExitError
	return err != nil && (!errors.As(err, &exit) || strings.Contains(out, cannotMount))
}

// onFullDisk fills a small disk with a bout on it and checks what each action says
// and leaves.
func onFullDisk() int {
	folder := os.Getenv("WHISTLECUT_BOUT")
	if err := syscall.Mount("tmpfs", folder, "tmpfs", 0, "size=600k"); err != nil {
		fmt.Println(cannotMount, err)
		return 1
	}
	var wrong []string
	check := func(ok bool, format string, args ...any) {
		if !ok {
			wrong = append(wrong, fmt.Sprintf(format, args...))
		}
	}
	sentence := func(doing string, err error) {
		fmt.Printf("%s: %v\n", doing, err)
		var f *Fault
		check(err != nil, "%s succeeded on a full disk", doing)
		check(err == nil || errors.As(err, &f) && strings.Contains(err.Error(), "full"), "%s: no sentence about a full disk: %v", doing, err)
	}
	names := func() string {
		entries, _ := os.ReadDir(folder)
		var s []string
		for _, e := range entries {
			s = append(s, e.Name())
		}
		return strings.Join(s, " ")
	}

	path := filepath.Join(folder, "a.bout")
	f, err := Create(path, Options{Author: "Ada"})
	if err != nil {
		fmt.Println(err)
		return 1
	}
	var full error
	i := 0
	for ; full == nil && i < 10_000; i++ {
		_, _, full = f.Apply("note", note(fmt.Sprint("t", i), strings.Repeat("long note ", 300)), note("u", fmt.Sprint(i)))
	}
	sentence("adding an edit", full)
	facts, edits := f.Log().Facts(), f.Log().Edits()
	check(len(edits) > 20, "only %d edits fitted", len(edits))
	for range 3 { // the last block may still take something small
		_, _, err = f.Apply("sheet", sheetOf(600_000, `{}`))
	}
	sentence("adding a sheet", err)
	check(reflect.DeepEqual(facts, f.Log().Facts()), "a refused edit changed the facts")

	// Nothing may be left of what cannot be written whole.
	filler := filepath.Join(folder, "filler")
	os.WriteFile(filler, make([]byte, 600_000), 0o644) // as much as there is room for
	before := names()
	sentence("a backup copy", f.Backup(filepath.Join(folder, "copy.bout")))
	_, err = Create(filepath.Join(folder, "b.bout"), Options{})
	sentence("creating", err)
	sentence("an export", f.Export(filepath.Join(folder, "x.json"), timeline.ExchangeHistory))
	check(names() == before, "left behind: %s (before: %s)", names(), before)

	read, err := Open(path, Options{ReadOnly: true})
	check(err == nil, "reading on the full disk: %v", err)
	check(err != nil || reflect.DeepEqual(edits, read.Log().Edits()), "what is on the disk is not what was confirmed")

	// With room again the same opening goes on.
	os.Remove(filler)
	os.Remove(filepath.Join(folder, "x.json"))
	if err := syscall.Mount("", folder, "", syscall.MS_REMOUNT, "size=2m"); err != nil {
		fmt.Println("cannot enlarge the disk:", err)
		return 1
	}
	_, _, err = f.Apply("again", note("again", "there is room"))
	check(err == nil, "with room again: %v", err)
	check(f.Close() == nil, "closing: %v", err)
	check(names() == "a.bout", "after closing: %s", names())
	again, err := Open(path, Options{Author: "Ada"})
	if err != nil {
		fmt.Println(err)
		return 1
	}
	check(again.Log().Len() == len(edits)+1, "after reopening: %d edits", again.Log().Len())

	// Closed while the disk is full, and opened while it still is.
	os.WriteFile(filler, make([]byte, 800_000), 0o644)
	for full, i = nil, 0; full == nil && i < 10_000; i++ {
		_, _, full = again.Apply("note", note(fmt.Sprint("v", i), strings.Repeat("long note ", 300)))
	}
	edits = again.Log().Edits()
	fmt.Printf("closing: %v\n", again.Close())
	read, err = Open(path, Options{ReadOnly: true})
	check(err == nil && reflect.DeepEqual(edits, read.Log().Edits()), "reading after closing on the full disk: %v", err)
	third, err := Open(path, Options{Author: "Ada"})
	fmt.Printf("opening: %v\n", err)
	if err == nil {
		check(reflect.DeepEqual(edits, third.Log().Edits()), "opened on the full disk: other edits")
		fmt.Printf("closing: %v\n", third.Close())
	}
	os.Remove(filler)
	third, err = Open(path, Options{Author: "Ada"})
	check(err == nil && reflect.DeepEqual(edits, third.Log().Edits()), "opened with room again: %v", err)
	if err == nil {
		check(third.Close() == nil && names() == "a.bout", "after the last closing: %s", names())
	}
	for _, w := range wrong {
		fmt.Println("WRONG:", w)
	}
	return min(1, len(wrong))
}

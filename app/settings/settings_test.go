package settings

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestRoundTrip(t *testing.T) {
	path := filepath.Join(t.TempDir(), "deep", "settings.json")
	s, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	s.Language, s.Scale, s.Keys = "de", 1.25, map[string]string{"mark": "M"}
	s.Opened("/bouts/a.bout")
	s.Opened("/bouts/b.bout")
	s.Opened("/bouts/a.bout")
	if err := s.Save(); err != nil {
		t.Fatal(err)
	}
	back, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	if back.Language != "de" || back.TextScale() != 1.25 || back.Keys["mark"] != "M" {
		t.Errorf("got %+v", back)
	}
	if got := strings.Join(back.Recent, " "); got != "/bouts/a.bout /bouts/b.bout" {
		t.Errorf("recent %q", got)
	}
}

func TestUnreadableIsKept(t *testing.T) {
	path := filepath.Join(t.TempDir(), "settings.json")
	if err := os.WriteFile(path, []byte("{not json"), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := Load(path)
	if err == nil || s == nil || s.TextScale() != 1 {
		t.Fatalf("settings %+v, error %v", s, err)
	}
	if err := s.Save(); err != nil {
		t.Fatal(err)
	}
	if old, err := os.ReadFile(path + ".unreadable"); err != nil || string(old) != "{not json" {
		t.Errorf("the unreadable file is gone: %q, %v", old, err)
	}
}

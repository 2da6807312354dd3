// Package settings keeps what one person prefers on one machine: language,
// theme, keys, how much film a clip shows, and the bouts she had open last. It
// is one JSON file in the user's configuration folder; what a bout needs is in
// the bout file instead.
package settings

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// Settings are one person's preferences. The zero value of a field means the
// program's default, so that an older file gets new defaults.
type Settings struct {
	Language string `json:"language,omitempty"` // "en", "es", "fr", "de"; empty follows the system
	Theme    string `json:"theme,omitempty"`    // "dark", "light"; empty is dark
	// Scale is the text scale, 0.8..2; 0 is 1.
	Scale float64 `json:"scale,omitempty"`
	// SafeColours uses the colour-blind-safe pair instead of the teams' own colours.
	SafeColours bool `json:"safe_colours,omitempty"`
	// Keys holds rebound actions only: action to chord ("Ctrl+Z", "upper 1").
	Keys map[string]string `json:"keys,omitempty"`
	// Keyboard is what is printed on the keys, for the legend: "qwerty", "qwertz",
	// "azerty"; empty learns from the keys themselves.
	Keyboard string `json:"keyboard,omitempty"`
	// Before and After are how much film a clip shows round a moment; 0 is by kind.
	Before time.Duration `json:"before,omitempty"`
	After  time.Duration `json:"after,omitempty"`
	// ProxyBytes limits the light copies of film kept for scrubbing; 0 is 8 GB,
	// negative is none.
	ProxyBytes int64 `json:"proxy_bytes,omitempty"`
	// Volume is 0..1 of the sound; nil is 0.8.
	Volume *float64 `json:"volume,omitempty"`
	// Blind is whether Log hides the sheet.
	Blind bool `json:"blind,omitempty"`
	// TourSeen is whether the tour of the desk was finished or skipped.
	TourSeen bool `json:"tour_seen,omitempty"`
	// ClipDir is where clips were cut to last.
	ClipDir string `json:"clip_dir,omitempty"`
	// Quizzes lists folders of quizzes, the latest first.
	Quizzes []string `json:"quizzes,omitempty"`
	// Recent lists bout files, the latest first.
	Recent []string `json:"recent,omitempty"`

	path string
}

// DefaultProxyBytes is the limit of light copies when none is set.
const DefaultProxyBytes = 8 << 30

// most is how many recent bouts are kept.
const most = 12

// Path is where the settings file lies: WHISTLECUT_SETTINGS if set (tests, a
// stick), else whistlecut/settings.json in the user's configuration folder.
func Path() (string, error) {
	if p := os.Getenv("WHISTLECUT_SETTINGS"); p != "" {
		return p, nil
	}
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("no folder for settings: %w", err)
	}
	return filepath.Join(dir, "whistlecut", "settings.json"), nil
}

// Load reads the settings at path. A file that is not there is no error. One
// that cannot be read is moved aside, never overwritten: the settings returned
// with the error are usable defaults.
func Load(path string) (*Settings, error) {
	s := &Settings{path: path}
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return s, nil
	}
	if err != nil {
		return s, fmt.Errorf("the settings could not be read, so the defaults hold: %w", err)
	}
	if err := json.Unmarshal(data, s); err != nil {
		aside := path + ".unreadable"
		if err2 := os.Rename(path, aside); err2 != nil {
			aside = path
		}
		return &Settings{path: path}, fmt.Errorf("the settings in %s are not readable (%v); the defaults hold and the old file is %s", path, err, aside)
	}
	s.Scale = within(s.Scale, 0.8, 2)
	return s, nil
}

func within(v, low, high float64) float64 {
	if v == 0 {
		return 0
	}
	return min(max(v, low), high)
}

// Save writes the settings whole or not at all.
func (s *Settings) Save() error {
	if s.path == "" {
		return nil
	}
	data, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		return err
	}
	dir := filepath.Dir(s.path)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("the settings could not be kept: %w", err)
	}
	f, err := os.CreateTemp(dir, ".settings-*")
	if err != nil {
		return fmt.Errorf("the settings could not be kept: %w", err)
	}
	_, err = f.Write(append(data, '\n'))
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(f.Name(), s.path)
	}
	if err != nil {
		os.Remove(f.Name())
		return fmt.Errorf("the settings could not be kept: %w", err)
	}
	return nil
}

// Opened puts a bout file on top of the recent ones.
func (s *Settings) Opened(path string) { s.Recent = onTop(s.Recent, path) }

// Quizzed puts a quiz's folder on top of those worked with.
func (s *Settings) Quizzed(dir string) { s.Quizzes = onTop(s.Quizzes, dir) }

func onTop(list []string, path string) []string {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	list = slices.DeleteFunc(list, func(p string) bool { return p == path })
	list = slices.Insert(list, 0, path)
	return list[:min(len(list), most)]
}

// TextScale is Scale with its default.
func (s *Settings) TextScale() float64 {
	if s.Scale == 0 {
		return 1
	}
	return s.Scale
}

// SoundVolume is Volume with its default.
func (s *Settings) SoundVolume() float64 {
	if s.Volume == nil {
		return 0.8
	}
	return *s.Volume
}

// ProxyLimit is ProxyBytes with its default; 0 means no light copies are made.
func (s *Settings) ProxyLimit() int64 {
	switch {
	case s.ProxyBytes < 0:
		return 0
	case s.ProxyBytes == 0:
		return DefaultProxyBytes
	}
	return s.ProxyBytes
}

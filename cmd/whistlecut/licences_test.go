package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"testing"
)

// marks are phrases that only the named licence's text contains. All of these
// allow linking into an MIT program; MPL-2 is taken for tests alone.
var marks = []struct{ licence, phrase string }{
	{"MPL-2.0", "mozilla public license version 2.0"},
	{"Apache-2.0", "apache license version 2.0"},
	{"FTL", "the freetype project license"},
	{"Unlicense", "this is free and unencumbered software released into the public domain"},
	{"ISC", "permission to use, copy, modify, and/or distribute this software for any purpose with or without fee"},
	{"ISC", "permission to use, copy, modify, and distribute this software for any purpose with or without fee"},
	{"MIT", "permission is hereby granted, free of charge, to any person obtaining a copy"},
	{"BSD", "redistribution and use in source and binary forms"},
	{"CC0-1.0", "cc0 1.0 universal"},
}

// licenceOf names the licence of a text, or "".
func licenceOf(text string) string {
	flat := strings.ToLower(strings.Join(strings.Fields(text), " "))
	flat = strings.ReplaceAll(flat, "license, version", "license version")
	for _, m := range marks {
		if strings.Contains(flat, m.phrase) {
			return m.licence
		}
	}
	return ""
}

type module struct {
	Path, Version, Dir string
	Main               bool
	Replace            *module
}

// linked lists the modules whose packages the build links, with tests or without.
func linked(t *testing.T, tests bool) map[string]module {
	t.Helper()
	args := []string{"list", "-deps", "-json=Module"}
	if tests {
		args = append(args, "-test")
	}
	cmd := exec.Command("go", append(args, "whistlecut/...")...)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	mods := map[string]module{}
	dec := json.NewDecoder(strings.NewReader(string(out)))
	for dec.More() {
		var p struct{ Module *module } // the standard library's packages have none
		if err := dec.Decode(&p); err != nil {
			t.Fatal(err)
		}
		if m := p.Module; m != nil && !m.Main {
			mods[m.Path] = *m
		}
	}
	return mods
}

func TestLicences(t *testing.T) {
	product := linked(t, false)
	if len(product) < 5 {
		t.Fatalf("only %d modules found; go list gave too little", len(product))
	}
	var names []string
	all := linked(t, true)
	for name := range all {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		m := all[name]
		dir := m.Dir
		if m.Replace != nil && m.Replace.Dir != "" {
			dir = m.Replace.Dir
		}
		if root, err := filepath.Abs("../.."); err == nil && strings.HasPrefix(dir, root+string(filepath.Separator)) {
			continue // a module of our own
		}
		licence := ""
		files, err := os.ReadDir(dir)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, f := range files {
			upper := strings.ToUpper(f.Name())
			if f.IsDir() || !strings.HasPrefix(upper, "LICEN") && !strings.HasPrefix(upper, "COPYING") && !strings.HasPrefix(upper, "UNLICENSE") {
				continue
			}
			text, err := os.ReadFile(filepath.Join(dir, f.Name()))
			if err != nil {
				t.Fatal(err)
			}
			if licence = licenceOf(string(text)); licence != "" {
				break
			}
		}
		_, shipped := product[name]
		switch {
		case licence == "":
			t.Errorf("%s %s has no licence on the list; look at it and decide (%s)", name, m.Version, dir)
		case licence == "MPL-2.0" && shipped:
			t.Errorf("%s %s is MPL-2.0 and linked into the program; it may be used in tests only", name, m.Version)
		}
	}
}

func TestLicenceOf(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"MIT over lines", "Permission is hereby granted, free of\ncharge, to any person obtaining a copy", "MIT"},
		{"GPL is not on the list", "GNU GENERAL PUBLIC LICENSE Version 3", ""},
		{"Apache with a comma", "Apache License, Version 2.0", "Apache-2.0"},
		{"Apache over two lines", "Apache License\n   Version 2.0, January 2004", "Apache-2.0"},
		{"nothing", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := licenceOf(c.text); got != c.want {
				t.Errorf("licenceOf = %q, want %q", got, c.want)
			}
		})
	}
}

package main

// The list of dependencies in DEVELOPERS.md says what go.mod says: every module that
// is imported, with a reason, under the licence that its own file has.

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// licences are known by words of their texts.
var licences = []struct{ name, UsageArgs, without string }{
	{"MIT", "Permission is hereby granted, free of charge", ""},
	{"Apache-2.0", "Apache License", ""},
	{"MPL-2.0", "Mozilla Public License", ""},
	{"BSD-3-Clause", "Neither the name", ""},
	{"BSD-2-Clause", "Redistribution and use in source and binary forms", "Neither the name"},
}

func TestDependenciesAreListed(t *testing.T) {
	t.Parallel()
	goMod, err := os.ReadFile("../../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	docs, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]string{}
	for _, row := range regexp.MustCompile("(?m)^\\| `([a-z0-9.]+/[^`]+)` \\| ([A-Z][^ ]+) \\| [^|]{10,} \\|$").FindAllSubmatch(docs, -1) {
		listed[string(row[1])] = string(row[2])
	}
	direct := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^\t(\S+) v\S+$`).FindAllSubmatch(goMod, -1) {
		direct[string(m[1])] = true
	}
	direct["honnef.co/go/tools"] = true // go.mod calls a tool's module indirect
	for m := range direct {
		if listed[m] == "" {
			t.Errorf("%s is required and not in DEVELOPERS.md", m)
		}
	}
	for m, licence := range listed {
		if !direct[m] {
			t.Errorf("%s is in DEVELOPERS.md and not required in go.mod", m)
		} else if got := licenceOf(t, m); got != licence && got != "" {
			t.Errorf("%s is under %s; DEVELOPERS.md says %s", m, got, licence)
		}
	}
	for _, path := range imported(t) {
		known := false
		for m := range direct {
			known = known || path == m || strings.HasPrefix(path, m+"/")
		}
		if !known {
			t.Errorf("%s is imported, and go.mod calls its module indirect", path)
		}
	}
}

// imported are the packages from elsewhere that ours and their tests import.
func imported(t *testing.T) []string {
	t.Helper()
	cmd := exec.Command("go", "list", "-f", `{{join .Imports "\n"}}{{"\n"}}{{join .TestImports "\n"}}{{"\n"}}{{join .XTestImports "\n"}}`, "./...")
	cmd.Dir = filepath.Join("..", "..")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, path := range strings.Fields(string(out)) {
		if first, _, _ := strings.Cut(path, "/"); strings.Contains(first, ".") && !strings.HasPrefix(path, module) {
			list = append(list, path)
		}
	}
	return list
}

// licenceOf reads the licence in a module's folder; "" where this machine has not
// fetched the module, such as a tool's.
func licenceOf(t *testing.T, m string) string {
	t.Helper()
	cmd := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", m)
	cmd.Dir = filepath.Join("..", "..")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	dir := strings.TrimSpace(string(out))
	if dir == "" {
		return ""
	}
	for _, pattern := range []string{"LICEN[SC]E*", "COPYING*"} {
		files, _ := filepath.Glob(filepath.Join(dir, pattern))
		if len(files) == 0 {
			continue
		}
		text, err := os.ReadFile(files[0])
		if err != nil {
			t.Fatal(err)
		}
		text = bytes.Join(bytes.Fields(text), []byte(" "))
		for _, l := range licences {
			if bytes.Contains(text, []byte(l.UsageArgs)) && (l.without == "" || !bytes.Contains(text, []byte(l.without))) {
				return l.name
			}
		}
	}
	return "no licence that is known in " + dir
}

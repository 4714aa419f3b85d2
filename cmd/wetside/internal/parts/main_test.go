package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// What a program is made of, told by go version -m, has its licence and its line in the bill.
// This test's own program is asked.
func TestEveryPartIsListed(t *testing.T) {
	if _, err := exec.LookPath("go"); err != nil {
		t.Skip("no Go here to ask: ", err) // as under wine
	}
	t.Setenv("SOURCE_DATE_EPOCH", "1790000000")
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	if err := write(self, "1.1", folder); err != nil {
		t.Fatal(err)
	}
	licences, _ := os.ReadFile(filepath.Join(folder, "THIRD-PARTY-LICENCES.txt"))
	text, _ := os.ReadFile(filepath.Join(folder, "bill.cdx.json"))
	var b bill
	if err := json.Unmarshal(text, &b); err != nil {
		t.Fatal(err)
	}
	listed := map[string]string{}
	for _, c := range b.Components {
		listed[c.Name] = c.Version
	}
	out, err := exec.Command("go", "version", "-m", self).Output()
	if err != nil {
		t.Fatal(err)
	}
	modules := 0
	for _, line := range strings.Split(string(out), "\n") {
		if f := strings.Fields(line); len(f) >= 3 && f[0] == "dep" {
			modules++
			if listed[f[1]] != f[2] || !strings.Contains(string(licences), f[1]+" "+f[2]) {
				t.Errorf("%s %s is not listed", f[1], f[2])
			}
		}
	}
	if modules == 0 || len(listed) != modules+1 || listed["std"] == "" {
		t.Errorf("%d parts listed; Go tells of %d modules and itself", len(listed), modules)
	}
	if b.Metadata.Timestamp != "2026-09-21T14:13:20Z" { // date -ud @1790000000
		t.Errorf("made at %s", b.Metadata.Timestamp)
	}
	if !strings.Contains(string(licences), "Copyright 2009 The Go Authors") {
		t.Error("Go's own licence is missing")
	}
}

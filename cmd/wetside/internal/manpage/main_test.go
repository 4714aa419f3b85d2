package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/wetside/cmd/wetside/internal/cli/help"
)

// Every command has a page with each of its flags, every guide has one, and groff has
// nothing to complain of.
func TestEveryCommandAndFlagHasItsPage(t *testing.T) {
	t.Setenv("SOURCE_DATE_EPOCH", "1790000000") // 2026-09-21
	folder := t.TempDir()
	if err := write(folder); err != nil {
		t.Fatal(err)
	}
	var check func(*cobra.Command)
	check = func(c *cobra.Command) {
		page := strings.ReplaceAll(c.CommandPath(), " ", "-") + ".1"
		text, err := os.ReadFile(filepath.Join(folder, page))
		if err != nil {
			t.Error(err)
			return
		}
		c.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) {
			if !strings.Contains(strings.ReplaceAll(string(text), `\`, ""), "--"+f.Name) {
				t.Errorf("--%s is not in %s", f.Name, page)
			}
		})
		for _, sub := range c.Commands() {
			if sub.IsAvailableCommand() { // help is none to cobra
				check(sub)
			}
		}
	}
	check(commands())
	pages, _ := filepath.Glob(filepath.Join(folder, "*.7"))
	if len(pages) != len(help.Topics) {
		t.Errorf("%d guides have a page; expected %d", len(pages), len(help.Topics))
	}
	text, _ := os.ReadFile(filepath.Join(folder, "wetside.1"))
	for _, want := range []string{".SH ENVIRONMENT", ".SH FILES", "wetside-dark(7)", ".SH SEE ALSO", "Sep 2026"} {
		if !strings.Contains(strings.ReplaceAll(string(text), `\\fP`, ""), want) && !strings.Contains(string(text), want) {
			t.Errorf("wetside.1 has no %q", want)
		}
	}
	if text, _ = os.ReadFile(filepath.Join(folder, "wetside-dark.7")); !strings.Contains(string(text), "Sep 2026") || !strings.Contains(string(text), "wetside(1)") {
		t.Error("wetside-dark.7 has no day or no other page")
	}
	if groff, err := exec.LookPath("groff"); err == nil {
		setWithoutComplaint(t, groff, folder)
	} else {
		t.Log("groff is not here: the pages were not set")
	}
}

// setWithoutComplaint sets every page.
func setWithoutComplaint(t *testing.T, groff, folder string) {
	t.Helper()
	all, _ := filepath.Glob(filepath.Join(folder, "*.[17]"))
	for _, page := range all {
		out, err := exec.Command(groff, "-man", "-t", "-Tutf8", "-z", page).CombinedOutput()
		if err != nil || len(out) > 0 {
			t.Errorf("%s: %v: %s", filepath.Base(page), err, out)
		}
	}
	text, err := exec.Command(groff, "-man", "-Tascii", "-P-cbou", filepath.Join(folder, "wetside-run.1")).Output()
	for _, want := range []string{"--rehearse", "wetside run RECIPE", "times as fast"} {
		if err != nil || !strings.Contains(string(text), want) {
			t.Errorf("%q is not on the page of run as set (%v)", want, err)
		}
	}
}

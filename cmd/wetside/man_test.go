package main

// The man page, made from the same commands that --help tells of. It is made by a
// test, so that the program itself does not carry the maker:
//
//	go test ./cmd/wetside -run TestManPage -man wetside.1

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/recipes/settings"
)

var manFile = flag.String("man", "", "write the man page to this file")

// TestManPage makes the page: every command and every flag is in it, and groff has
// nothing to complain of.
func TestManPage(t *testing.T) {
	root := cli.NewRoot((&app.Env{Settings: settings.Default()}))
	page := manPage(root)
	if *manFile != "" {
		if err := os.WriteFile(*manFile, []byte(page), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range root.Commands() {
		if !strings.Contains(page, "\n.SS "+roff("wetside "+c.Use)+"\n") {
			t.Errorf("%s is not in the page", c.Name())
		}
		c.Flags().VisitAll(func(f *pflag.Flag) {
			if !strings.Contains(page, roff("--"+f.Name)) {
				t.Errorf("%s --%s is not in the page", c.Name(), f.Name)
			}
		})
	}
	groff, err := exec.LookPath("groff")
	if err != nil {
		skipOrFail(t, "groff is not here")
	}
	cmd := exec.Command(groff, "-man", "-Tutf8", "-ww", "-z")
	cmd.Stdin = strings.NewReader(page)
	if out, err := cmd.CombinedOutput(); err != nil || len(out) > 0 {
		t.Errorf("groff: %v: %s", err, out)
	}
	cmd = exec.Command(groff, "-man", "-Tascii", "-P-cbou")
	cmd.Stdin = strings.NewReader(page)
	text, err := cmd.Output()
	for _, want := range []string{"--rehearse N", `wetside mix "A 1 + B 3 + water 80" --volume 1.5l`, "2      wrong usage"} {
		if err != nil || !bytes.Contains(text, []byte(want)) {
			t.Errorf("%q is not on the page as printed (%v)", want, err)
		}
	}
}

// roff makes a text safe: no character of it is a command, and hyphens stay what a
// shell takes.
func roff(s string) string {
	return strings.NewReplacer(`\`, `\e`, "-", `\-`, "'", `\(aq`, "`", `\(ga`, "~", `\(ti`, "^", `\(ha`).Replace(s)
}

type manual struct{ strings.Builder }

func (m *manual) macro(format string, args ...any) { fmt.Fprintf(m, format+"\n", args...) }

// text writes lines; one that begins like a command is kept from being one.
func (m *manual) text(s string) {
	for line := range strings.Lines(strings.TrimRight(s, "\n") + "\n") {
		line = roff(line)
		if strings.HasPrefix(line, ".") {
			line = `\&` + line
		}
		m.WriteString(line)
	}
}

// verbatim writes lines as they stand.
func (m *manual) verbatim(s string) {
	m.macro(".PP\n.nf\n.RS")
	m.text(s)
	m.macro(".RE\n.fi")
}

// item is a term and what it means.
func (m *manual) item(term, meaning string) {
	m.macro(".TP\n.B %s", roff(term))
	m.text(meaning)
}

func manPage(root *cobra.Command) string {
	m := &manual{}
	m.macro(`.TH WETSIDE 1 "" "wetside" "User Commands"`)
	m.macro(".SH NAME\nwetside \\- %s", roff(root.Short))
	m.macro(".SH SYNOPSIS\n.B wetside\n[\\fIcommand\\fR] [\\fIflags\\fR]")
	m.macro(".SH DESCRIPTION")
	m.text(root.Long)
	m.macro(".PP")
	m.text("The first rehearsal takes a minute and no film: type wetside and press r.")
	m.macro(".SH OPTIONS OF EVERY COMMAND")
	m.flags(root.PersistentFlags())
	m.macro(".SH COMMANDS")
	for _, c := range root.Commands() {
		m.command(c)
	}
	m.rest()
	return m.String()
}

func (m *manual) command(c *cobra.Command) {
	m.macro(".SS %s", roff(c.Parent().CommandPath()+" "+c.Use))
	if c.Long != "" {
		m.text(c.Long)
	} else {
		m.text(strings.ToUpper(c.Short[:1]) + c.Short[1:] + ".")
	}
	m.flags(c.LocalNonPersistentFlags())
	if c.Example != "" {
		var lines []string
		for line := range strings.Lines(c.Example) {
			lines = append(lines, strings.TrimSpace(line))
		}
		m.verbatim(strings.Join(lines, "\n"))
	}
	for _, sub := range c.Commands() {
		m.command(sub)
	}
}

func (m *manual) flags(set *pflag.FlagSet) {
	set.VisitAll(func(f *pflag.Flag) {
		if f.Name == "help" {
			return
		}
		value, usage := pflag.UnquoteUsage(f)
		term := "--" + f.Name
		if value != "" {
			term += " " + value
		}
		if f.DefValue != "" && f.DefValue != "false" && f.DefValue != "[]" && f.DefValue != "0" {
			usage += " (" + f.DefValue + " where nothing is said)"
		}
		m.item(term, usage)
	})
}

// rest is what the commands do not say.
func (m *manual) rest() {
	m.macro(".SH FILES")
	for _, f := range [][2]string{
		{"$XDG_CONFIG_HOME/wetside/config.toml", "settings; wetside config --write makes it, each with its comment"},
		{"$XDG_CONFIG_HOME/wetside/recipes/*.toml", "recipes of one's own"},
		{"$XDG_STATE_HOME/wetside/sessions/", "the record of each session, one plain file each"},
		{"$XDG_DATA_HOME/wetside/", "readings, and the ledger of bottles"},
	} {
		m.item(f[0], f[1])
	}
	m.macro(".SH ENVIRONMENT")
	m.item("VISUAL, EDITOR", "the editor for wetside new and wetside edit")
	m.item("NO_COLOR", "has no effect: the red of the screens is a safety function")
	m.macro(".SH EXIT STATUS")
	for _, s := range [][2]string{{"0", "done"}, {"1", "it cannot be done, or a check found something"}, {"2", "wrong usage"}} {
		m.item(s[0], s[1])
	}
	m.macro(".SH CAUTIONS")
	m.text("The maker's safety data sheet, local codes and licensed disposal come first, always.\n" +
		"A black screen still glows: cover the laptop, measure its panel off, or leave it outside the room.\n" +
		"Nitrile gloves; ventilate; acid into water, slowly. The laptop on the dry side, behind a residual-current device.")
}

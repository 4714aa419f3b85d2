// Command manpage writes wetside's manual pages into a folder: one of section 1 for each
// command, by cobra's own maker, and one of section 7 for each guide of wetside help. It is a
// program of its own so that wetside does not carry the maker.
//
//	go run ./cmd/wetside/internal/manpage FOLDER
package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/cpuguy83/go-md2man/v2/md2man"
	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
	"example.org/wetside/cmd/wetside/internal/cli/help"
	"example.org/wetside/recipes/settings"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: manpage FOLDER")
		os.Exit(app.ExitUsage)
	}
	if err := write(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(app.ExitFailed)
	}
}

// commands is the tree as the pages show it: with the settings that hold where nothing is
// said, and no day in it, so that the same source makes the same pages.
func commands() *cobra.Command {
	root := cli.NewRoot(&app.Env{Settings: settings.Default()})
	root.DisableAutoGenTag = true
	return root
}

// write makes every page.
func write(folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	day := app.BuildTime()
	header := &doc.GenManHeader{Section: "1", Date: &day, Source: "wetside " + app.Version, Manual: "User Commands"}
	if err := doc.GenManTree(commands(), header, folder); err != nil {
		return err
	}
	if err := addToMainPage(filepath.Join(folder, "wetside.1")); err != nil {
		return err
	}
	for _, topic := range help.Topics {
		text, err := help.Guide(topic)
		if err != nil {
			return err
		}
		name := "wetside-" + topic
		if err := os.WriteFile(filepath.Join(folder, name+".7"), md2man.Render([]byte(guidePage(name, text, day))), 0o644); err != nil {
			return err
		}
	}
	return nil
}

// guidePage is a guide with the head that a manual page wants: its first heading is the
// page's name in a few words, the others are sections.
func guidePage(name, text string, day time.Time) string {
	title, body, _ := strings.Cut(text, "\n")
	head := fmt.Sprintf("%% %q \"7\" %q \"wetside\" \"Guides\"\n\n# NAME\n%s - %s\n\n# DESCRIPTION\n",
		strings.ToUpper(name), day.Format("Jan 2006"), name, strings.ToLower(strings.TrimPrefix(title, "# ")))
	return head + strings.ReplaceAll(body, "\n## ", "\n# ") + "\n# SEE ALSO\n" + seeAlso(name)
}

// seeAlso names the main page and the other guides.
func seeAlso(but string) string {
	names := []string{"**wetside(1)**"}
	for _, topic := range help.Topics {
		if name := "wetside-" + topic; name != but {
			names = append(names, "**"+name+"(7)**")
		}
	}
	return strings.Join(names, ", ") + "\n"
}

// environment is what the program asks of its environment, and where it keeps its files.
const environment = `# ENVIRONMENT
**TERM**, **COLORTERM**
:   what the terminal can; **dumb** has no screens, **linux** gets plain glyphs. Windows needs neither. **NO_COLOR** has no effect: red keeps film safe.

**VISUAL**, **EDITOR**
:   the editor for recipes, the first that is set

**XDG_CONFIG_HOME**, **XDG_DATA_HOME**, **XDG_STATE_HOME**
:   where settings and recipes, what is kept, and sessions lie, in place of the folders below

**PULSE_SERVER**, **XDG_RUNTIME_DIR**
:   where the sound server is

**SSH_CONNECTION**, **SSH_TTY**, **TMUX**
:   what stands between the program and the person: it is said, and asked, before the dark

# FILES
~/.config/wetside/config.toml
:   settings; **wetside config --write** makes it with comments

~/.config/wetside/recipes
:   recipes of your own

~/.local/state/wetside/sessions
:   sessions; on Windows below %LOCALAPPDATA%

~/.local/share/wetside
:   readings, bottles, sheets; on Windows below %LOCALAPPDATA%

`

// addToMainPage adds what cobra's maker leaves out: environment, files, the guides.
func addToMainPage(page string) error {
	text, err := os.ReadFile(page)
	if err != nil {
		return err
	}
	rendered := string(md2man.Render([]byte("% X 1\n" + environment + "# GUIDES\n" + seeAlso("")[len("**wetside(1)**, "):])))
	more := rendered[strings.Index(rendered, ".SH ENVIRONMENT"):]
	before, after, found := strings.Cut(string(text), ".SH SEE ALSO")
	if !found {
		return fmt.Errorf("%s: has no SEE ALSO", page)
	}
	return os.WriteFile(page, []byte(before+more+"\n.SH SEE ALSO"+after), 0o644)
}

// Command manpage writes wetside's manual pages into a folder: one of section 1 for each
// command, by cobra's own maker, and one of section 7 for each guide of wetside help. It is a
// program of its own so that wetside does not carry the maker.
//
//	go run ./cmd/wetside/internal/manpage FOLDER
package manpage

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/cpuguy83/go-md2man/v2/md2man"
	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli"
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
	header := &doc.GenManHeader{Section: "1", Source: "wetside " + app.Version, Manual: "User Commands"}
	if err := doc.GenManTree(commands(), header, folder); err != nil {
		return err
	}
	for _, topic := range cli.Topics {
		text, err := cli.Guide(topic)
		if err != nil {
			return err
		}
		name := "wetside-" + topic
		if err := os.WriteFile(filepath.Join(folder, name+".7"), md2man.Render([]byte(guidePage(name, text))), 0o644); err != nil {
			return err
		}
	}
	return nil
}

// guidePage is a guide with the head that a manual page wants: its first heading is the
// page's name in a few words, the others are sections.
func guidePage(name, text string) string {
	title, body, _ := strings.Cut(text, "\n")
	head := fmt.Sprintf("%% %q \"7\" \"\" \"wetside\" \"Guides\"\n\n# NAME\n%s - %s\n\n# DESCRIPTION\n",
		strings.ToUpper(name), name, strings.ToLower(strings.TrimPrefix(title, "# ")))
	return head + strings.ReplaceAll(body, "\n## ", "\n# ")
}

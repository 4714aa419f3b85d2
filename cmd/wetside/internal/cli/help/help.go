// Package help holds the guides: for wetside help, for the manual pages, and for ? on the screens.
package help

import (
	"embed"
	"io/fs"
)

// guides are the texts, one file a topic.
//
//go:embed *.md
var guides embed.FS

// Topics are the guides in the order in which help lists them.
var Topics = []string{
	"start", "dark", "voice", "recipe", "wet-time", "temperature", "bottles", "wash",
	"film-test", "curves", "print", "scan", "reciprocity",
	"files", "settings", "sharing", "safety", "machines",
}

// Guide is the text of a topic.
func Guide(topic string) (string, error) {
	text, err := fs.ReadFile(guides, topic+".md")
	return string(text), err
}

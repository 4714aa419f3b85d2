package main

// No option does nothing: which flags of a command go together, and which exclude each
// other. What a flag's value makes of another is the command's own to say.

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// pairing is what one flag, where it is typed, asks of others.
type pairing struct {
	flag string
	with []string // one of these must be typed too; nil: none needs to
	not  []string // none of these may be
	why  string   // "" where the names say it
}

// pairings are those of each command, by its path.
var pairings = map[string][]pairing{
	"wetside plan": {{flag: "watch", not: []string{"json", "strict", "sheet"}, why: "it is shown until it is ended"}},
	"wetside run": {
		{flag: "json", with: []string{"plain"}},
		{flag: "accept-danger", with: []string{"plain"}, why: "the screens ask"},
		{flag: "dark", with: []string{"rehearse"}, why: "a session with film obeys the dark anyway"},
		{flag: "hangs-in", with: []string{"thermometer"}},
		{flag: "jacket-offset", with: []string{"thermometer"}},
	},
	"wetside resume": {{flag: "json", with: []string{"plain"}}},
	"wetside cues":   {{flag: "sound", not: []string{"wav"}, why: "what is written is not played"}},
	"wetside ready":  {{flag: "plain", not: []string{"json"}, why: "--json asks nothing anyway"}},
	"wetside clearing": {
		{flag: "sound", not: []string{"took"}, why: "nothing is timed"},
		{flag: "voice", not: []string{"took"}, why: "nothing is timed"},
	},
	"wetside temper": {
		{flag: "trial", not: []string{"two", "to", "volume", "hot", "cold", "bath", "ice", "vessel-of"}, why: "readings are fitted"},
		{flag: "two", not: []string{"to", "volume", "hot", "cold", "bath", "ice", "vessel-of"}, why: "a coefficient is found"},
		{flag: "bath", not: []string{"volume"}, why: "V@T has the volume"},
	},
	"wetside wash": {
		{flag: "running", not: []string{"changes", "residue", "microfilm", "carry-over", "volume", "strength", "sheets", "size", "ways", "temp"},
			why: "in running water the time alone counts"},
		{flag: "changes", not: []string{"residue", "microfilm"}},
		{flag: "residue", not: []string{"microfilm"}},
		{flag: "carry-over", with: []string{"changes", "residue", "microfilm"}},
		{flag: "volume", with: []string{"changes", "residue", "microfilm"}},
		{flag: "strength", with: []string{"sheets"}, why: "what is carried over, and onto how much film"},
		{flag: "sheets", with: []string{"strength"}, why: "what is carried over, and onto how much film"},
		{flag: "strength", with: []string{"changes", "residue", "microfilm"}},
		{flag: "size", with: []string{"sheets"}},
		{flag: "temp", with: []string{"ways"}, why: "the changes do not depend on it"},
	},
	"wetside expose": {
		{flag: "card", not: []string{"metered", "json", "bellows", "extension", "focal", "magnification"}, why: "a card is for many metered times, and any bellows"},
		{flag: "html", not: []string{"metered", "json", "bellows", "extension", "focal", "magnification"}, why: "a card is for many metered times, and any bellows"},
		{flag: "gradient", with: []string{"tests"}},
		{flag: "filter", with: []string{"metered", "card", "html"}, why: "without them a film's law alone is told"},
		{flag: "bellows", with: []string{"metered"}},
		{flag: "extension", with: []string{"metered"}},
		{flag: "focal", with: []string{"metered"}},
		{flag: "magnification", with: []string{"metered"}},
	},
	"wetside curve": {
		{flag: "target", not: []string{"paper"}},
		{flag: "subject", with: []string{"paper"}},
		{flag: "flare", with: []string{"paper"}},
		{flag: "step", not: []string{"tablet"}, why: "the tablet has its steps"},
		{flag: "metered-at", with: []string{"box-speed"}},
		{flag: "metered", not: []string{"box-speed"}},
		{flag: "borrowed", with: []string{"target", "paper"}},
		{flag: "borrowed", not: []string{"json", "assume"}, why: "it is told in words, of several sheets"},
		{flag: "recipe", with: []string{"write", "assume"}},
		{flag: "assume", with: []string{"target", "paper"}},
		{flag: "assume", not: []string{"write", "induction"}, why: "one sheet alone tells no growth"},
	},
	"wetside notebook": {
		{flag: "put-away", not: []string{"bring-back", "json", "csv", "html", "note", "emulsion", "look", "film", "vessel", "bath", "text", "since", "until"},
			why: "it is moved, not shown"},
		{flag: "bring-back", not: []string{"json", "csv", "html", "note", "emulsion", "look", "film", "vessel", "bath", "text", "since", "until"},
			why: "it is moved, not shown"},
	},
	"wetside mix": {
		{flag: "within", with: []string{"graduate"}},
		{flag: "volume", not: []string{"depth", "tray", "tank", "drum"}, why: "a vessel and its depth tell the volume"},
	},
	"wetside baths mix": {
		{flag: "name", with: []string{"bath"}, why: "one bottle"},
		{flag: "volume", with: []string{"bath"}, why: "one bottle"},
	},
}

// heed makes a command refuse flags that would do nothing, or undo each other.
func heed(cmd *cobra.Command) {
	rules := pairings[cmd.CommandPath()]
	if run := cmd.RunE; len(rules) > 0 {
		cmd.RunE = func(c *cobra.Command, args []string) error {
			for _, r := range rules {
				if err := r.check(c.Flags().Changed); err != nil {
					return err
				}
			}
			return run(c, args)
		}
	}
	for _, c := range cmd.Commands() {
		heed(c)
	}
}

// check is what is wrong with the flags that were typed.
func (r pairing) check(typed func(string) bool) error {
	if !typed(r.flag) {
		return nil
	}
	why := ""
	if r.why != "" {
		why = ": " + r.why
	}
	if i := slices.IndexFunc(r.not, typed); i >= 0 {
		return usage("--%s and --%s do not go together%s", r.flag, r.not[i], why)
	}
	if len(r.with) > 0 && !slices.ContainsFunc(r.with, typed) {
		return usage("--%s goes with --%s; alone it does nothing%s", r.flag, strings.Join(r.with, " or --"), why)
	}
	return nil
}

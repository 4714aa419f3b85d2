// Package flags is what commands share about their flags: those of today's conditions and of a
// session, how values are read, completion, and which flags go together.
//
// Start with Rules. It carries nothing out.
package flags

// No option does nothing: which flags of a command go together, and which exclude each
// other. What a flag's value makes of another is the command's own to say.

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
)

// Rule is what one flag, where it is typed, asks of others.
type Rule struct {
	Flag     string
	With     []string // one of these must be typed too; nil: none needs to
	Excludes []string // none of these may be
	Why      string   // "" where the names say it
}

// Rules are those of each command, by its path.
var Rules = map[string][]Rule{
	"wetside plan": {{Flag: "watch", Excludes: []string{"json", "strict", "sheet"}, Why: "it is shown until it is ended"}},
	"wetside run": {
		{Flag: "json", With: []string{"plain"}},
		{Flag: "accept-danger", With: []string{"plain"}, Why: "the screens ask"},
		{Flag: "dark", With: []string{"rehearse"}, Why: "a session with film obeys the dark anyway"},
		{Flag: "hangs-in", With: []string{"thermometer"}},
		{Flag: "jacket-offset", With: []string{"thermometer"}},
	},
	"wetside resume": {{Flag: "json", With: []string{"plain"}}},
	"wetside cues":   {{Flag: "sound", Excludes: []string{"wav"}, Why: "what is written is not played"}},
	"wetside ready":  {{Flag: "plain", Excludes: []string{"json"}, Why: "--json asks nothing anyway"}},
	"wetside clearing": {
		{Flag: "sound", Excludes: []string{"took"}, Why: "nothing is timed"},
		{Flag: "voice", Excludes: []string{"took"}, Why: "nothing is timed"},
	},
	"wetside temper": {
		{Flag: "trial", Excludes: []string{"two", "to", "volume", "hot", "cold", "bath", "ice", "vessel-of"}, Why: "readings are fitted"},
		{Flag: "two", Excludes: []string{"to", "volume", "hot", "cold", "bath", "ice", "vessel-of"}, Why: "a coefficient is found"},
		{Flag: "bath", Excludes: []string{"volume"}, Why: "V@T has the volume"},
	},
	"wetside wash": {
		{Flag: "running", Excludes: []string{"changes", "residue", "microfilm", "carry-over", "volume", "strength", "sheets", "size", "ways", "temp"},
			Why: "in running water the time alone counts"},
		{Flag: "changes", Excludes: []string{"residue", "microfilm"}},
		{Flag: "residue", Excludes: []string{"microfilm"}},
		{Flag: "carry-over", With: []string{"changes", "residue", "microfilm"}},
		{Flag: "volume", With: []string{"changes", "residue", "microfilm"}},
		{Flag: "strength", With: []string{"sheets"}, Why: "what is carried over, and onto how much film"},
		{Flag: "sheets", With: []string{"strength"}, Why: "what is carried over, and onto how much film"},
		{Flag: "strength", With: []string{"changes", "residue", "microfilm"}},
		{Flag: "size", With: []string{"sheets"}},
		{Flag: "temp", With: []string{"ways"}, Why: "the changes do not depend on it"},
	},
	"wetside expose": {
		{Flag: "card", Excludes: []string{"metered", "json", "bellows", "extension", "focal", "magnification"}, Why: "a card is for many metered times, and any bellows"},
		{Flag: "html", Excludes: []string{"metered", "json", "bellows", "extension", "focal", "magnification"}, Why: "a card is for many metered times, and any bellows"},
		{Flag: "gradient", With: []string{"tests"}},
		{Flag: "filter", With: []string{"metered", "card", "html"}, Why: "without them a film's law alone is told"},
		{Flag: "bellows", With: []string{"metered"}},
		{Flag: "extension", With: []string{"metered"}},
		{Flag: "focal", With: []string{"metered"}},
		{Flag: "magnification", With: []string{"metered"}},
	},
	"wetside curve": {
		{Flag: "target", Excludes: []string{"paper"}},
		{Flag: "subject", With: []string{"paper"}},
		{Flag: "flare", With: []string{"paper"}},
		{Flag: "step", Excludes: []string{"tablet"}, Why: "the tablet has its steps"},
		{Flag: "metered-at", With: []string{"box-speed"}},
		{Flag: "metered", Excludes: []string{"box-speed"}},
		{Flag: "borrowed", With: []string{"target", "paper"}},
		{Flag: "borrowed", Excludes: []string{"json", "assume"}, Why: "it is told in words, of several sheets"},
		{Flag: "recipe", With: []string{"write", "assume"}},
		{Flag: "assume", With: []string{"target", "paper"}},
		{Flag: "assume", Excludes: []string{"write", "induction"}, Why: "one sheet alone tells no growth"},
	},
	"wetside notebook": {
		{Flag: "put-away", Excludes: []string{"bring-back", "json", "csv", "html", "note", "emulsion", "look", "film", "vessel", "bath", "text", "since", "until"},
			Why: "it is moved, not shown"},
		{Flag: "bring-back", Excludes: []string{"json", "csv", "html", "note", "emulsion", "look", "film", "vessel", "bath", "text", "since", "until"},
			Why: "it is moved, not shown"},
	},
	"wetside mix": {
		{Flag: "within", With: []string{"graduate"}},
		{Flag: "volume", Excludes: []string{"depth", "tray", "tank", "drum"}, Why: "a vessel and its depth tell the volume"},
	},
	"wetside baths mix": {
		{Flag: "name", With: []string{"bath"}, Why: "one bottle"},
		{Flag: "volume", With: []string{"bath"}, Why: "one bottle"},
	},
}

// ApplyRules makes a command refuse flags that would do nothing, or undo each other.
func ApplyRules(cmd *cobra.Command) {
	rules := Rules[cmd.CommandPath()]
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
		ApplyRules(c)
	}
}

// check is what is wrong with the flags that were typed.
func (r Rule) check(typed func(string) bool) error {
	if !typed(r.Flag) {
		return nil
	}
	why := ""
	if r.Why != "" {
		why = ": " + r.Why
	}
	if i := slices.IndexFunc(r.Excludes, typed); i >= 0 {
		return app.Usagef("--%s and --%s do not go together%s", r.Flag, r.Excludes[i], why)
	}
	if len(r.With) > 0 && !slices.ContainsFunc(r.With, typed) {
		return app.Usagef("--%s goes with --%s; alone it does nothing%s", r.Flag, strings.Join(r.With, " or --"), why)
	}
	return nil
}

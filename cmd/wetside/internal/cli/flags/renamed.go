package flags

// Words of the command line that have a new one: whoever types the old one is told.

import "strings"

// oldCommands are by what was typed behind wetside.
var oldCommands = map[string]string{
	"baths":            "bottles",
	"baths mix":        "bottles open",
	"baths book":       "bottles use",
	"baths draw":       "bottles take",
	"baths rotate":     "bottles swap",
	"baths throw-away": "bottles retire",
	"baths stock":      "bottles stock",
	"clearing":         "bottles clearing",
	"batches":          "plan RECIPE --total N",
	"sheets":           "holders",
	"sheets add":       "holders add",
	"sheets drop":      "holders drop",
	"sheets import":    "holders import",
	"sheets sort":      "holders group",
}

// otherWords are what people type for a command that is called otherwise, by what stands behind
// wetside.
var otherWords = map[string]string{
	"list":            "wetside alone lists the recipes, wetside notebook the sessions",
	"ls":              "wetside alone lists the recipes, wetside notebook the sessions",
	"recipes":         "wetside alone lists the recipes, wetside plan RECIPE plans one",
	"show":            "wetside plan RECIPE shows a recipe, wetside notebook SESSION a session",
	"rehearse":        "wetside run RECIPE --rehearse 30 rehearses it",
	"start":           "wetside run RECIPE begins a session; wetside help start is for a beginning",
	"develop":         "wetside run RECIPE begins a session",
	"sessions":        "wetside notebook lists the sessions",
	"settings":        "wetside config shows the settings",
	"bottles add":     "wetside bottles open RECIPE",
	"bottles new":     "wetside bottles open RECIPE",
	"bottles close":   "wetside bottles retire BOTTLE",
	"bottles remove":  "wetside bottles retire BOTTLE",
	"bottles list":    "wetside bottles alone lists them",
	"holders remove":  "wetside holders drop HOLDER",
	"holders delete":  "wetside holders drop HOLDER",
	"holders list":    "wetside holders alone lists them",
	"fit temperature": "wetside fit coefficient FILE",
}

// oldFlags are by the command's path and the flag, or by the flag alone where every
// command means the same by it.
var oldFlags = map[string]string{
	"towards":                     "--settles-at",
	"drift":                       "--time-constant",
	"lead":                        "--countdown",
	"hangs-in":                    "--sensor-in",
	"unopened":                    "--no-edit",
	"took":                        "--cleared-in",
	"ways":                        "--compare",
	"borrowed":                    "--published-time",
	"svg":                         "--picture",
	"png":                         "--picture, which writes SVG",
	"put-away":                    "--archive",
	"bring-back":                  "--restore",
	"baths":                       "--bottles",
	"wetside plan --sheet":        "--wall",
	"wetside curve --metered":     `--exposed, "EI 50 +4"`,
	"wetside curve --box-speed":   `--exposed, "EI 50 +4"`,
	"wetside curve --metered-at":  `--exposed, "EI 50 +4"`,
	"wetside film-test --metered": "--exposed",
	"assume":                      "--assume-rate",
	"wetside temper --trial":      "wetside fit bath FILE",
	"wetside temper --two":        "wetside fit coefficient FILE",
	"wetside expose --tests":      "wetside fit reciprocity FILE",
	"wetside expose --gradient":   "wetside fit reciprocity FILE --gradient",
	"wetside film-test --scatter": "--sheet-scatter",
}

// renamedCommand is what the words of a command are called now; "" where they are no old ones.
func renamedCommand(args []string) (old, now string) {
	for n := min(2, len(args)); n > 0; n-- {
		old = strings.Join(args[:n], " ")
		if now = oldCommands[old]; now != "" {
			return old, now
		}
	}
	return "", ""
}

// renamedFlag is what a command's old flag is called now; "" for no old one.
func renamedFlag(command, name string) string {
	if now := oldFlags[command+" --"+name]; now != "" {
		return now
	}
	return oldFlags[name]
}

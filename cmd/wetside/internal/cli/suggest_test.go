package cli

import (
	"strings"
	"testing"

	"example.org/wetside/cmd/wetside/internal/app"
	"example.org/wetside/cmd/wetside/internal/cli/flags"
)

// Two letters may be wrong in a command, three are another word.
func TestHowFarASuggestedCommandIs(t *testing.T) {
	for typed, near := range map[string]bool{"recume": true, "recumx": true, "lecumx": false, "notebxxk": true, "noxexxk": false} {
		_, err := flags.CheckCommand(NewRoot(&app.Env{}), []string{typed})
		if err == nil {
			t.Fatalf("%s is a command", typed)
		}
		if got := strings.Contains(err.Error(), "did you mean"); got != near {
			t.Errorf("%s: %v; expected a suggestion: %v", typed, err, near)
		}
	}
}

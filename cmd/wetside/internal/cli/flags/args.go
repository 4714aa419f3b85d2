package flags

// Arguments in the wrong number are wrong usage.

import (
	"github.com/spf13/cobra"

	"example.org/wetside/cmd/wetside/internal/app"
)

// UsageArgs makes a wrong number of arguments wrong usage.
func UsageArgs(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(c *cobra.Command, args []string) error {
		if err := check(c, args); err != nil {
			return app.AsUsage(err)
		}
		return nil
	}
}

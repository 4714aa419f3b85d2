package flags

// Today's conditions, as flags that plan and run share.

import (
	"github.com/spf13/cobra"

	"example.org/wetside/sequence"
)

// ConditionFlags are the flags as they were typed.
type ConditionFlags struct{ sequence.RawConditions }

// Add adds the conditions to a command.
func (c *ConditionFlags) Add(cmd *cobra.Command) {
	c.AddDay(cmd)
	f := cmd.Flags()
	f.StringVar(&c.Sheets, "sheets", "", "`N`: number of sheets")
	f.StringVar(&c.Development, "development", "", "`NAME`: one of the recipe's developments (N-1, N, N+1)")
}

// AddBottles adds on which bottles a plan draws.
func (c *ConditionFlags) AddBottles(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&c.Bottles, "bottles", "", "`NAME,...`: bottles to draw on; kept: of each bath the newest open one (default); fresh: none")
}

// AddDay adds those that are the same for every session of a day.
func (c *ConditionFlags) AddDay(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&c.Temp, "temp", "", "`T[@D]`: the developer read T (22, 72F), or read it D before the first sheet goes in (22@3m); proposed[@D]: what should it read for the recipe's time?")
	f.StringVar(&c.SettlesAt, "settles-at", "", "`TEMPERATURE`: where the developer drifts to as you work, hands in a tray included (wetside fit bath); with --time-constant")
	f.StringVar(&c.TimeConstant, "time-constant", "", "`DURATION`: how fast it drifts: 63% of the way in this time")
	f.StringVar(&c.Vessel, "vessel", "", "`VESSEL`: tray, single, cradle, hangers, daylight-tank, drum or tube")
	f.StringVar(&c.WetLimit, "wet-limit", "", "`DURATION`: the longest that the film may be wet")
	f.StringVar(&c.Factor, "factor", "", "`X`: develop X times as long")
	f.StringVar(&c.Clearing, "clearing", "", "`DURATION`: clearing time measured in the fixer; fixed for twice that, or with DURATION,tabular for three times")
	cmd.MarkFlagsRequiredTogether("settles-at", "time-constant")
}

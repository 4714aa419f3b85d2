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
	f.StringVar(&c.Sheets, "sheets", "", "number of sheets, `N`")
	f.StringVar(&c.Development, "development", "", "the `NAME` of one of the recipe's developments (N-1, N, N+1)")
}

// AddBottles adds on which bottles a plan draws.
func (c *ConditionFlags) AddBottles(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&c.Bottles, "bottles", "", "kept: draw on the open bottles, of each bath the newest (usual); fresh: on none; `NAME,...`: on these")
}

// AddDay adds those that are the same for every session of a day.
func (c *ConditionFlags) AddDay(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&c.Temp, "temp", "", "the developer read `T[@D]`: T, D before the first sheet goes in (22, 72F, 22@3m); proposed[@D]: what it should read for the recipe's time in a drift")
	f.StringVar(&c.SettlesAt, "settles-at", "", "where the developer settles, `TEMPERATURE`; with --time-constant")
	f.StringVar(&c.TimeConstant, "time-constant", "", "how fast it settles, `DURATION`: 63% of the way in this time")
	f.StringVar(&c.Vessel, "vessel", "", "`VESSEL`: tray, single, cradle, hangers, daylight-tank, drum or tube")
	f.StringVar(&c.WetLimit, "wet-limit", "", "longest wet time the film stands, `DURATION`")
	f.StringVar(&c.Factor, "factor", "", "multiplies developing time by `X`")
	f.StringVar(&c.Clearing, "clearing", "", "measured clearing time in the fixer, `DURATION`, or D,tabular: fixed for three times it instead of twice")
	cmd.MarkFlagsRequiredTogether("settles-at", "time-constant")
}

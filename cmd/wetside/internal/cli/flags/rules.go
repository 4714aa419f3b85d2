// Package flags is what commands share about their flags: those of today's conditions and of a
// session, how values are read, completion, and which flags go together.
//
// Start with ConditionFlags, Excludes and Needs. It carries nothing out.
package flags

// No option does nothing: flags that undo each other are refused by cobra, in wetside's
// words; a flag that does something only beside another says so here. What a flag's value
// makes of another is the command's own to say.

import (
	"errors"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/wetside/cmd/wetside/internal/app"
)

// Excludes marks that a flag goes with none of the others.
func Excludes(c *cobra.Command, flag string, others ...string) {
	for _, other := range others {
		c.MarkFlagsMutuallyExclusive(flag, other)
	}
}

// needsKey is the annotation of a flag that names what it needs, one of the words between
// bars in each entry.
const needsKey = "wetside_needs"

// Needs marks that a flag does something only beside one of the others.
func Needs(c *cobra.Command, flag string, oneOf ...string) {
	f := c.Flag(flag)
	if f.Annotations == nil {
		f.Annotations = map[string][]string{}
	}
	f.Annotations[needsKey] = append(f.Annotations[needsKey], strings.Join(oneOf, "|"))
}

// NeedsOf are what a flag needs: of each list one.
func NeedsOf(f *pflag.Flag) (lists [][]string) {
	for _, words := range f.Annotations[needsKey] {
		lists = append(lists, strings.Split(words, "|"))
	}
	return lists
}

// CheckNeeds refuses a flag that was typed without what it needs.
func CheckNeeds(c *cobra.Command) (err error) {
	c.Flags().Visit(func(f *pflag.Flag) {
		for _, oneOf := range NeedsOf(f) {
			if err == nil && !slices.ContainsFunc(oneOf, c.Flags().Changed) {
				err = app.Usagef("--%s goes with --%s; alone it does nothing", f.Name, strings.Join(oneOf, " or --"))
			}
		}
	})
	return err
}

// What cobra says of flags that do not fit.
var (
	notTogether  = regexp.MustCompile(`none of the others can be; \[([^]]+)\] were all set`)
	onlyTogether = regexp.MustCompile(`if any flags in the group \[([^]]+)\] are set they must all be set; missing \[([^]]+)\]`)
)

// GroupError is what cobra says of flags that do not fit, in wetside's words; any other
// error is left as it is.
func GroupError(err error) error {
	if err == nil || errors.As(err, new(app.UsageError)) {
		return err
	}
	if m := notTogether.FindStringSubmatch(err.Error()); m != nil {
		return app.Usagef("%s do not go together", flagList(m[1]))
	}
	if m := onlyTogether.FindStringSubmatch(err.Error()); m != nil {
		return app.Usagef("%s go together; %s is missing", flagList(m[1]), flagList(m[2]))
	}
	return err
}

// flagList is a list of flags in words.
func flagList(names string) string {
	return "--" + strings.Join(strings.Fields(names), " and --")
}

package flags

// Options that write a file, and --force beside them.

import (
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"example.org/wetside/cmd/wetside/internal/app"
)

// Output is where a command writes what it was asked to.
type Output struct {
	force bool
	cmd   *cobra.Command
	names []string // of the options that write
}

// Add gives a command --force, which goes with the options that write files.
func (o *Output) Add(cmd *cobra.Command, options ...string) {
	o.cmd, o.names = cmd, options
	cmd.Flags().BoolVar(&o.force, "force", false, "write over an existing file")
	Needs(cmd, "force", options...)
}

// Write writes a file that is none of those that the command reads.
func (o *Output) Write(name string, text []byte) error {
	return app.WriteOutput(name, text, o.force, o.read()...)
}

// Check says why a file may not be written.
func (o *Output) Check(name string) error { return app.CheckOutput(name, o.force, o.read()...) }

// MakeWay is Check for a file that is written later.
func (o *Output) MakeWay(name string) error { return app.MakeWay(name, o.force, o.read()...) }

// read is all that was typed and could be a file that the command reads.
func (o *Output) read() []string {
	if o.cmd == nil {
		return nil
	}
	read := slices.Clone(o.cmd.Flags().Args())
	o.cmd.Flags().Visit(func(f *pflag.Flag) {
		if !slices.Contains(o.names, f.Name) {
			read = append(read, f.Value.String())
		}
	})
	return read
}

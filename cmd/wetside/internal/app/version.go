package app

// What the program calls itself, in --version and in each session's record.

import (
	"runtime/debug"
	"strings"
)

// Version is set by the release script. Without it the program bears the version that
// Go wrote into it: the module's where `go install` fetched it, one made of the commit
// where `go build` found one.
var Version = builtVersion(debug.ReadBuildInfo())

// builtVersion is the version in what Go wrote, as a release writes it, without its v;
// "development" where there is none, as under `go run` and `go test`.
func builtVersion(info *debug.BuildInfo, ok bool) string {
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "development"
	}
	return strings.TrimPrefix(info.Main.Version, "v")
}

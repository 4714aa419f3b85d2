package app

// What the program calls itself, in --version and in each session's record.

import (
	"cmp"
	"os"
	"runtime/debug"
	"strconv"
	"strings"
	"time"
)

// Version is set by the release script's linker, which sets only what has no value of its
// own. Without it the program bears the version that Go wrote into it: the module's where
// `go install` fetched it, one made of the commit where `go build` found one.
var Version string

func init() { Version = cmp.Or(Version, builtVersion(debug.ReadBuildInfo())) }

// builtVersion is the version in what Go wrote, as a release writes it, without its v;
// "development" where there is none, as under `go run` and `go test`.
func builtVersion(info *debug.BuildInfo, ok bool) string {
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "development"
	}
	return strings.TrimPrefix(info.Main.Version, "v")
}

// BuildTime is the moment of SOURCE_DATE_EPOCH (reproducible-builds.org), of 1970 without it: the
// same source gives the same release.
func BuildTime() time.Time {
	seconds, _ := strconv.ParseInt(os.Getenv("SOURCE_DATE_EPOCH"), 10, 64)
	return time.Unix(seconds, 0).UTC()
}

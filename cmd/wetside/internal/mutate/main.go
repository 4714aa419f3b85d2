// Command mutate changes one operator, constant or statement of a package at a time, runs the
// package's tests on what comes of it, and reports every change that they did not notice. The
// tree itself is never touched: each changed file goes to the compiler as an overlay.
//
//	.ci/mutate [--share N] [--seed S] [--seconds S] [--explained FILE] PACKAGE...
//
// Start with mutations.go, which lists the changes. A change that no test can notice is
// written, with its reason, into .ci/unnoticed; any other that survives makes the exit status 1.
package main

import (
	"flag"
	"fmt"
	"os"
	"time"
)

func main() {
	share := flag.Int("share", 100, "how many of a hundred mutations to try; which ones, --seed says")
	seed := flag.Int("seed", 1, "another share of the same size")
	seconds := flag.Int("seconds", 0, "begin no mutation after so many seconds; 0 for no limit")
	explained := flag.String("explained", ".ci/unnoticed", "the list of mutations that no test can notice")
	skip := flag.String("skip", "", "tests that are left out, as go test's -skip")
	flag.Usage = func() {
		fmt.Fprintln(os.Stderr, "usage: .ci/mutate [flags] PACKAGE...")
		flag.PrintDefaults()
	}
	packages := typed()
	if len(packages) == 0 || *share < 1 || *share > 100 {
		flag.Usage()
		os.Exit(2)
	}
	r := run{share: *share, seed: *seed, skip: *skip, out: os.Stdout}
	if *seconds > 0 {
		r.until = time.Now().Add(time.Duration(*seconds) * time.Second)
	}
	known, err := readExplained(*explained)
	if err == nil {
		r.explained = known
		err = r.packages(packages)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
	if r.survived > 0 {
		os.Exit(1)
	}
}

// typed are the packages of the command line, before, between and behind its flags.
func typed() (packages []string) {
	for flag.Parse(); flag.NArg() > 0; flag.CommandLine.Parse(flag.Args()[1:]) {
		packages = append(packages, flag.Arg(0))
	}
	return packages
}

// Command mutate changes one operator, constant or statement of a package at a time, runs the
// package's tests on what comes of it, and reports every change that they did not notice. The
// tree itself is never touched: each changed file goes to the compiler as an overlay.
//
//	.ci/mutate [--part 3/10] [--seconds S] [--each 500ms] [--skip TESTS] [--explained FILE] PACKAGE...
//
// Start with mutations.go, which lists the changes; copies.go puts them into one binary. A change that no test can notice is
// written, with its reason, into .ci/unnoticed; any other that survives makes the exit status 1.
package main

import (
	"flag"
	"fmt"
	"os"
	"time"
)

func main() {
	part := flag.String("part", "1/1", "which mutations to try: 3/10 is the third of ten parts")
	each := flag.Duration("each", 0, "leave out tests that take longer alone, such as 500ms; 0 for none")
	seconds := flag.Int("seconds", 0, "begin no mutation after so many seconds; 0 for no limit")
	explained := flag.String("explained", ".ci/unnoticed", "the list of mutations that no test can notice")
	kinds := flag.String("kinds", "", "of arithmetic,number,comparison,logic,statement; all")
	again := flag.String("again", "", "only what survived or was not tried in the output of an earlier run, kept in this file")
	skip := flag.String("skip", "", "tests that are left out, as go test's -skip")
	flag.Usage = func() {
		fmt.Fprintln(os.Stderr, "usage: .ci/mutate [flags] PACKAGE...")
		flag.PrintDefaults()
	}
	packages := typed()
	r := run{skip: *skip, kinds: *kinds, each: *each, out: os.Stdout}
	if n, err := fmt.Sscanf(*part, "%d/%d", &r.part, &r.parts); n != 2 || err != nil || r.part < 1 || r.part > r.parts || len(packages) == 0 {
		flag.Usage()
		os.Exit(2)
	}
	if *seconds > 0 {
		r.until = time.Now().Add(time.Duration(*seconds) * time.Second)
	}
	known, err := readExplained(*explained)
	if err == nil && *again != "" {
		var text []byte
		text, err = os.ReadFile(*again)
		r.again = string(text)
	}
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

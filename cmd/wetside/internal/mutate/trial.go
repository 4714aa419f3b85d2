package main

// Trying mutations: the tests that reach a changed function, quick ones first, each within a
// time that was measured.

import (
	"context"
	"encoding/json"
	"fmt"
	"go/parser"
	"go/token"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// trial tests one package with and without changes.
type trial struct {
	pkg      goPackage
	work     string
	skip     string
	each     time.Duration
	binary   string          // with every copy in it
	variable map[string]bool // constants that are variables there
	tests    []timed
}

// timed is a test, how long it takes alone, and the functions that it reaches.
type timed struct {
	name    string
	takes   time.Duration // of the processor: the machine may be busy
	wall    time.Duration
	reaches map[int]bool
}

// build compiles all copies at once, without those that are no programs, and says which. First
// it looks which constants can be variables; the others are compiled one by one, later.
func (t *trial) build(chosen []copied) (dead map[int]bool, err error) {
	dead, t.binary = map[int]bool{}, filepath.Join(t.work, "copies.test")
	functions, constants := false, map[string]bool{}
	for i, m := range chosen {
		if m.within != nil {
			m.within.id = m.within.at + 1 + 1_000_000*slices.Index(t.pkg.GoFiles, filepath.Base(m.file))
			functions = true
		}
		if m.of != nil {
			constants[m.of.name] = true
		}
		if m.of == nil && m.within == nil || t.parses(m) {
			continue
		}
		dead[chosen[i].number] = true
	}
	t.variable = constants
	for withFunctions := len(constants) == 0; ; {
		said, err := t.compileAll(chosen, dead, withFunctions)
		switch before := len(dead) + len(constants); {
		case err == nil && (withFunctions || !functions):
			return dead, nil
		case err == nil:
			withFunctions = true
		case withFunctions:
			for _, found := range mutantNumber.FindAllStringSubmatch(said, -1) {
				n, _ := strconv.Atoi(found[1])
				dead[n] = true
			}
			if len(dead)+len(constants) == before {
				return nil, fmt.Errorf("its tests do not compile: %s", said)
			}
		default:
			for _, word := range identifier.FindAllString(said, -1) {
				delete(constants, word)
			}
			if len(dead)+len(constants) == before {
				return nil, fmt.Errorf("its tests do not compile: %s", said)
			}
		}
	}
}

var (
	mutantNumber = regexp.MustCompile(`mutant(\d+):`)
	identifier   = regexp.MustCompile(`[A-Za-z_][A-Za-z_0-9]*`)
)

// parses reports whether a change leaves a text that can be parsed.
func (t *trial) parses(m copied) bool {
	src, err := os.ReadFile(m.file)
	if err == nil {
		_, err = parser.ParseFile(token.NewFileSet(), "", m.whole(src), parser.SkipObjectResolution)
	}
	return err == nil
}

// asks reports whether a mutation is in the binary of all.
func (t *trial) asks(m copied) bool { return m.within != nil || m.of != nil && t.variable[m.of.name] }

func (t *trial) compileAll(chosen []copied, dead map[int]bool, withFunctions bool) (said string, err error) {
	files, replace := map[string][]copied{}, map[string]string{}
	for _, m := range chosen {
		if t.asks(m) && !dead[m.number] && (withFunctions || m.within == nil) {
			files[m.file] = append(files[m.file], m)
		}
	}
	if err := t.write(replace, filepath.Join(t.pkg.Dir, "mutantasked.go"), []byte(fmt.Sprintf(asking, t.pkg.Name))); err != nil {
		return "", err
	}
	for file, copies := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			return "", err
		}
		if err := t.write(replace, file, withCopies(src, copies)); err != nil {
			return "", err
		}
	}
	return t.compile(t.binary, replace)
}

// write keeps a file's text for the compiler, in the place of the tree's own.
func (t *trial) write(replace map[string]string, file string, text []byte) error {
	path, err := filepath.Abs(file)
	if err != nil {
		return err
	}
	to := filepath.Join(t.work, fmt.Sprintf("%d.go", len(replace)))
	replace[path] = to
	return os.WriteFile(to, text, 0o600)
}

func (t *trial) compile(binary string, replace map[string]string) (said string, err error) {
	text, err := json.Marshal(map[string]map[string]string{"Replace": replace})
	if err != nil {
		return "", err
	}
	overlay := binary + ".json"
	if err := os.WriteFile(overlay, text, 0o600); err != nil {
		return "", err
	}
	out, err := exec.Command("go", "test", "-c", "-vet=off", "-gcflags=-e", "-o", binary, "-overlay", overlay, t.pkg.ImportPath).CombinedOutput()
	return string(out), err
}

// measure runs each test by itself on the unchanged functions. One that fails, such as a test
// of allocations, is left out, and told.
func (t *trial) measure(told io.Writer) error {
	list := exec.Command(t.binary, "-test.list=^(Test|Example|Fuzz)")
	list.Dir = t.pkg.Dir
	out, err := list.Output()
	if err != nil {
		return err
	}
	left, longest := regexp.MustCompile(t.skip), 5*time.Minute
	if t.each > 0 {
		longest = 10 * t.each
	}
	for _, name := range strings.Fields(string(out)) {
		if t.skip != "" && left.MatchString(name) {
			continue
		}
		reached := filepath.Join(t.work, name)
		began := time.Now()
		got, said, takes := t.run(t.binary, []string{"MUTANT=-1", "MUTANT_REACHED=" + reached}, []string{name}, longest)
		if t.each > 0 && (got == overtime || takes > t.each) {
			continue
		}
		if got != survivor {
			fmt.Fprintf(told, "%s left out, which fails where functions have copies: %s\n", name, oneLine(said))
			continue
		}
		one := timed{name, takes, time.Since(began), map[int]bool{}}
		text, _ := os.ReadFile(reached) // none where nothing was reached
		for _, line := range strings.Fields(string(text)) {
			id, _ := strconv.Atoi(line)
			one.reaches[id] = true
		}
		t.tests = append(t.tests, one)
	}
	slices.SortStableFunc(t.tests, func(a, b timed) int { return int(a.takes - b.takes) })
	return nil
}

// try runs the tests on a mutation, more of them each time, until one fails.
func (t *trial) try(m copied) outcome {
	binary, env := t.binary, []string{"MUTANT=" + strconv.Itoa(m.number)}
	if !t.asks(m) {
		src, err := os.ReadFile(m.file)
		if err != nil {
			return noProgram
		}
		dir, err := os.MkdirTemp(t.work, "one")
		if err != nil {
			return noProgram
		}
		defer os.RemoveAll(dir)
		alone, replace := trial{pkg: t.pkg, work: dir}, map[string]string{}
		if alone.write(replace, m.file, m.whole(src)) != nil {
			return noProgram
		}
		binary, env = filepath.Join(dir, "one.test"), nil
		if _, err := alone.compile(binary, replace); err != nil {
			return noProgram
		}
	}
	var names []string
	var takes, wall time.Duration
	most := 200 * time.Millisecond
	for i, test := range t.tests {
		if m.within == nil || test.reaches[m.within.id] {
			names = append(names, test.name)
			takes, wall = takes+test.takes, wall+test.wall
		}
		if len(names) > 0 && (takes > most || i == len(t.tests)-1) {
			if got, _, _ := t.run(binary, env, names, 5*wall+3*time.Second); got != survivor {
				return got
			}
			names, takes, wall, most = nil, 0, 0, 4*most
		}
	}
	return survivor
}

// run runs tests where they stand, until the first that fails, with no more memory than they need.
func (t *trial) run(binary string, env, names []string, longest time.Duration) (got outcome, said string, takes time.Duration) {
	ctx, cancel := context.WithTimeout(context.Background(), longest)
	defer cancel()
	tests := exec.CommandContext(ctx, "sh", "-c", `ulimit -d 4000000; exec "$0" "$@"`, binary,
		"-test.failfast", "-test.short", "-test.run=^("+strings.Join(names, "|")+")$")
	tests.Dir, tests.WaitDelay = t.pkg.Dir, time.Second
	// What needs parts from outside is slow, and not what a unit's tests are judged by.
	tests.Env = append(append(os.Environ(), "WETSIDE_E2E=", "WETSIDE_FULL="), env...)
	out, err := tests.CombinedOutput()
	if tests.ProcessState != nil {
		takes = tests.ProcessState.UserTime() + tests.ProcessState.SystemTime()
	}
	switch {
	case ctx.Err() != nil:
		return overtime, string(out), takes
	case err != nil:
		return killed, string(out), takes
	}
	return survivor, "", takes
}

package main

// Trying mutations: a test binary with each in it, within a time that is measured first.

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// run is one call of the program.
type run struct {
	share, seed int
	skip        string
	until       time.Time // no mutation begins after it; zero for no limit
	explained   map[string]string
	out         io.Writer
	survived    int
}

// readExplained reads the list of what no test can notice: a mutation's name, a tab, why.
func readExplained(name string) (map[string]string, error) {
	f, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	known := map[string]string{}
	lines := bufio.NewScanner(f)
	for n := 1; lines.Scan(); n++ {
		key, why, ok := strings.Cut(lines.Text(), "\t")
		switch {
		case key == "" || strings.HasPrefix(key, "#"):
		case !ok || why == "":
			return nil, fmt.Errorf("%s:%d: no reason; expected one behind a tab", name, n)
		default:
			known[key] = why
		}
	}
	return known, lines.Err()
}

// goPackage is what go list tells.
type goPackage struct {
	ImportPath, Dir string
	GoFiles         []string
}

func (r *run) packages(patterns []string) error {
	list := exec.Command("go", append([]string{"list", "-json=ImportPath,Dir,GoFiles"}, patterns...)...)
	list.Stderr = os.Stderr
	out, err := list.Output()
	if err != nil {
		return err
	}
	for d := json.NewDecoder(bytes.NewReader(out)); d.More(); {
		var p goPackage
		if err := d.Decode(&p); err != nil {
			return err
		}
		if err := r.onePackage(p); err != nil {
			return err
		}
	}
	return nil
}

// outcome is what became of a mutation.
type outcome string

const (
	killed     outcome = "killed"
	survivor   outcome = "survived"
	noProgram  outcome = "no program" // it does not compile
	impossible outcome = "explained"
)

func (r *run) onePackage(p goPackage) error {
	work, err := os.MkdirTemp("", "mutate-*")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	chosen, all, err := r.choose(p)
	if err != nil {
		return err
	}
	t := trial{pkg: p, work: work, skip: r.skip, longest: 5 * time.Minute}
	began := time.Now()
	if got, said := t.test(""); got != survivor {
		return fmt.Errorf("%s: its own tests fail: %s", p.ImportPath, said)
	}
	t.longest = 3*time.Since(began) + 10*time.Second
	count, tried := map[outcome]int{}, 0
	for _, m := range chosen {
		if !r.until.IsZero() && time.Now().After(r.until) {
			break
		}
		tried++
		got := r.one(t, m)
		count[got]++
		if got == survivor {
			r.survived++
			fmt.Fprintf(r.out, "survived %s:%d: %s\n", m.file, m.line, m.key())
		}
	}
	fmt.Fprintf(r.out, "%s: %d of %d mutations tried: %d killed, %d survived, %d explained, %d do not compile\n",
		p.ImportPath, tried, all, count[killed], count[survivor], count[impossible], count[noProgram])
	return nil
}

func (r *run) one(t trial, m mutation) outcome {
	if _, known := r.explained[m.key()]; known {
		return impossible
	}
	got, _ := t.mutated(m)
	return got
}

// choose draws the share. A mutation is in it or not whatever else changes in its file.
func (r *run) choose(p goPackage) (chosen []mutation, all int, err error) {
	top, err := filepath.Abs(".")
	if err != nil {
		return nil, 0, err
	}
	for _, name := range p.GoFiles {
		path := filepath.Join(p.Dir, name)
		src, err := os.ReadFile(path)
		if err != nil {
			return nil, 0, err
		}
		shown, err := filepath.Rel(top, path)
		if err != nil {
			return nil, 0, err
		}
		found, err := mutations(shown, src)
		if err != nil {
			return nil, 0, err
		}
		for _, m := range found {
			h := fnv.New32a()
			fmt.Fprintf(h, "%d %s", r.seed, m.key())
			if all++; int(h.Sum32()%100) < r.share {
				chosen = append(chosen, m)
			}
		}
	}
	return chosen, all, nil
}

// trial tests one package with and without changes.
type trial struct {
	pkg     goPackage
	work    string
	skip    string
	longest time.Duration
}

func (t trial) mutated(m mutation) (outcome, string) {
	src, err := os.ReadFile(m.file)
	if err != nil {
		return noProgram, err.Error()
	}
	path, err := filepath.Abs(m.file)
	if err != nil {
		return noProgram, err.Error()
	}
	changed, overlay := filepath.Join(t.work, "changed.go"), filepath.Join(t.work, "overlay.json")
	text, err := json.Marshal(map[string]map[string]string{"Replace": {path: changed}})
	if err == nil {
		err = os.WriteFile(changed, m.apply(src), 0o600)
	}
	if err == nil {
		err = os.WriteFile(overlay, text, 0o600)
	}
	if err != nil {
		return noProgram, err.Error()
	}
	return t.test(overlay)
}

// test builds the package's tests and runs them where they stand, until the first that fails.
func (t trial) test(overlay string) (outcome, string) {
	binary := filepath.Join(t.work, "tests")
	build := exec.Command("go", "test", "-c", "-vet=off", "-o", binary, "-overlay", overlay, t.pkg.ImportPath)
	if overlay == "" {
		build = exec.Command("go", "test", "-c", "-vet=off", "-o", binary, t.pkg.ImportPath)
	}
	if said, err := build.CombinedOutput(); err != nil {
		return noProgram, string(said)
	}
	ctx, cancel := context.WithTimeout(context.Background(), t.longest)
	defer cancel()
	tests := exec.CommandContext(ctx, binary, "-test.failfast", "-test.short", "-test.skip="+t.skip)
	tests.Dir, tests.WaitDelay = t.pkg.Dir, time.Second
	// What needs parts from outside is slow, and not what a unit's tests are judged by.
	tests.Env = append(os.Environ(), "WETSIDE_E2E=", "WETSIDE_FULL=")
	if said, err := tests.CombinedOutput(); err != nil {
		return killed, string(said)
	}
	return survivor, ""
}

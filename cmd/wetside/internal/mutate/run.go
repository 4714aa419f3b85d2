package main

// One call of the program: which mutations are tried, and the account of what became of them.

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"time"
)

// run is one call of the program.
type run struct {
	part, parts int
	skip        string
	each        time.Duration // tests that take longer alone are left out; zero for none
	until       time.Time     // no mutation begins after it; zero for no limit
	explained   map[string]string
	again       string // what an earlier run printed: only what survived or was not tried there; "" for all
	kinds       string // those to try, such as "arithmetic,number"; "" for all
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
	ImportPath, Dir, Name string
	GoFiles               []string
}

func (r *run) packages(patterns []string) error {
	list := exec.Command("go", append([]string{"list", "-json=ImportPath,Dir,Name,GoFiles"}, patterns...)...)
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
			return fmt.Errorf("%s: %w", p.ImportPath, err)
		}
	}
	return nil
}

// outcome is what became of a mutation.
type outcome string

const (
	killed     outcome = "killed"
	overtime   outcome = "killed by the clock"
	survivor   outcome = "survived"
	noProgram  outcome = "do not compile"
	impossible outcome = "explained"
	untried    outcome = "not tried"
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
	t := trial{pkg: p, work: work, skip: r.skip, each: r.each}
	dead, err := t.build(chosen)
	if err == nil {
		err = t.measure(r.out)
	}
	if err != nil {
		return err
	}
	became := make([]outcome, len(chosen))
	var waiting sync.WaitGroup
	free := make(chan bool, runtime.GOMAXPROCS(0))
	for i, m := range chosen {
		_, known := r.explained[m.key()]
		switch {
		case dead[m.number]:
			became[i] = noProgram
		case known:
			became[i] = impossible
		case !r.until.IsZero() && time.Now().After(r.until):
			became[i] = untried
		default:
			free <- true
			waiting.Go(func() {
				became[i] = t.try(m)
				<-free
			})
		}
	}
	waiting.Wait()
	r.account(p, chosen, became, all)
	return nil
}

// account prints the survivors, and how many there were of each kind.
func (r *run) account(p goPackage, chosen []copied, became []outcome, all int) {
	count := map[kind]map[outcome]int{}
	for i, m := range chosen {
		if count[m.kind] == nil {
			count[m.kind] = map[outcome]int{}
		}
		count[m.kind][became[i]]++
		if became[i] == survivor || became[i] == untried {
			fmt.Fprintf(r.out, "%s %s:%d: %s\n", became[i], m.file, m.line, m.key())
		}
		if became[i] == survivor {
			r.survived++
		}
	}
	fmt.Fprintf(r.out, "%s: %d of %d mutations chosen\n", p.ImportPath, len(chosen), all)
	for _, k := range []kind{arithmetic, number, comparison, logic, statement} {
		if count[k] == nil {
			continue
		}
		fmt.Fprintf(r.out, "  %s:", k)
		for _, o := range []outcome{killed, overtime, survivor, impossible, noProgram, untried} {
			fmt.Fprintf(r.out, " %d %s", count[k][o], o)
			if o != untried {
				fmt.Fprint(r.out, ",")
			}
		}
		fmt.Fprintln(r.out)
	}
}

// choose draws the part. A mutation is in it or not whatever else changes in its file.
func (r *run) choose(p goPackage) (chosen []copied, all int, err error) {
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
			if r.kinds != "" && !strings.Contains(r.kinds, string(m.kind)) {
				continue
			}
			h := fnv.New32a()
			fmt.Fprint(h, m.key())
			if all++; int(h.Sum32()%uint32(r.parts)) == r.part-1 && (r.again == "" || strings.Contains(r.again, ": "+m.key()+"\n")) {
				chosen = append(chosen, copied{m, len(chosen) + 1})
			}
		}
	}
	return chosen, all, nil
}

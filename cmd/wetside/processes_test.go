//go:build unix

package main

// Which processes there are: as the kernel tells it where it does, so that a bare
// machine needs no ps.

import (
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// process_ is one of them. Its family is its session, or, told by ps, its group.
type process_ struct{ pid, parent, family int }

// processes lists those that live, or have not been waited for.
func processes() []process_ {
	files, err := os.ReadDir("/proc")
	if err != nil || !slices.ContainsFunc(files, func(f os.DirEntry) bool { return f.Name() == "self" }) {
		out, _ := exec.Command("ps", "-A", "-o", "pid=", "-o", "ppid=", "-o", "pgid=").Output()
		return readProcesses(strings.Split(string(out), "\n"), func(line string, p *process_) {
			fmt.Sscan(line, &p.pid, &p.parent, &p.family)
		})
	}
	var lines []string
	for _, f := range files {
		text, _ := os.ReadFile("/proc/" + f.Name() + "/stat") // it may be gone
		lines = append(lines, string(text))
	}
	return readProcesses(lines, func(line string, p *process_) { // proc_pid_stat(5): the name may hold anything
		var state string
		var group int
		fmt.Sscan(line, &p.pid)
		fmt.Sscan(line[strings.LastIndexByte(line, ')')+1:], &state, &p.parent, &group, &p.family)
	})
}

func readProcesses(lines []string, read func(string, *process_)) []process_ {
	var list []process_
	for _, line := range lines {
		if p := (process_{}); line != "" {
			if read(line, &p); p.pid > 0 {
				list = append(list, p)
			}
		}
	}
	return list
}

// childrenOf are the children of a process.
func childrenOf(parent int) []int {
	return pidsOf(func(p process_) bool { return p.parent == parent })
}

// familyOf are all that run in a terminal's session.
func familyOf(leader int) []int {
	return pidsOf(func(p process_) bool { return p.family == leader })
}

func pidsOf(yes func(process_) bool) (list []int) {
	for _, p := range processes() {
		if yes(p) {
			list = append(list, p.pid)
		}
	}
	return list
}

// parentOf is the parent of a process that has one.
func parentOf(t *testing.T, pid int) int {
	t.Helper()
	list := processes()
	i := slices.IndexFunc(list, func(p process_) bool { return p.pid == pid })
	if i < 0 || list[i].parent <= 1 {
		t.Fatalf("process %d has no parent among %d", pid, len(list))
	}
	return list[i].parent
}

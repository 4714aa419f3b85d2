//go:build !unix

package main

import "os"

// alive tells whether there is a process with that number.
func alive(pid int) bool {
	p, err := os.FindProcess(pid)
	if err == nil {
		p.Release()
	}
	return err == nil
}

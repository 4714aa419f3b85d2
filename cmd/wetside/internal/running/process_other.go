//go:build !unix

package running

// Whether a process exists, asked by opening it.

import "os"

// processExists tells whether there is a process with that number.
func processExists(pid int) bool {
	p, err := os.FindProcess(pid)
	if err == nil {
		p.Release()
	}
	return err == nil
}

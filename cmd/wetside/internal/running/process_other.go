//go:build !unix

package running

import "os"

// processExists tells whether there is a process with that number.
func processExists(pid int) bool {
	p, err := os.FindProcess(pid)
	if err == nil {
		p.Release()
	}
	return err == nil
}

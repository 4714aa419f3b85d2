//go:build !linux && !darwin && !windows

package doctor

// Free disk space, on systems where nobody tells it.

// freeSpace is how many bytes a folder's disk still takes; here that is not known.
func freeSpace(string) (uint64, bool) { return 0, false }

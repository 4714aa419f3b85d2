package doctor

// Free disk space, by a call of Windows.

import "golang.org/x/sys/windows"

// freeSpace is how many bytes a folder's disk still takes; false where that is not known.
func freeSpace(folder string) (uint64, bool) {
	name, err := windows.UTF16PtrFromString(folder)
	if err != nil {
		return 0, false
	}
	var free uint64
	if err := windows.GetDiskFreeSpaceEx(name, &free, nil, nil); err != nil {
		return 0, false
	}
	return free, true
}

package clock

// Windows: time since boot counts sleep, unbiased interrupt time does not; the
// count of boots is the boot's name. Cross-compiled and vetted only; never
// run.

import (
	"os"
	"strconv"
	"time"
	"unsafe"

	"golang.org/x/sys/windows"
	"golang.org/x/sys/windows/registry"
)

const bootCount = `SYSTEM\CurrentControlSet\Control\Session Manager\Memory Management\PrefetchParameters`

var unbiased = windows.NewLazySystemDLL("kernel32.dll").NewProc("QueryUnbiasedInterruptTime")

type systemSource struct{ boot string }

// System is the source of this computer's own clocks.
func System() Source {
	boot := bootName()
	if boot == "" || unbiased.Find() != nil {
		return newProcess(os.Getpid())
	}
	return systemSource{boot: boot}
}

// bootName is empty where the registry does not tell.
func bootName() string {
	key, err := registry.OpenKey(registry.LOCAL_MACHINE, bootCount, registry.QUERY_VALUE)
	if err != nil {
		return ""
	}
	defer key.Close()
	n, _, err := key.GetIntegerValue("BootId")
	if err != nil {
		return ""
	}
	return "boot-" + strconv.FormatUint(n, 10)
}

// Read pairs the clocks between two readings of the boot clock.
func (s systemSource) Read() Mark {
	return tightestReading(func() (Mark, time.Duration) {
		before := windows.DurationSinceBoot()
		var tenths uint64 // of a microsecond
		unbiased.Call(uintptr(unsafe.Pointer(&tenths)))
		now := time.Now()
		after := windows.DurationSinceBoot()
		return Mark{Boot: s.boot, Boottime: before, Monotonic: time.Duration(tenths) * 100, Wall: wall(now)}, after - before
	})
}

package clock

// Windows: interrupt time counts sleep, unbiased interrupt time does not; the count
// of boots is the boot's name. The precise readings go to 100 ns, the others, for what is
// older than Windows 10, in steps of up to 15.6 ms (Microsoft, realtimeapiset.h). Run under
// wine, which never sleeps; never on Windows itself.

import (
	"os"
	"strconv"
	"time"
	"unsafe"

	"golang.org/x/sys/windows"
	"golang.org/x/sys/windows/registry"
)

const bootCount = `SYSTEM\CurrentControlSet\Control\Session Manager\Memory Management\PrefetchParameters`

var (
	preciseSinceBoot = windows.NewLazySystemDLL("kernelbase.dll").NewProc("QueryInterruptTimePrecise")
	preciseAwake     = windows.NewLazySystemDLL("kernelbase.dll").NewProc("QueryUnbiasedInterruptTimePrecise")
	coarseAwake      = windows.NewLazySystemDLL("kernel32.dll").NewProc("QueryUnbiasedInterruptTime")
)

type systemSource struct {
	boot             string
	sinceBoot, awake func() time.Duration // with sleep, and without
}

// System is the source of this computer's own clocks.
func System() Source {
	boot := bootName()
	switch {
	case boot == "" || coarseAwake.Find() != nil:
		return newProcess(os.Getpid())
	case preciseSinceBoot.Find() != nil || preciseAwake.Find() != nil:
		return systemSource{boot, windows.DurationSinceBoot, interruptTime(coarseAwake)}
	}
	return systemSource{boot, interruptTime(preciseSinceBoot), interruptTime(preciseAwake)}
}

// interruptTime reads a clock that counts tenths of a microsecond.
func interruptTime(call *windows.LazyProc) func() time.Duration {
	return func() time.Duration {
		var tenths uint64
		call.Call(uintptr(unsafe.Pointer(&tenths)))
		return time.Duration(tenths) * 100
	}
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
		before := s.sinceBoot()
		awake := s.awake()
		now := time.Now()
		after := s.sinceBoot()
		width := after - before
		return Mark{Boot: s.boot, Boottime: before + width/2, Monotonic: awake, Wall: wall(now)}, width
	})
}

package sink

// Whether Windows has a sound device, by its oldest and cheapest way to ask (Microsoft,
// mmeapi.h); oto, which asks the same, says nothing where there is none.

import (
	"errors"
	"fmt"
	"sync"
	"unsafe"

	"golang.org/x/sys/windows"
)

var waveOutOpen = windows.NewLazySystemDLL("winmm.dll").NewProc("waveOutOpen")

// waveFormat is WAVEFORMATEX.
type waveFormat struct {
	tag, channels               uint16
	samplesPerSec, bytesPerSec  uint32
	blockAlign, bits, extraSize uint16
}

// steadyClock asks Windows for a timer of 1 ms instead of 15.6 ms: Go's clock, by which frames
// are put on their instant, moves with it.
var steadyClock = sync.OnceFunc(func() { _ = windows.TimeBeginPeriod(1) })

// devicePresent asks whether a device could be opened, without opening it.
func devicePresent() error {
	const (
		mapper      = 0xffffffff // WAVE_MAPPER: whichever the person chose
		queryOnly   = 1          // WAVE_FORMAT_QUERY
		badDeviceID = 2          // MMSYSERR_BADDEVICEID
		noDriver    = 6          // MMSYSERR_NODRIVER
	)
	if waveOutOpen.Find() != nil {
		return errors.New("this Windows has no sound")
	}
	steadyClock()
	f := waveFormat{tag: 1, channels: 2, samplesPerSec: Rate, bytesPerSec: Rate * frameBytes, blockAlign: frameBytes, bits: 16}
	switch code, _, _ := waveOutOpen.Call(0, mapper, uintptr(unsafe.Pointer(&f)), 0, 0, queryOnly); code {
	case 0:
		return nil
	case badDeviceID, noDriver:
		return errors.New("there is none")
	default:
		return fmt.Errorf("it cannot be opened (waveOutOpen: %d)", code)
	}
}

package sink

// No sound: frames are pulled in real time and dropped.

import "time"

// silentSink is the sink that is heard nowhere.
type silentSink struct {
	status
	pace *puller
}

func openSilent(reason string, source Source) *silentSink {
	return &silentSink{
		status: status{name: "off", fault: reason},
		pace:   startPuller(time.Now(), source, idleEvery, func([][2]float64) {}),
	}
}

// Close ends the pulling, and what has not been pulled is not: rendering what a slow computer
// is behind by would only hold up the end. It never errs.
func (o *silentSink) Close() error {
	o.pace.abandon()
	return nil
}

package sink

// No sound: frames are pulled in real time and dropped.

// off is the sink that is heard nowhere.
type off struct {
	condition
	pace *pace
}

func openOff(reason string, source Source) *off {
	return &off{
		condition: condition{name: "off", fault: reason},
		pace:      startPace(source, idleEvery, func([][2]float64) {}),
	}
}

// Close ends the pulling; it never errs.
func (o *off) Close() error {
	o.pace.stop()
	return nil
}

package room

// Panel and key lamps set through logind.

import "context"

// newLampSetter sets lamps through logind, which lets the user of the session in front of
// the computer do so (Session.SetBrightness in org.freedesktop.login1(5)).
func newLampSetter(ctx context.Context) (set func(Lamp) error, leave func()) {
	bus, err := openBus(ctx)
	if err != nil {
		return func(Lamp) error { return err }, func() {}
	}
	return func(l Lamp) error {
		return bus.call(ctx, sessionInterface, "SetBrightness", l.Class, l.Name, uint32(l.Value)).Err
	}, func() { bus.Close() }
}

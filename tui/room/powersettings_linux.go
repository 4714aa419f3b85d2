package room

// How logind is set: what it does by itself when nobody types, or the lid is closed.

import (
	"context"

	"github.com/godbus/dbus/v5"
)

// ReadPowerSettings asks logind how it is set (the manager's properties in
// org.freedesktop.login1(5)).
func ReadPowerSettings() PowerSettings {
	ctx := context.Background()
	bus, err := openBus(ctx)
	if err != nil {
		return PowerSettings{Problem: reason(err)}
	}
	defer bus.Close()
	var all map[string]dbus.Variant
	if err := bus.call(ctx, "org.freedesktop.DBus.Properties", "GetAll", managerInterface).Store(&all); err != nil {
		return PowerSettings{Problem: "logind: " + reason(err)}
	}
	f := PowerSettings{}
	f.Idle, _ = all["IdleAction"].Value().(string)
	f.Lid, _ = all["HandleLidSwitch"].Value().(string)
	f.LidClosed, _ = all["LidClosed"].Value().(bool)
	if on, known := all["OnExternalPower"].Value().(bool); known {
		f.OnMains = map[bool]string{true: "yes", false: "no"}[on]
	}
	return f
}

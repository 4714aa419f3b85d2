package room

import (
	"context"

	"github.com/godbus/dbus/v5"
)

// Ask asks logind how it is set (the manager's properties in
// org.freedesktop.login1(5)).
func Ask() Facts {
	ctx := context.Background()
	bus, err := openBus(ctx)
	if err != nil {
		return Facts{Why: reason(err)}
	}
	defer bus.Close()
	var all map[string]dbus.Variant
	if err := bus.call(ctx, "org.freedesktop.DBus.Properties", "GetAll", manager).Store(&all); err != nil {
		return Facts{Why: "logind: " + reason(err)}
	}
	f := Facts{}
	f.Idle, _ = all["IdleAction"].Value().(string)
	f.Lid, _ = all["HandleLidSwitch"].Value().(string)
	f.Shut, _ = all["LidClosed"].Value().(bool)
	if on, known := all["OnExternalPower"].Value().(bool); known {
		f.Mains = map[bool]string{true: "yes", false: "no"}[on]
	}
	return f
}

package tui

// Touches of the keys for wet hands, each told from a bounce or a held key.

import (
	"time"

	"example.org/wetside/tui/press"
	"example.org/wetside/tui/screen"
)

// touches are of each key by itself.
type touches struct{ big, menu, escape press.Detector }

// of is what follows a key.
func (t *touches) of(k screen.Key) *press.Detector {
	switch k {
	case screen.MenuKey:
		return &t.menu
	case screen.EscapeKey:
		return &t.escape
	}
	return &t.big
}

// felt takes a key, and tells how it counts.
func (t touches) felt(k screen.Key, now time.Time) (touches, press.Kind) {
	if k == screen.MenuKey {
		t.big = t.big.Reset() // a touch that waited for its second waits no more
	}
	d := t.of(k)
	var kind press.Kind
	*d, kind = d.Press(now)
	return t, kind
}

// wetKeys are the keys that count by touches.
var wetKeys = []screen.Key{screen.BigKey, screen.MenuKey, screen.EscapeKey}

// other is a key typed that is none of them, or one of them: no touch of another waits for silence
// any more.
func (t touches) other(this screen.Key, is bool) touches {
	for _, k := range wetKeys {
		if d := t.of(k); !is || k != this {
			*d = d.Other()
		}
	}
	return t
}

// released lets go of a key.
func (t touches) released(k screen.Key) touches {
	d := t.of(k)
	*d = d.Release()
	return t
}

// passed remembers a key where it is an ordinary one: held on, it is no touch of the screen that it
// leads to.
func (t touches) passed(k screen.Key, now time.Time) touches {
	d := t.of(k)
	*d, _ = d.Press(now)
	*d = d.Reset()
	return t
}

// spent makes the big key's next touch a first one.
func (t touches) spent() touches {
	t.big = t.big.Reset()
	return t
}

// anew makes every touch a first one, as a change of light does.
func (t touches) anew() touches {
	return touches{big: t.big.Reset(), menu: t.menu.Reset(), escape: t.escape.Reset()}
}

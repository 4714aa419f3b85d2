package tui

// Touches of the keys for wet hands, each told from a bounce or a held key.

import (
	"time"

	"example.org/wetside/tui/press"
	"example.org/wetside/tui/screen"
)

// touches are of each key by itself.
type touches [screen.EscapeKey + 1]press.Detector

// felt takes a key, and tells how it counts.
func (t touches) felt(k screen.Key, now time.Time) (touches, press.Kind) {
	if k == screen.MenuKey {
		t = t.spent() // a touch that waited for its second waits no more
	}
	var kind press.Kind
	t[k], kind = t[k].Press(now)
	return t, kind
}

// other is a key typed that is none of them, or one of them: no touch of another waits for silence
// any more.
func (t touches) other(this screen.Key, is bool) touches {
	for k := range t {
		if !is || screen.Key(k) != this {
			t[k] = t[k].Other()
		}
	}
	return t
}

// passed remembers a key where it is an ordinary one: held on, it is no touch of the screen that it
// leads to.
func (t touches) passed(k screen.Key, now time.Time) touches {
	t[k], _ = t[k].Press(now)
	t[k] = t[k].Reset()
	return t
}

// spent makes the big key's next touch a first one.
func (t touches) spent() touches {
	t[screen.BigKey] = t[screen.BigKey].Reset()
	return t
}

// anew makes every touch a first one, as a change of light does.
func (t touches) anew() touches {
	for k := range t {
		t[k] = t[k].Reset()
	}
	return t
}

package backend

// The keyboard while the screens are drawn: raw, read by ourselves, and given back when they
// are left. bubbletea ends a program whose terminal cannot be read, and takes a terminal's late
// answer for typing; here neither is a key.

import (
	"os"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/term"

	"example.org/wetside/tui"
	"example.org/wetside/tui/keyboard"
)

// Keyboard is the terminal's input while the screens are drawn: keys arrive as they
// are typed.
type Keyboard struct {
	In     *os.File
	saved  *term.State // nil where nothing was changed
	reader *keyboard.Reader
}

// Raw has keys arrive as they are typed.
func (k *Keyboard) Raw() {
	if was, err := term.MakeRaw(int(k.In.Fd())); err == nil {
		k.saved = was
	}
	if k.reader != nil {
		k.reader.Resume()
	}
}

// Restore makes the terminal as it was; what is typed then is somebody else's.
func (k *Keyboard) Restore() {
	if k.reader != nil {
		k.reader.Pause()
	}
	if k.saved != nil {
		term.Restore(int(k.In.Fd()), k.saved)
	}
}

// Again has keys arrive as they are typed where somebody else has changed that; how the terminal
// was stays known.
func (k *Keyboard) Again() { term.MakeRaw(int(k.In.Fd())) }

// retryAfter is how long a terminal that cannot be read is left alone.
const retryAfter = 100 * time.Millisecond

// Tell hands on what is typed, until the terminal is gone: then lost is closed. That it
// cannot be read is not that: it may be in somebody else's hands for a while.
func (k *Keyboard) Tell(send func(tea.Msg)) (lost <-chan struct{}) {
	gone := make(chan struct{})
	r, err := keyboard.NewReader(k.In)
	if err != nil {
		close(gone)
		return gone
	}
	k.reader = r
	go func() {
		for {
			e, err := r.Next(time.Time{})
			if err == nil {
				if msg := message(e); msg != nil {
					send(msg)
				}
				continue
			}
			if _, _, none := term.GetSize(int(k.In.Fd())); none != nil {
				close(gone)
				return
			}
			time.Sleep(retryAfter)
		}
	}()
	return gone
}

// message is an event as the screens take it; nil for none.
func message(e keyboard.Event) tea.Msg {
	switch e.What {
	case keyboard.Quiet:
		return tui.QuietMsg{}
	case keyboard.Released:
		return tui.ReleasedMsg{Key: e.Key}
	case keyboard.Pasted:
		if e.Text == "" {
			return nil
		}
		return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(e.Text), Paste: true}
	case keyboard.Repeated:
		return tui.HeldMsg{Key: keyMsg(e)}
	}
	return keyMsg(e)
}

// keyMsg is a key as bubbletea has it.
func keyMsg(e keyboard.Event) tea.KeyMsg {
	switch kind, named := keyTypes[e.Key]; {
	case e.Key == " ":
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}, Alt: e.Alt}
	case named:
		return tea.KeyMsg{Type: kind, Alt: e.Alt}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(e.Key), Alt: e.Alt}
}

// keyTypes are bubbletea's keys by their names.
var keyTypes = func() map[string]tea.KeyType {
	types := map[string]tea.KeyType{}
	for t := tea.KeyF20; t <= tea.KeyBackspace; t++ {
		if name := t.String(); name != "" && t != tea.KeyRunes && t != tea.KeySpace {
			types[name] = t
		}
	}
	return types
}()

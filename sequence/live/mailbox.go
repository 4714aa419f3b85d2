package live

// Commands on their way to the loop. Putting one in never waits.

import (
	"sync"

	"example.org/wetside/sequence"
)

// request is a command on its way to the loop.
type request struct {
	command sequence.Command
	answer  chan<- sequence.Refusal // why it was refused; nil: nobody waits
}

// mailbox holds requests until the loop takes them.
type mailbox struct {
	mu     *sync.Mutex
	list   *[]request
	signal chan struct{}
}

func newMailbox() mailbox {
	return mailbox{mu: new(sync.Mutex), list: new([]request), signal: make(chan struct{}, 1)}
}

func (m mailbox) put(r request) {
	m.mu.Lock()
	*m.list = append(*m.list, r)
	m.mu.Unlock()
	select {
	case m.signal <- struct{}{}:
	default:
	}
}

func (m mailbox) take() []request {
	m.mu.Lock()
	defer m.mu.Unlock()
	list := *m.list
	*m.list = nil
	return list
}

//go:build !linux

package sink

// Other systems: the connection as it is.

import "net"

func readOnlyPolled(conn net.Conn) deadlineConn { return conn }

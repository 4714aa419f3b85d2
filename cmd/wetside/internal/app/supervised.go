package app

// How a process knows that it is the supervisor's child.

import "os"

// SupervisedVar is the environment variable by which the supervisor tells its child how the
// terminal stands: the light, and whether the background is known to be black.
const SupervisedVar = "WETSIDE_KEPT"

// IsSupervised reports whether this process has a supervisor, until it is adopted.
func IsSupervised() bool { return os.Getenv(SupervisedVar) != "" }

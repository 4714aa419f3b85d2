package room

// OverSSH tells whether the program was started through SSH: its lamps, sleep and sound are then
// those of a computer that the person may not be near (ssh(1), "ENVIRONMENT": SSH_CONNECTION names
// both ends, SSH_TTY the terminal).
func OverSSH(getenv func(string) string) bool {
	return getenv("SSH_CONNECTION") != "" || getenv("SSH_TTY") != ""
}

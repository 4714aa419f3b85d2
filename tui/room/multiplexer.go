package room

// tmux around the screens: its status line, its messages and its other panes are lit in the
// dark, and only tmux can make them dark. What they were is kept as text, so that whoever is
// left can put it back.

import (
	"context"
	"errors"
	"net/url"
	"os/exec"
	"strings"
	"time"
)

// tmuxLimit is how long tmux is waited for.
const tmuxLimit = 2 * time.Second

// hidden are the options that are changed, and what they are in the dark (tmux(1), OPTIONS):
// of the session, and of the pane, that ours may reach the terminal around.
var hidden = []struct{ scope, option, value string }{
	{"", "status", "off"},
	{"", "message-style", "fg=#000000,bg=#000000"},
	{"", "message-command-style", "fg=#000000,bg=#000000"},
	{"-p", "allow-passthrough", "on"},
}

// unset stands for an option that has no value of its own there, zoomed for a pane that was
// made to fill the window.
const (
	unset  = "-"
	zoomed = "zoomed"
)

// ReadTmux tells what tmux shows around a pane now, as text without a newline; an error where
// there is no tmux to ask.
func ReadTmux(getenv func(string) string) (was string, err error) {
	pane := getenv("TMUX_PANE")
	if getenv("TMUX") == "" || pane == "" {
		return "", errors.New("no tmux that can be asked")
	}
	words := []string{url.QueryEscape(pane)}
	for i, h := range hidden {
		out, err := tmux(append(flags("show-options", h.scope, "-qv"), "-t", pane, h.option)...)
		if err != nil && i == 0 {
			return "", err
		}
		word := unset
		if value := strings.TrimSpace(out); value != "" {
			word = url.QueryEscape(value)
		}
		words = append(words, word)
	}
	out, err := tmux("display-message", "-p", "-t", pane, "#{window_panes} #{window_zoomed_flag}")
	if n, z, _ := strings.Cut(strings.TrimSpace(out), " "); err == nil && n != "1" && z != "1" {
		words = append(words, zoomed)
	}
	return strings.Join(words, ","), nil
}

// HideTmux switches off what ReadTmux told of.
func HideTmux(was string) error {
	words := strings.Split(was, ",")
	pane, err := url.QueryUnescape(words[0])
	if err != nil {
		return err
	}
	for i, h := range hidden {
		if _, failed := tmux(append(flags("set-option", h.scope, "-q"), "-t", pane, h.option, h.value)...); failed != nil && i == 0 {
			err = failed
		}
	}
	if words[len(words)-1] == zoomed {
		tmux("resize-pane", "-Z", "-t", pane)
	}
	return err
}

// ShowTmux puts back what ReadTmux told of.
func ShowTmux(was string) {
	words := strings.Split(was, ",")
	pane, err := url.QueryUnescape(words[0])
	if err != nil || len(words) <= len(hidden) {
		return
	}
	for i, h := range hidden {
		value, err := url.QueryUnescape(words[i+1])
		if words[i+1] == unset || err != nil {
			tmux(append(flags("set-option", h.scope, "-qu"), "-t", pane, h.option)...)
			continue
		}
		tmux(append(flags("set-option", h.scope, "-q"), "-t", pane, h.option, value)...)
	}
	if words[len(words)-1] == zoomed {
		tmux("resize-pane", "-Z", "-t", pane)
	}
}

func flags(command string, more ...string) []string {
	list := []string{command}
	for _, f := range more {
		if f != "" {
			list = append(list, f)
		}
	}
	return list
}

func tmux(args ...string) (string, error) {
	ctx, cancel := context.WithTimeout(context.Background(), tmuxLimit)
	defer cancel()
	out, err := exec.CommandContext(ctx, "tmux", args...).Output()
	return string(out), err
}

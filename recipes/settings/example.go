package settings

// The file with each setting explained, made when a person asks for it.

import _ "embed"

// Example is a config.toml that says what holds anyway, each setting with its
// comment.
//
//go:embed config.toml
var Example []byte

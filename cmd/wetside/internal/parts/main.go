// Command parts tells what a built program is made of, as Go wrote it into the program itself:
// the licences of all its modules and of Go, in one text, and a bill of materials in CycloneDX's
// JSON. It is a program of its own so that wetside does not carry it.
//
//	go run ./cmd/wetside/internal/parts PROGRAM VERSION FOLDER
//
// The licences are read from the folders where Go keeps the modules. The time is SOURCE_DATE_EPOCH's,
// so that the same program gives the same files.
package main

import (
	"debug/buildinfo"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"example.org/wetside/cmd/wetside/internal/app"
)

func main() {
	if len(os.Args) != 4 {
		fmt.Fprintln(os.Stderr, "usage: parts PROGRAM VERSION FOLDER")
		os.Exit(app.ExitUsage)
	}
	if err := write(os.Args[1], os.Args[2], os.Args[3]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(app.ExitFailed)
	}
}

// part is a module that the program was built from, or Go itself.
type part struct {
	path, version, sum string
	licence            string   // SPDX's short name
	texts              []string // of its licence and notices
}

// write writes THIRD-PARTY-LICENCES.txt and bill.cdx.json.
func write(program, version, folder string) error {
	parts, err := partsOf(program)
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(folder, "THIRD-PARTY-LICENCES.txt"), []byte(licencesText(parts)), 0o644); err != nil {
		return err
	}
	text, err := json.MarshalIndent(billOf(parts, version, app.BuildTime()), "", "  ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, "bill.cdx.json"), append(text, '\n'), 0o644)
}

// partsOf is Go, then the modules in the program, by name.
func partsOf(program string) ([]part, error) {
	info, err := buildinfo.ReadFile(program)
	if err != nil {
		return nil, err
	}
	list := []part{{path: "std", version: strings.TrimPrefix(info.GoVersion, "go")}}
	for _, m := range info.Deps {
		if m.Replace != nil {
			return nil, fmt.Errorf("%s: replaced by %s; a release has none of that", m.Path, m.Replace.Path)
		}
		list = append(list, part{path: m.Path, version: m.Version, sum: m.Sum})
	}
	for i := range list {
		if err := list[i].read(); err != nil {
			return nil, fmt.Errorf("%s: %w", list[i].path, err)
		}
	}
	return list, nil
}

// read finds a part's licence.
func (p *part) read() error {
	where := []string{"list", "-m", "-f", "{{.Dir}}", p.path}
	if p.path == "std" {
		where = []string{"env", "GOROOT"}
	}
	out, err := exec.Command("go", where...).Output()
	folder := strings.TrimSpace(string(out))
	if err != nil || folder == "" {
		return errors.New("not among the modules that Go has here")
	}
	for _, pattern := range []string{"LICENSE*", "LICENCE*", "COPYING*", "NOTICE*", "PATENTS*"} {
		names, _ := filepath.Glob(filepath.Join(folder, pattern))
		slices.Sort(names)
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				return err
			}
			p.texts = append(p.texts, strings.TrimSpace(strings.ReplaceAll(string(text), "\r\n", "\n")))
		}
	}
	if len(p.texts) == 0 {
		readme, _ := os.ReadFile(filepath.Join(folder, "README.md"))
		said := licenceHeading.FindString(string(readme)) // some say it there alone
		if said == "" {
			return errors.New("has no licence")
		}
		p.texts = []string{"From its README:\n\n" + strings.TrimSpace(said)}
	}
	if p.licence = licenceOf(p.texts[0]); p.licence == "" {
		return errors.New("a licence that is not known here")
	}
	return nil
}

// licenceHeading is what a README says of the licence, up to the next heading.
var licenceHeading = regexp.MustCompile(`(?im)^#+ *licen[sc]e[^#]*`)

// licenceOf is the short name of a licence, by words of its text; "" where none is known.
func licenceOf(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	switch {
	case strings.Contains(text, "Permission is hereby granted, free of charge"), strings.HasPrefix(text, "From its README: ") && strings.Contains(text, "MIT"):
		return "MIT"
	case strings.Contains(text, "Apache License"):
		return "Apache-2.0"
	case strings.Contains(text, "Mozilla Public License"):
		return "MPL-2.0"
	case strings.Contains(text, "Neither the name"):
		return "BSD-3-Clause"
	case strings.Contains(text, "Redistribution and use in source and binary forms"):
		return "BSD-2-Clause"
	}
	return ""
}

func licencesText(parts []part) string {
	var b strings.Builder
	b.WriteString("wetside is one program that holds parts of others. Each is listed with its licence.\n")
	for _, p := range parts {
		fmt.Fprintf(&b, "\n%s\n%s %s (%s)\n\n%s\n", strings.Repeat("=", 78), p.name(), p.version, p.licence, strings.Join(p.texts, "\n\n"))
	}
	return b.String()
}

func (p part) name() string {
	if p.path == "std" {
		return "Go's standard library and runtime"
	}
	return p.path
}

// bill is a bill of materials (CycloneDX 1.5, JSON).
type bill struct {
	Format     string      `json:"bomFormat"`
	Spec       string      `json:"specVersion"`
	Version    int         `json:"version"`
	Metadata   metadata    `json:"metadata"`
	Components []component `json:"components"`
}

type metadata struct {
	Timestamp string    `json:"timestamp"`
	Component component `json:"component"`
}

type component struct {
	Type       string     `json:"type"`
	Name       string     `json:"name"`
	Version    string     `json:"version"`
	URL        string     `json:"purl"`
	Licences   []licensed `json:"licenses"`
	Properties []property `json:"properties,omitempty"`
}

type licensed struct {
	Licence struct {
		ID string `json:"id"`
	} `json:"license"`
}

type property struct {
	Name  string `json:"name"`
	Value string `json:"value"`
}

func billOf(parts []part, version string, at time.Time) bill {
	b := bill{Format: "CycloneDX", Spec: "1.5", Version: 1,
		Metadata: metadata{at.Format(time.RFC3339), newComponent("application", "example.org/wetside", version, "MIT")}}
	for _, p := range parts {
		c := newComponent("library", p.path, p.version, p.licence)
		if p.sum != "" {
			c.Properties = []property{{"go:sum", p.sum}}
		}
		b.Components = append(b.Components, c)
	}
	return b
}

func newComponent(kind, path, version, licence string) component {
	c := component{Type: kind, Name: path, Version: version, URL: "pkg:golang/" + path + "@" + version, Licences: make([]licensed, 1)}
	c.Licences[0].Licence.ID = licence
	return c
}

package main

// wetside plan: what will happen, before film is wet.

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.org/wetside/recipes"
	"example.org/wetside/sequence"
	"example.org/wetside/sequence/journal"
	"example.org/wetside/sequence/notebook"
	"example.org/wetside/tui/page"
)

func (p *program) plan() *cobra.Command {
	var today conditions
	var asJSON, strict, watch bool
	var sheet string
	cmd := &cobra.Command{
		Use:   "plan RECIPE",
		Short: "the plan of a recipe under today's conditions",
		Example: "  wetside plan plover-tray --temp 24\n" +
			"  wetside plan plover-tray --temp 22@5m --towards 19 --drift 45m --json",
		Args: words(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, args []string) error {
			if watch {
				return p.watchPlan(args[0], today.Words)
			}
			plan, err := p.resolve(args[0], today.Words)
			if err != nil {
				return err
			}
			if sheet != "" {
				err = p.hangUp(&plan, sheet)
			}
			if err == nil && (sheet == "" || asJSON) {
				err = p.showPlan(&plan, asJSON)
			}
			if err != nil {
				return err
			}
			if n, err := findRecipe(args[0]); err == nil && n.hint != "" && !asJSON {
				fmt.Fprintln(p.err, "hint: "+n.hint)
			}
			if strict && len(plan.Dangers()) > 0 {
				return errFound
			}
			return nil
		},
	}
	today.flags(cmd)
	today.bottles(cmd)
	cmd.Flags().StringVar(&sheet, "sheet", "", "write plan and mixing to `FILE`, .html or .txt, as a sheet for the wall")
	cmd.Flags().BoolVar(&asJSON, "json", false, "as JSON")
	cmd.Flags().BoolVar(&watch, "watch", false, "show it again whenever the recipe's file has changed, beside an editor; ctrl+c ends it")
	cmd.Flags().BoolVar(&strict, "strict", false, "exit with 1 where a caution is a danger")
	return cmd
}

// hangUp writes the sheet for the wall.
func (p *program) hangUp(plan *sequence.Plan, file string) error {
	write := page.Wall
	switch strings.ToLower(filepath.Ext(file)) {
	case ".html", ".htm":
		write = page.WallHTML
	case ".txt":
	default:
		return usage("--sheet: %q; expected a file that ends in .html or .txt", file)
	}
	if err := os.WriteFile(file, []byte(write(plan, p.settings.Habits)), 0o600); err != nil {
		return err
	}
	_, err := fmt.Fprintf(p.err, "wetside: the sheet is in %s\n", recipes.Clean(file))
	return err
}

func (p *program) showPlan(plan *sequence.Plan, asJSON bool) error {
	if !asJSON {
		_, err := fmt.Fprint(p.out, cleaned(page.Plan(plan, p.settings.Habits, p.width())))
		if text := notebook.WhatItStands(journal.Default(), plan.Recipe.Film.Name, plan.Vessel).Say(p.settings.Habits); err == nil && text != "" {
			_, err = fmt.Fprint(p.out, cleaned("\n"+text+"\n"))
		}
		return err
	}
	return p.json(plan.Summary())
}

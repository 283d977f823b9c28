// Command bundle builds the chart runtime that package reports embeds: it installs the pinned
// chart library, bundles bundle/entry.js with it and writes the result into reports/runtime, with the
// licences of everything that the program holds. It is
// started in the folder reports, by `go generate ./reports`, and needs npm and its registry.
package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"nextrung/reports"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "bundle:", err)
		os.Exit(1)
	}
}

func run() error {
	npm := exec.Command("npm", "ci", "--omit=dev", "--ignore-scripts", "--no-audit", "--no-fund")
	npm.Stdout, npm.Stderr = os.Stderr, os.Stderr
	if err := npm.Run(); err != nil {
		return fmt.Errorf("install the libraries of the pages with %q: %w", npm.String(), err)
	}
	notice, licences, err := legal("node_modules")
	if err != nil {
		return err
	}
	charts, err := bundled("bundle/entry.js", notice)
	if err != nil {
		return err
	}
	draw, err := bundled("bundle/draw.js", notice)
	if err != nil {
		return err
	}
	desk, err := bundled("bundle/desk.js", "")
	if err != nil {
		return err
	}
	gathered, err := modules()
	if err != nil {
		return err
	}
	files := []struct {
		name string
		text []byte
	}{{"LICENCES.txt", licences}, {"MODULES.txt", gathered}, {"charts.js", charts}, {"draw.js", draw}, {reports.ServedScript, desk}, {"stamp", []byte(reports.Stamp() + "\n")}}
	for _, f := range files { // the stamp last: without it the rest does not count
		if err := replace(filepath.Join("runtime", f.name), f.text); err != nil {
			return err
		}
	}
	fmt.Fprintf(os.Stderr, "bundle: runtime/charts.js has %d bytes, draw.js %d, %s %d\n", len(charts), len(draw), reports.ServedScript, len(desk))
	return nil
}

// bundled makes one script of an entry and what it imports, under a notice.
func bundled(entry, notice string) ([]byte, error) {
	options := api.BuildOptions{
		EntryPoints: []string{entry},
		Bundle:      true,
		Format:      api.FormatIIFE,
		Target:      api.ES2022,
		// The chart library asks for this to leave its development warnings out.
		Define:            map[string]string{"process.env.NODE_ENV": `"production"`},
		MinifyWhitespace:  true,
		MinifyIdentifiers: true,
		MinifySyntax:      true,
		LegalComments:     api.LegalCommentsNone, // the banner holds them in one place
		LogLevel:          api.LogLevelWarning,
	}
	if notice != "" {
		options.Banner = map[string]string{"js": "/*! " + notice + "*/"}
	}
	built := api.Build(options)
	if len(built.Errors) > 0 {
		return nil, fmt.Errorf("bundle %s: %d errors", entry, len(built.Errors))
	}
	return bytes.TrimSpace(built.OutputFiles[0].Contents), nil
}

// legal gathers the notice that stays with the bundle and the full licence texts beside it.
func legal(modules string) (notice string, licences []byte, err error) {
	read := func(parts ...string) string {
		b, e := os.ReadFile(filepath.Join(append([]string{modules}, parts...)...))
		err = errors.Join(err, e)
		return strings.TrimSpace(strings.ReplaceAll(string(b), "\r\n", "\n"))
	}
	asf, apache := read("echarts", "NOTICE"), read("echarts", "LICENSE")
	zrender, tslib, htmx := read("zrender", "LICENSE"), read("tslib", "LICENSE.txt"), read("htmx.org", "LICENSE")
	notice = asf + "\n\nLicensed under the Apache License, Version 2.0.\n\nIncluded: zrender, under this licence:\n\n" + zrender +
		"\n\nIncluded: tslib, under this licence:\n\n" + tslib + "\n"
	if strings.Contains(notice, "*/") {
		return "", nil, errors.New("a licence text would end the comment that holds it")
	}
	rule := "\n\n" + strings.Repeat("-", 80) + "\n\n"
	return notice, []byte(strings.Join([]string{asf, apache, "zrender\n\n" + zrender, "tslib\n\n" + tslib, "htmx\n\n" + htmx}, rule) + "\n"), err
}

// replace writes a file whole or not at all: under a temporary name in the same folder first.
func replace(name string, text []byte) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".new-*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	_, err = f.Write(text)
	if err = errors.Join(err, f.Chmod(0o644), f.Close()); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	return os.Rename(f.Name(), name)
}

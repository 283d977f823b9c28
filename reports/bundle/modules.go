package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"nextrung/reports"
)

// legalFile is what a module's licence files are called.
var legalFile = regexp.MustCompile(`(?i)^(licen[cs]e|copying|notice|patents|third_party)`)

// modules gathers the licence texts of the Go modules in the program, on each system that it is
// meant for, and of Go itself. The module cache holds them, so that no copy needs to be kept.
func modules() ([]byte, error) {
	lines := map[string]bool{}
	for _, system := range []string{"linux", "darwin", "windows"} {
		list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}\t{{.Version}}\t{{.Dir}}{{end}}{{end}}", "nextrung/cmd/nextrung")
		list.Env, list.Stderr = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0"), os.Stderr
		out, err := list.Output()
		if err != nil {
			return nil, fmt.Errorf("list the modules of the program on %s: %w", system, err)
		}
		for line := range strings.Lines(string(out)) {
			if line = strings.TrimSpace(line); line != "" {
				lines[line] = true
			}
		}
	}
	env, err := exec.Command("go", "env", "GOVERSION", "GOROOT").Output()
	if err != nil {
		return nil, fmt.Errorf("ask go where it is: %w", err)
	}
	about := strings.Fields(string(env))
	if len(about) < 2 {
		return nil, fmt.Errorf("go env says %q about itself", env)
	}
	lines["go\t"+about[0]+"\t"+about[1]] = true
	var out bytes.Buffer
	var sorted []string
	for line := range lines {
		sorted = append(sorted, line)
	}
	slices.Sort(sorted)
	for _, line := range sorted {
		part := strings.Split(line, "\t")
		if len(part) != 3 || part[2] == "" {
			return nil, fmt.Errorf("go list gives no folder of %q; run: go mod download", line)
		}
		found := 0
		err := filepath.WalkDir(part[2], func(path string, d fs.DirEntry, err error) error {
			rel, _ := filepath.Rel(part[2], path)
			switch {
			case err != nil:
				return err
			case d.IsDir() && rel != "." && !legalFile.MatchString(rel):
				return fs.SkipDir
			case d.IsDir() || !legalFile.MatchString(filepath.ToSlash(rel)):
				return nil
			}
			text, err := os.ReadFile(path)
			found++
			reports.WriteLicence(&out, reports.Licence{Name: part[0], Version: part[1], File: filepath.ToSlash(rel), Text: string(text)})
			return err
		})
		if err = errors.Join(err); err != nil {
			return nil, fmt.Errorf("licences of %s: %w", part[0], err)
		}
		if found == 0 {
			return nil, fmt.Errorf("%s %s in %s has no licence file", part[0], part[1], part[2])
		}
	}
	return out.Bytes(), nil
}

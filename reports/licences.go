package reports

import (
	"fmt"
	"io"
	"regexp"
	"strings"
)

// Licence is one licence text of something that is inside the program.
type Licence struct {
	Name    string `json:"name"` // a Go module's path, "go" for Go itself, "chart runtime"
	Version string `json:"version"`
	File    string `json:"file"`
	Kind    string `json:"kind"` // see kindOf
	Text    string `json:"-"`
}

var licenceHead = regexp.MustCompile(`(?m)^=== (\S+) (\S+) (\S+) ===\n`)

// WriteLicence writes a licence in the form that Licences reads.
func WriteLicence(w io.Writer, l Licence) {
	text := strings.TrimSpace(strings.ReplaceAll(l.Text, "\r\n", "\n"))
	fmt.Fprintf(w, "=== %s %s %s ===\n%s\n\n", l.Name, l.Version, l.File, text)
}

// Licences gives the licences of everything in the program but its own: the chart runtime's, and
// those of the Go modules as `go generate` found them beside their code. The error wraps ErrRuntime
// when they were not gathered yet.
func Licences() ([]Licence, error) {
	if _, _, err := Runtime(); err != nil {
		return nil, err
	}
	charts, err := built.ReadFile("runtime/LICENCES.txt")
	if err != nil {
		return nil, fmt.Errorf("%w with its licences: %w; run again: go generate ./reports", ErrRuntime, err)
	}
	gathered, err := built.ReadFile("runtime/MODULES.txt")
	if err != nil {
		return nil, fmt.Errorf("%w with the licences of the modules: %w; run again: go generate ./reports", ErrRuntime, err)
	}
	out := []Licence{{Name: "chart runtime", Version: Stamp()[:len("sha256:")+8], File: "LICENCES.txt", Kind: kindOf(string(charts)), Text: string(charts)}}
	return append(out, readLicences(string(gathered))...), nil
}

func readLicences(text string) []Licence {
	var out []Licence
	heads := licenceHead.FindAllStringSubmatchIndex(text, -1)
	for i, at := range heads {
		end := len(text)
		if i+1 < len(heads) {
			end = heads[i+1][0]
		}
		l := Licence{Name: text[at[2]:at[3]], Version: text[at[4]:at[5]], File: text[at[6]:at[7]], Text: strings.TrimSpace(text[at[1]:end])}
		l.Kind = kindOf(l.Text)
		out = append(out, l)
	}
	return out
}

// kindOf names the licences that a text holds by sentences that are theirs alone, in the short names
// of the SPDX list; "other: read it" for a text that is none of them. It is a help for reading: the
// text alone counts.
func kindOf(text string) string {
	plain := strings.Join(strings.Fields(strings.ToLower(text)), " ")
	has := func(part string) bool { return strings.Contains(plain, part) }
	var kinds []string
	add := func(kind string, holds bool) {
		if holds {
			kinds = append(kinds, kind)
		}
	}
	bsd := has("redistribution and use in source and binary forms")
	third := has("neither the name") || has("names of its contributors may not") || has("may not be used to endorse or promote")
	add("Apache-2.0", has("apache license version 2.0") || has("apache license, version 2.0"))
	add("MIT", has("permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated"))
	add("BSD-3-Clause", bsd && third)
	add("BSD-2-Clause", bsd && !third)
	add("0BSD", has("permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted") && !has("provided that the above copyright notice"))
	add("ISC", has("for any purpose with or without fee is hereby granted, provided that the above copyright notice"))
	add("BSL-1.0", has("boost software license"))
	add("MPL-2.0", has("mozilla public license")) // which speaks of the GPL itself
	add("public domain", has("public domain"))
	add("patent grant", has("additional ip rights grant (patents)"))
	add("GPL: read it", has("general public license") && !has("mozilla public license"))
	add("agreement with conditions: read it", has("license agreement") && has("binding agreement"))
	if kinds == nil {
		return "other: read it"
	}
	return strings.Join(kinds, ", ")
}

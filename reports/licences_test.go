package reports

import (
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// gathered gives the licences in the program; a runtime of before they were gathered is a reason to
// skip except in the gate.
func gathered(t *testing.T) []Licence {
	t.Helper()
	all, err := Licences()
	if errors.Is(err, fs.ErrNotExist) && os.Getenv("CI") == "" {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// licenceKinds are the kinds of licences of what the program holds, as read in the texts themselves. A new
// library or another licence of an old one is to be looked at before it is entered here.
var licenceKinds = map[string][]string{
	"chart runtime":                       {"Apache-2.0, BSD-3-Clause, 0BSD"},
	"go":                                  {"BSD-3-Clause", "patent grant"},
	"golang.org/x/sys":                    {"BSD-3-Clause", "patent grant"},
	"golang.org/x/term":                   {"BSD-3-Clause", "patent grant"},
	"golang.org/x/text":                   {"BSD-3-Clause", "patent grant"},
	"github.com/alecthomas/kong":          {"MIT"},
	"github.com/arran4/golang-ical":       {"Apache-2.0"},
	"github.com/dustin/go-humanize":       {"MIT"},
	"github.com/go-echarts/go-echarts/v2": {"MIT"},
	"github.com/google/uuid":              {"BSD-3-Clause"},
	"github.com/mattn/go-isatty":          {"MIT"},
	"github.com/mitchellh/colorstring":    {"MIT"},
	// The second is the agreement under which the format's own definitions are published: it allows
	// use in software, forbids some uses, and is to be read by those who hand the program on.
	"github.com/muktihari/fit":          {"BSD-3-Clause", "agreement with conditions: read it"},
	"github.com/ncruces/go-strftime":    {"MIT"},
	"github.com/pelletier/go-toml/v2":   {"MIT"},
	"github.com/piglig/go-qr":           {"MIT"},
	"github.com/remyoudompheng/bigfft":  {"BSD-3-Clause"},
	"github.com/rivo/uniseg":            {"MIT"},
	"github.com/schollz/progressbar/v3": {"MIT"},
	// Texts of parts: those that are not one of the usual licences allow use and copying under their notice.
	"golang.org/x/crypto":    {"BSD-3-Clause", "patent grant"},
	"gonum.org/v1/gonum":     {"BSD-3-Clause", "BSL-1.0", "MIT", "other: read it"},
	"modernc.org/libc":       {"BSD-3-Clause", "MIT, BSD-3-Clause, public domain"},
	"modernc.org/libquickjs": {"BSD-3-Clause", "MIT"},
	"modernc.org/quickjs":    {"BSD-3-Clause", "MIT"},
	"modernc.org/mathutil":   {"BSD-3-Clause"},
	"modernc.org/memory":     {"BSD-3-Clause", "other: read it"}, // the latter of a picture
	"modernc.org/sqlite":     {"BSD-3-Clause", "public domain", "MIT", "Apache-2.0, MIT, BSD-3-Clause, MPL-2.0, public domain"},
}

func TestLicencesAreKnown(t *testing.T) {
	kinds := map[string][]string{}
	for _, l := range gathered(t) {
		if len(l.Text) < 40 {
			t.Errorf("%s %s, %s: the text is %q", l.Name, l.Version, l.File, l.Text)
		}
		if !slices.Contains(kinds[l.Name], l.Kind) {
			kinds[l.Name] = append(kinds[l.Name], l.Kind)
		}
	}
	for name, got := range kinds {
		want := slices.Clone(licenceKinds[name])
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s is under %q, known are %q: read the texts with `nextrung licences --texts`", name, got, want)
		}
	}
}

// The texts are those that lie beside the modules' code.
func TestLicencesAreTheModulesOwn(t *testing.T) {
	var ours []Licence
	list := []string{"list", "-m", "-e", "-f", "{{.Path}}@{{.Version}} {{.Dir}}"}
	for _, l := range gathered(t) {
		if strings.Contains(l.Name, ".") { // not go and the chart runtime
			ours, list = append(ours, l), append(list, l.Name+"@"+l.Version)
		}
	}
	out, err := exec.Command("go", list...).Output()
	if err != nil {
		t.Fatal(err)
	}
	dirs := map[string]string{}
	for line := range strings.Lines(string(out)) {
		module, dir, _ := strings.Cut(strings.TrimSpace(line), " ")
		dirs[module] = dir
	}
	n := 0
	for _, l := range ours {
		dir := dirs[l.Name+"@"+l.Version]
		if dir == "" {
			t.Logf("%s %s is not in the module cache", l.Name, l.Version)
			continue
		}
		text, err := os.ReadFile(filepath.Join(dir, l.File))
		if err != nil {
			t.Errorf("%s: %v", l.Name, err)
			continue
		}
		if strings.TrimSpace(strings.ReplaceAll(string(text), "\r\n", "\n")) != l.Text {
			t.Errorf("%s %s: the text of %s is not the module's", l.Name, l.Version, l.File)
		}
		n++
	}
	if n == 0 {
		t.Error("no text was compared")
	}
}

// The kinds by the sentences of the licences themselves, as the SPDX list prints them.
func TestKindOf(t *testing.T) {
	const bsd = "Redistribution and use in source and binary forms, with or without\n modification, are permitted"
	for text, want := range map[string]string{
		"Permission is hereby granted, free of charge, to any person obtaining a copy\nof this software and associated documentation files": "MIT",
		bsd: "BSD-2-Clause",
		bsd + " ... Neither the name of the copyright holder nor the names of its contributors":                                                                                    "BSD-3-Clause",
		"Apache License\n   Version 2.0, January 2004":                                                                                                                             "Apache-2.0",
		"Permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted.":                                                  "0BSD",
		"Permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted, provided that the above copyright notice appears": "ISC",
		"GNU General Public License": "GPL: read it",
		"all rights reserved":        "other: read it",
	} {
		if got := kindOf(text); got != want {
			t.Errorf("%q is %s, want %s", text, got, want)
		}
	}
}

func TestLicencesComeBack(t *testing.T) {
	var out strings.Builder
	want := []Licence{{"a.example/one", "v1.0.0", "LICENSE", "other: read it", "One.\n\n=== no head"}, {"b.example/two", "v2.0.0", "sub/COPYING", "public domain", "In the public domain."}}
	for _, l := range want {
		WriteLicence(&out, l)
	}
	if got := readLicences(out.String()); !slices.Equal(got, want) {
		t.Errorf("%q comes back as %q", want, got)
	}
}

package main

import (
	"fmt"
	"runtime/debug"
	"slices"
	"strings"
	"text/tabwriter"

	"nextrung/reports"
)

type licencesCommand struct {
	Texts bool `help:"Print the full texts as well; if you pass the program on, pass them on with it."`
	JSON  bool `name:"json" help:"One JSON object per licence on one line, without its text."`
}

func (licencesCommand) Help() string {
	return "Examples:\n  nextrung licences\n  nextrung licences --texts > LICENCES.txt\n\nThe texts are the ones that came with the code when the program was built. The kinds are worked out from the texts as a reading aid: only the text counts. No book is needed."
}

func (c *licencesCommand) Run(s *surroundings) error {
	all, err := reports.Licences()
	if err != nil {
		return err
	}
	if c.JSON {
		for _, l := range all {
			if err := s.printJSON(l); err != nil {
				return err
			}
		}
		return withoutLicence(all)
	}
	s.say("nextrung is under the MIT licence. It contains other people's work under these licences:\n")
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "NAME\tVERSION\tFILE\tKIND")
	for _, l := range all {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", l.Name, l.Version, l.File, l.Kind)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if c.Texts {
		for _, l := range all {
			s.say("\n%s\n%s %s, %s\n%s\n\n%s", strings.Repeat("=", 80), l.Name, l.Version, l.File, strings.Repeat("=", 80), l.Text)
		}
	}
	return withoutLicence(all)
}

// withoutLicence lists the modules in the program whose licences were gathered for another
// version or not at all.
func withoutLicence(all []reports.Licence) error {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return fmt.Errorf("the program does not know what it was built from; build it with modules: go build ./cmd/nextrung")
	}
	var without []string
	for _, m := range info.Deps {
		if m.Replace != nil {
			m = m.Replace
		}
		if !slices.ContainsFunc(all, func(l reports.Licence) bool { return l.Name == m.Path && l.Version == m.Version }) {
			without = append(without, m.Path+" "+m.Version)
		}
	}
	if len(without) > 0 {
		return fmt.Errorf("the licence of %s is missing; run `go generate ./reports` and build again", strings.Join(without, ", "))
	}
	return nil
}

package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"

	"nextrung/internal/coach"
	"nextrung/internal/policy"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

type policyCommands struct {
	Show  policyShow  `cmd:"" help:"Explain the rules in plain words, with the line of each in the file."`
	Check policyCheck `cmd:"" help:"Check a policy file for errors and for what is probably a mistake."`
	Diff  policyDiff  `cmd:"" help:"Show what a changed policy would say about every client; nothing is stored."`
}

// policyInUse is the book's policy file and its text; without a book or a file in it, the policy of a
// new book and "".
func (c *commands) policyInUse() (file string, text []byte, err error) {
	dir, err := c.bookFolder()
	if err != nil {
		return "", nil, err
	}
	file = filepath.Join(dir, "policy.toml")
	switch text, err = policy.Load(file); {
	case os.IsNotExist(err):
		return "", policy.DefaultText(), nil
	case err != nil:
		return "", nil, fmt.Errorf("cannot read the policy: %w", err)
	}
	return file, text, nil
}

// readPolicyFile reads and checks a policy; an error names the file, line and column.
func readPolicyFile(file string) (policy.Policy, error) {
	text, err := policy.Load(file)
	if err != nil {
		return policy.Policy{}, fmt.Errorf("cannot read %s: %w", file, errors.Unwrap(err))
	}
	p, err := policy.Parse(text)
	if err != nil {
		return p, fmt.Errorf("%s: %w", file, err)
	}
	return p, nil
}

type policyShow struct {
	Rule string `arg:"" optional:"" help:"One rule (default: all)."`
	JSON bool   `name:"json" help:"The rules as JSON."`
}

func (policyShow) Help() string {
	return "Examples:\n  nextrung policy show\n  nextrung policy show minutes"
}

func (c *policyShow) Run(cli *commands, s *surroundings) error {
	if c.Rule != "" && !slices.Contains(policy.RuleIDs(), policy.ID(c.Rule)) {
		return misuse("there is no rule %q; the rules are %s", c.Rule, policy.Listed(policy.RuleIDs()))
	}
	file, text, err := cli.policyInUse()
	if err != nil {
		return err
	}
	p, err := policy.Parse(text)
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	all := p.Explain()
	if c.Rule != "" {
		all = slices.DeleteFunc(all, func(e policy.Explanation) bool { return e.Rule != policy.ID(c.Rule) })
	}
	if c.JSON {
		return s.printJSON(struct {
			File   string               `json:"file"`
			Policy string               `json:"policy"`
			Rules  []policy.Explanation `json:"rules"`
		}{file, p.Digest(), all})
	}
	if file == "" {
		s.say("the policy of a new book, %.14s", p.Digest())
	} else {
		s.say("%s, %.14s", file, p.Digest())
	}
	changes := policy.Default().Changes(p)
	for _, e := range all {
		printRule(s, e)
		for _, ch := range changes {
			if ch.Rule == e.Rule {
				s.say("  yours     %s; a new book has %s", keyed(ch.Key, ch.Is), ch.Was)
			}
		}
	}
	return nil
}

func printRule(s *surroundings, e policy.Explanation) {
	where := fmt.Sprintf("line %d", e.Line)
	if e.Line == 0 {
		where = "not in this file, which is older than the rule"
	}
	s.say("\n%s (%s)", e.Rule, where)
	s.say("  %s", e.Sentence)
	s.say("  needed    %s", e.Asks)
	for _, n := range e.Further {
		s.say("            %s  [%s]", n.Means, n.Key)
	}
	s.say("  looks at  %s", e.LooksAt)
	s.say("  kind      %s: %s", e.Kind, e.Does)
	s.say("  stages    %s", strings.Trim(fmt.Sprint(e.Stages), "[]"))
	s.say("  source    %s", e.Source)
	if e.FromMemory != "" {
		s.say("            from memory: %s", e.FromMemory)
	}
}

// keyed writes a number or text of a rule with its key.
func keyed(key, value string) string { return key + " = " + value }

type policyCheck struct {
	File string `arg:"" optional:"" help:"Policy file (default: the book's)." type:"path"`
	JSON bool   `name:"json" help:"What was found as JSON."`
}

// checkedPolicy is what a check found, as JSON; a refused file has an error that names line and column.
type checkedPolicy struct {
	File   string         `json:"file"`
	Error  string         `json:"error"`
	Policy string         `json:"policy"`
	Rules  int            `json:"rules"`
	Doubts []policy.Doubt `json:"doubts"`
}

func (policyCheck) Help() string {
	return "Examples:\n  nextrung policy check\n  nextrung policy check my-policy.toml\n\nExit code 1: the file cannot be used; line and column show where. Numbers that are valid but make a rule meaningless or contradict another rule are listed, with exit code 0."
}

func (c *policyCheck) Run(cli *commands, s *surroundings) error {
	if c.File == "" {
		file, _, err := cli.policyInUse()
		if err != nil {
			return err
		}
		if file == "" {
			return fmt.Errorf("there is no book with a policy; name the file to check")
		}
		c.File = file
	}
	p, err := readPolicyFile(c.File)
	if c.JSON {
		found := checkedPolicy{File: c.File, Doubts: []policy.Doubt{}}
		if err != nil {
			found.Error = err.Error()
		} else {
			found.Policy, found.Rules, found.Doubts = p.Digest(), len(p.Rules), p.Doubts()
		}
		if failed := s.printJSON(found); failed != nil {
			return failed
		}
		return err
	}
	if err != nil {
		return err
	}
	doubts := p.Doubts()
	for _, d := range doubts {
		s.say("%s: %s: rule %q, %s: %s", c.File, d.Position, d.Rule, d.Key, d.Text)
	}
	if len(doubts) == 0 {
		s.say("%s can be used: %d rules, nothing looks wrong, %.14s", c.File, len(p.Rules), p.Digest())
	} else {
		s.say("%s can be used, but look at %s: %d rules, %.14s", c.File, wording.Count(len(doubts), "number"), len(p.Rules), p.Digest())
	}
	return nil
}

type policyDiff struct {
	File string `arg:"" help:"The changed policy." type:"path"`
	asOf
	JSON bool `name:"json" help:"Rules and clients as JSON."`
}

func (policyDiff) Help() string {
	return "Example: nextrung policy diff my-policy.toml --as-of 2026-10-04\n\nShows the changed rules and, for every client, today's verdict, the verdict the changed policy would give and the rules that make the difference. Nothing is stored: to use the file, copy it over policy.toml in the book's folder."
}

func (c *policyDiff) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	other, err := readPolicyFile(c.File)
	if err != nil {
		return err
	}
	changes := co.Policy.Changes(other)
	trials, err := co.TryPolicy(ctx, other, c.AsOf)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(struct {
			AsOf    workout.Date    `json:"as_of"`
			Now     string          `json:"now"`
			Would   string          `json:"would"`
			Rules   []policy.Change `json:"rules"`
			Clients []coach.Trial   `json:"clients"`
		}{c.AsOf, co.Policy.Digest(), other.Digest(), changes, trials})
	}
	printChanges(s, changes)
	return printTrials(s, c.AsOf, trials)
}

func printChanges(s *surroundings, changes []policy.Change) {
	if len(changes) == 0 {
		s.say("No rule has changed.")
		return
	}
	s.say("Changed rules")
	for _, ch := range changes {
		way := ""
		if ch.Way != "" {
			way = " (" + string(ch.Way) + ")"
		}
		s.say("  %s: %s instead of %s%s", ch.Rule, keyed(ch.Key, ch.Is), ch.Was, way)
	}
}

func printTrials(s *surroundings, on workout.Date, trials []coach.Trial) error {
	changed := len(record.Keep(trials, func(t coach.Trial) bool { return t.Changed }))
	s.say("\nThe verdict would change for %d of %s as of %s; nothing is stored", changed, wording.Count(len(trials), "client"), on.Long())
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "\nCLIENT\tSTAGE\tNOW\tWOULD BE\tRULES THAT DIFFER")
	for _, x := range trials {
		would := "the same"
		if x.Changed {
			would = strings.ToUpper(outcomeWord(x.Would))
		}
		fmt.Fprintf(t, "%s\t%d\t%s\t%s\t%s\n", x.Client, x.Stage, outcomeWord(x.Now), would, differing(x.By))
	}
	if err := t.Flush(); err != nil || changed == 0 {
		return err
	}
	s.say("\nWhat the changed policy would say")
	for _, x := range trials {
		for _, b := range x.By {
			if x.Changed {
				s.say("  %s, %s: %s", x.Client, b.Rule, b.Text)
			}
		}
	}
	return nil
}

func outcomeWord(o coach.Outcome) string {
	if o.Verdict == nil {
		return "none"
	}
	return standingWord(record.Assessment{Verdict: o.Verdict, Plan: o.Plan, To: o.To})
}

// differing writes rules with their results now and under the other policy: "minutes: met -> not met".
func differing(by []coach.Told) string {
	var out []string
	for _, b := range by {
		out = append(out, fmt.Sprintf("%s: %s -> %s", b.Rule, reasons.Result(b.Now), reasons.Result(b.Would)))
	}
	if len(out) == 0 {
		return "-"
	}
	return strings.Join(out, ", ")
}

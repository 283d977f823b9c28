package progression_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// action is what a template does between its braces, argument an argument that it names.
var (
	action   = regexp.MustCompile(`\{\{.*?\}\}`)
	argument = regexp.MustCompile(`\.(?: ")?([a-z_]+)`)
)

// named lists the arguments that a sentence names.
func named(t *testing.T, code record.Code) []string {
	t.Helper()
	text, ok := reasons.Sentence(code)
	if !ok {
		t.Errorf("code %s has no sentence", code)
	}
	found := map[string]bool{}
	for _, a := range action.FindAllString(text, -1) {
		for _, m := range argument.FindAllStringSubmatch(a, -1) {
			found[m[1]] = true
		}
	}
	return slices.Sorted(maps.Keys(found))
}

// codes reads the codes from the source, so that none is forgotten here.
func codes(t *testing.T) map[record.Code]string {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), "codes.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	out := map[record.Code]string{}
	ast.Inspect(f, func(n ast.Node) bool {
		if v, ok := n.(*ast.ValueSpec); ok {
			text, _ := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
			if was, twice := out[record.Code(text)]; twice {
				t.Errorf("%s and %s are both %q", was, v.Names[0].Name, text)
			}
			out[record.Code(text)] = v.Names[0].Name
		}
		return true
	})
	return out
}

// facts lists everything that an assessment says, the facts inside facts too.
func facts(a record.Assessment) record.Facts {
	all := slices.Concat(a.Summary, a.Cautions)
	for _, r := range a.Reasons {
		all = append(all, r.Says)
	}
	for _, l := range slices.Concat(a.Lacking, a.Against) {
		all = append(all, l.Says)
		if l.Needed.Code != "" {
			all = append(all, l.Needed)
		}
	}
	for _, q := range a.Unanswered {
		if q.Clash.Code != "" {
			all = append(all, q.Clash)
		}
	}
	if a.Robustness != nil {
		all = append(all, record.Fact{Code: a.Robustness.DependsOn})
	}
	for i := 0; i < len(all); i++ {
		for _, v := range all[i].Args {
			if inner, ok := v.(record.Facts); ok {
				all = append(all, inner...)
			}
		}
	}
	return all
}

func sport(x workout.Sport) func(int, *story.Done) { return func(_ int, d *story.Done) { d.Sport = x } }

// oddCases are stories that say what no case of a rule says.
func oddCases() map[string]*story.Story {
	paused := func(r *record.Record) { r.Client.State = record.PausedState }
	condition := func(c ...record.Condition) func(*record.Client) {
		return func(client *record.Client) { client.Conditions = c }
	}
	return map[string]*story.Story{
		"paused":                 story.Ferry(4).Then(paused),
		"finished":               story.Ferry(4).Who(func(c *record.Client) { c.State = record.Finished }),
		"by choice":              story.Ferry(4).Who(func(c *record.Client) { c.State = record.Maintaining }),
		"recovery phase":         story.Ferry(4).Who(func(c *record.Client) { c.State = record.RecoveryOf }),
		"pregnant in stage 2":    story.Ferry(4).Who(func(c *record.Client) { c.Stage, c.Conditions = 2, []record.Condition{record.Pregnant} }),
		"pregnant in stage 3":    story.Ferry(4).Who(func(c *record.Client) { c.Stage, c.Conditions = 3, []record.Condition{record.Pregnant} }),
		"no room in stage 2":     story.Ferry(4).Who(func(c *record.Client) { c.Stage, c.Zones[0].Limit, c.Clearance = 2, 120, story.Began }),
		"under a limit":          story.Ferry(4).Who(func(c *record.Client) { c.Zones[0].Limit, c.Clearance = 120, story.Began }),
		"swims":                  story.Ferry(4).Each(sport(workout.Swimming)).Each(func(_ int, d *story.Done) { d.NoHeart = true }),
		"no stage":               story.Ferry(4).Who(func(c *record.Client) { c.Stage = 0 }),
		"stage 3":                story.Intervals(4).Who(func(c *record.Client) { c.Stage = 3 }),
		"begins later":           story.Ferry(4).Who(func(c *record.Client) { c.Since = story.Day(40) }),
		"by effort":              story.Ferry(4).Who(story.Slowed(story.Day(10))).Then(story.Note(25, signs.PoorSleep)),
		"a medicine":             story.Ferry(4).Who(func(c *record.Client) { c.Medicine, c.DoseChange = record.Raises, story.Day(20) }),
		"conditions":             story.Ferry(4).Who(condition(record.Pregnant, record.Pacemaker, record.Irregular, record.Insulin, record.Asthma)),
		"a doubt":                story.Ferry(4).Then(wrote(24, "2026-10-01: tight across the chest on the last hill, \"odd\" {{.x}} %!d")),
		"a medicine asked about": story.Ferry(4).Then(wrote(24, "doc put me on beta blockers")),
		"a sign while paused":    story.Ferry(4).Then(paused).Then(story.Note(24, signs.Chest)),
		"a doctor's sign":        story.Ferry(4).Then(story.Note(24, signs.SwollenLeg)),
		"walks":                  story.Ferry(4).Who(story.Modes()).Each(sport(workout.Walking)),
		"a strap":                story.Intervals(4).Each(func(i int, d *story.Done) { d.Sensor = workout.Wrist }),
		"no zones":               story.Ferry(4).Who(func(c *record.Client) { c.Born, c.Zones = 0, nil }),
		"hard in zone 1":         story.Ferry(6).Each(story.Feeling(story.RPE20(17), "")),
		"hard to talk":           story.Ferry(6).Each(story.Feeling(nil, record.TalkHard)),
		"talk alone":             story.Ferry(6).Each(story.Feeling(nil, record.TalkComfortable)),
		"another word":           story.Ferry(4).Then(story.Note(24, "homesick")),
		"seven times 12":         story.Ferry(4).Each(story.Feeling(story.RPE10(3), "")),
		"12 min at a time":       story.Ferry(4).Who(func(c *record.Client) { c.Days, c.Minutes = 5, 12 }).Each(func(_ int, d *story.Done) { d.Minutes = 12 }),
		"runs":                   story.Ferry(4).Each(sport(workout.Running)),
		"two answers": story.Ferry(3).Then(func(r *record.Record) {
			r.Notes = append(r.Notes, record.Note{Date: story.Day(18), Entered: story.Day(20), RPE: story.RPE20(18)})
		}),
		"a stray answer": story.Ferry(3).Then(func(r *record.Record) {
			r.Notes = append(r.Notes, record.Note{Date: story.Day(19), Entered: story.Day(20), RPE: story.RPE20(18)})
		}),
		"nothing against":       story.Ferry(5),
		"away for a week":       story.Away(story.Ferry(3), 4, 14),
		"files to come":         story.Ferry(5).Then(noFilesFrom(7)),
		"bouts to come":         story.Intervals(5).Then(noFilesFrom(0)),
		"15 min at a time":      story.Intervals(3).Who(func(c *record.Client) { c.Minutes = 15 }),
		"stepped back":          story.Intervals(9).Who(story.Inactive).Then(story.Decided(record.DoStepBack, 56, 1)),
		"begins unasked":        story.Ferry(4).Who(func(c *record.Client) { c.Screening = record.Screening{} }).Who(func(c *record.Client) { c.Since = story.Day(40) }),
		"a doubtful sensor":     twoRules(0, 0).Then(doubting(false, 0, 0, 1, 2, 3)),
		"staying high":          story.Intervals(4).Each(staying(12)),
		"bouts in zone 1":       easyBouts(7),
		"creep in one":          story.Intervals(4).Each(func(i int, d *story.Done) { d.Skip = i > 1 }),
		"easy above zone 1":     easyAbove(6),
		"easy above it in half": story.Ferry(4).Each(func(i int, d *story.Done) { d.Below = 95 * (i % 2) }),
		"higher":                story.Ferry(4).Each(beating(130, 150)),
		"a worn pattern":        story.Ferry(4).Each(func(_ int, d *story.Done) { d.Fall, d.Effort = nil, nil }).Then(story.Rested(60, 66)).Then(story.Note(16, signs.PoorSleep)),
	}
}

// TestEverythingSaidHasItsSentence runs all cases of all rules and some odd ones: every code has a
// sentence and is said by some case, every sentence gets exactly the arguments that it names, and it
// reads the same from arguments that have been through JSON.
func TestEverythingSaidHasItsSentence(t *testing.T) {
	all := codes(t)
	seen := map[record.Code]bool{}
	check := func(name string, a record.Assessment) {
		for _, f := range facts(a) {
			seen[f.Code] = true
			if got, want := slices.Sorted(maps.Keys(f.Args)), named(t, f.Code); !slices.Equal(got, want) {
				t.Errorf("%s: %s has the arguments %v, its sentence names %v", name, f.Code, got, want)
			}
			said := reasons.Text(f)
			if strings.Contains(said, "no value") || strings.Contains(said, "%!") && f.Code != progression.SignDoubt || said == string(f.Code) || strings.Contains(said, "  ") {
				t.Errorf("%s: %s says %q", name, f.Code, said)
			}
			var back record.Fact
			text, err := json.Marshal(f)
			if err == nil {
				err = json.Unmarshal(text, &back)
			}
			if again := reasons.Text(back); err != nil || again != said {
				t.Errorf("%s: %s says %q, and %q after JSON (%v)", name, f.Code, said, again, err)
			}
		}
		for _, r := range a.Reasons {
			if said := reasons.Text(r.Says); !strings.HasSuffix(said, ".") || said[0] >= 'a' && said[0] <= 'z' {
				t.Errorf("%s: %q is no sentence", name, said)
			}
		}
	}
	for _, c := range ruleCases() {
		check(string(c.rule)+", "+c.name, c.assess())
	}
	for name, s := range oddCases() {
		check(name, assess(s))
		check(name+", often", progression.AssessOften(defaults, s.Last(), s.Record()))
		check(name+", half way", progression.Assess(defaults, s.Last()-9, s.Record()))
	}
	for _, x := range clashes() {
		check(x.name, assess(story.Ferry(8).Then(x.made)))
	}
	for name, c := range robustCases() {
		check(name, progression.AssessOften(defaults, c.story.Last(), c.story.Record()))
	}
	// That inputs change a verdict only together is too rare for a story that stays so.
	seen[progression.OnSeveral] = named(t, progression.OnSeveral) == nil
	for code, name := range all {
		if !seen[code] {
			t.Errorf("no case says %s", name)
		}
	}
}

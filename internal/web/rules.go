package web

import (
	"crypto/rand"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"sync"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/policy"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/reports"
)

const policyFile = "policy.html"

// rules adds the routes of the policy.
func (d *Desk) rules(mux *http.ServeMux) {
	mux.Handle("GET /"+policyFile, d.page(d.policyPage))
	mux.Handle("POST /try-policy", limited(maxForm, http.HandlerFunc(d.tryPolicy)))
	mux.Handle("POST /use-policy", limited(maxForm, http.HandlerFunc(d.usePolicy)))
}

// trial is a policy that was tried, with what it would have said; only one that was tried can be put into use. One whose
// numbers were refused holds only what was typed.
type trial struct {
	id      string
	base    string // the digest of the policy that it was tried against
	policy  policy.Policy
	typed   map[string]string // by "rule.key"
	wrong   []string
	at      string // "rule.key" at fault
	changes []policy.Change
	now     []coach.Trial
	past    []coach.PastTrial
	because string // typed when it was to be put in use
}

// trials keeps the last few.
type trials struct {
	mutex sync.Mutex
	last  []*trial
}

// keepTrials is how many are kept: enough for a few open tabs.
const keepTrials = 8

func (t *trials) keep(x *trial) string {
	t.mutex.Lock()
	defer t.mutex.Unlock()
	x.id = rand.Text()
	t.last = append(t.last, x)
	t.last = t.last[max(0, len(t.last)-keepTrials):]
	return x.id
}

func (t *trials) of(id string) *trial {
	t.mutex.Lock()
	defer t.mutex.Unlock()
	if i := slices.IndexFunc(t.last, func(x *trial) bool { return x.id == id }); i >= 0 {
		return t.last[i]
	}
	return nil
}

// tryPolicy tries the numbers that were typed, or the policy of a new book, and leads to what they would have said.
func (d *Desk) tryPolicy(w http.ResponseWriter, r *http.Request) {
	var x *trial
	err := d.alone(r, func() (err error) {
		x, err = d.try(r)
		return err
	})
	if err != nil {
		d.fail(w, r, err)
		return
	}
	http.Redirect(w, r, policyFile+"?tried="+d.tried.keep(x)+"#tried", http.StatusSeeOther)
}

func (d *Desk) try(r *http.Request) (*trial, error) {
	x := &trial{base: d.coach.Policy.Digest(), typed: map[string]string{}}
	other := policy.Default()
	if r.PostFormValue("step") != "default" {
		var ok bool
		if other, ok = d.typedPolicy(r, x); !ok {
			return x, nil
		}
	}
	x.policy, x.changes = other, d.coach.Policy.Changes(other)
	if len(x.changes) == 0 {
		x.wrong = []string{"No number was changed."}
		return x, nil
	}
	var err error
	if x.now, err = d.coach.TryPolicy(r.Context(), other, d.on()); err == nil {
		x.past, err = d.coach.TryPolicyOnPast(r.Context(), other, d.on())
	}
	return x, err
}

// typedPolicy is the policy with the numbers that were typed. Where it cannot be, the trial says why.
func (d *Desk) typedPolicy(r *http.Request, x *trial) (policy.Policy, bool) {
	numbers := map[policy.ID]map[string]float64{}
	for _, id := range policy.RuleIDs() {
		for _, s := range d.coach.Policy.Settable(id) {
			name := string(id) + "." + s.Key
			typed := strings.TrimSpace(r.PostFormValue(name))
			if typed == "" {
				typed = wording.Number(s.Value)
			}
			x.typed[name] = typed
			v, err := strconv.ParseFloat(typed, 64)
			if err != nil {
				x.wrong, x.at = append(x.wrong, fmt.Sprintf("%s: %q is not a number. Write it with a point.", ruleName(id), typed)), name
				continue
			}
			if v != s.Value {
				if numbers[id] == nil {
					numbers[id] = map[string]float64{}
				}
				numbers[id][s.Key] = v
			}
		}
	}
	if len(x.wrong) > 0 {
		return policy.Policy{}, false
	}
	other, err := d.coach.Policy.With(numbers)
	var impossible *policy.Impossible
	switch {
	case errors.As(err, &impossible):
		x.wrong, x.at = []string{ruleName(impossible.Rule) + ": " + impossible.Why + "."}, string(impossible.Rule)+"."+impossible.Key
	case err != nil:
		x.wrong = []string{wording.Sentence(wording.Capital(err.Error()))}
	}
	return other, err == nil
}

func ruleName(id policy.ID) string { return wording.Capital(reasons.Rule(id)) }

// usePolicy puts a policy that was tried into use. If it is refused, what was tried and typed stays on the page.
func (d *Desk) usePolicy(w http.ResponseWriter, r *http.Request) {
	var did result
	var x *trial
	err := d.alone(r, func() error {
		x = d.tried.of(r.PostFormValue("tried"))
		by := r.PostFormValue("by")
		switch {
		case x == nil || len(x.changes) == 0:
			x = nil
			return fault.New(fault.Needs, "look at what the changed rules would have recommended before you put them into use")
		case x.base != d.coach.Policy.Digest():
			return fault.New(fault.Conflict, "the policy has changed since this was tried: try it again")
		}
		x.because = r.PostFormValue("because")
		if err := d.coach.UsePolicy(r.Context(), x.policy, by, x.because, d.on()); err != nil {
			return err
		}
		return d.remember(r, by)
	})
	switch {
	case err == nil:
		did.Done = []string{"The changed rules are in use. Pages and plans follow them from now on; earlier decisions stay as they were made."}
	case x != nil && len(fault.All(err)) > 0:
		x.wrong = sentence(err)
		http.Redirect(w, r, policyFile+"?tried="+x.id+"#tried", http.StatusSeeOther)
		return
	default:
		d.fail(w, r, err)
		return
	}
	http.Redirect(w, r, policyFile+"?done="+d.done.keep(did)+"#done", http.StatusSeeOther)
}

// policyForm is the room of the policy.
type policyForm struct {
	result
	Tried     *triedForm
	Kinds     []kindForm
	History   []usedForm
	By        string
	IsDefault bool
}

type kindForm struct {
	Kind  policy.Kind
	Name  string
	Rules []ruleForm
}

type ruleForm struct {
	ID, Name, Needed, LooksAt, Does, Stages, Sentence, Source, FromMemory string
	Open                                                                  bool
	Yours                                                                 []string // what differs from a new book
	Numbers                                                               []numberForm
}

type numberForm struct {
	Name, Means, Typed, Range string
	Wrong                     bool
}

// triedForm is what a tried policy would have said.
type triedForm struct {
	ID      string
	Because string
	Wrong   []string
	Changes []string
	Doubts  []string
	Now     []trialRow
	Same    int // clients for whom the verdict stays
	Past    []trialRow
	Kept    int // earlier decisions for which it stays
}

type trialRow struct{ Client, File, Day, Decided, Now, Would, Because string }

type usedForm struct {
	Day, By, Because string
	Changes          []string
}

func (d *Desk) policyPage(r *http.Request) (content, error) {
	p := d.coach.Policy
	form := policyForm{result: d.done.of(r.FormValue("done")), IsDefault: len(policy.Default().Changes(p)) == 0}
	var err error
	if form.By, err = d.by(r); err != nil {
		return content{}, err
	}
	x := d.tried.of(r.FormValue("tried"))
	if x != nil {
		form.Tried = x.form()
	}
	form.Kinds = kinds(p, x)
	used, err := d.coach.Policies(r.Context())
	if err != nil {
		return content{}, err
	}
	for _, u := range used {
		form.History = append(form.History, usedForm{u.Entered.Long(), u.By, u.Because, changeLines(u.Changes)})
	}
	return room("Policy", "These rules decide what is recommended. Change a number and see what the rules would then recommend before it counts.", policyFile, "policy", form)
}

// kinds are the rules in plain words, by the part that they play.
func kinds(p policy.Policy, x *trial) []kindForm {
	yours := map[policy.ID][]string{}
	for _, c := range policy.Default().Changes(p) {
		if c.Key != "sentence" && c.Key != "source" && c.Key != "from_memory" {
			yours[c.Rule] = append(yours[c.Rule], wording.Capital(keyWords(c.Key))+": a new book starts with "+c.Was+", not "+c.Is+".")
		}
	}
	var out []kindForm
	for _, e := range p.Explain() {
		if n := len(out); n == 0 || out[n-1].Kind != e.Kind {
			out = append(out, kindForm{Kind: e.Kind, Name: reasons.Kind(e.Kind)})
		}
		f := ruleForm{
			ID: string(e.Rule), Name: ruleName(e.Rule), Needed: e.Asks, LooksAt: e.LooksAt, Does: e.Does, Sentence: e.Sentence, Source: e.Source, FromMemory: e.FromMemory,
			Stages: wording.Verb(len(e.Stages), "Stage ", "Stages ") + wording.List(record.Map(e.Stages, strconv.Itoa)), Yours: yours[e.Rule],
		}
		for _, s := range p.Settable(e.Rule) {
			n := numberForm{
				Name: string(e.Rule) + "." + s.Key, Means: wording.Capital(s.Means), Typed: wording.Number(s.Value),
				Range: wording.Number(s.Low) + " to " + wording.Number(s.High),
			}
			if x != nil && x.typed[n.Name] != "" {
				f.Open = f.Open || x.typed[n.Name] != n.Typed
				n.Typed, n.Wrong = x.typed[n.Name], x.at == n.Name
			}
			f.Numbers = append(f.Numbers, n)
		}
		k := &out[len(out)-1]
		k.Rules = append(k.Rules, f)
	}
	return out
}

func (x *trial) form() *triedForm {
	f := &triedForm{ID: x.id, Because: x.because, Wrong: x.wrong, Changes: changeLines(x.changes)}
	if len(x.changes) == 0 {
		return f
	}
	for _, doubt := range x.policy.Doubts() {
		f.Doubts = append(f.Doubts, ruleName(doubt.Rule)+": "+doubt.Text+".")
	}
	for _, t := range x.now {
		if !t.Changed {
			f.Same++
			continue
		}
		f.Now = append(f.Now, rowOf(t))
	}
	for _, t := range x.past {
		if !t.Changed {
			f.Kept++
			continue
		}
		row := rowOf(t.Trial)
		row.Day, row.Decided = t.Decision.Entered.Long(), reasons.Act(t.Decision.Act)
		f.Past = append(f.Past, row)
	}
	return f
}

func rowOf(t coach.Trial) trialRow {
	var by []string
	for _, b := range t.By {
		by = append(by, b.Text)
	}
	return trialRow{
		Client: t.Client, File: reports.FileName("decision", t.Client), Now: outcomeWord(t.Now), Would: outcomeWord(t.Would), Because: strings.Join(by, " "),
	}
}

func outcomeWord(o coach.Outcome) string {
	if o.Verdict == nil {
		return "none"
	}
	word := reasons.Standing(record.Assessment{Verdict: o.Verdict, Plan: o.Plan, To: o.To})
	if o.To != nil {
		word += fmt.Sprintf(" to stage %d", *o.To)
	}
	return word
}

// changeLines writes changed numbers: "Minutes: threshold 90 instead of 75 (stricter)".
func changeLines(all []policy.Change) []string {
	var out []string
	for _, c := range all {
		line := fmt.Sprintf("%s: %s %s instead of %s", ruleName(c.Rule), keyWords(c.Key), c.Is, c.Was)
		if c.Way != "" {
			line += " (" + string(c.Way) + ")"
		}
		out = append(out, line)
	}
	return out
}

// keyWords is a key of the policy's file as people read it.
func keyWords(key string) string {
	if short, ten := strings.CutSuffix(key, "_10"); ten {
		return keyWords(short) + " on the 0-10 scale"
	}
	if key == "window_days" {
		return "days looked at"
	}
	return strings.ReplaceAll(strings.TrimPrefix(key, "more."), "_", " ")
}

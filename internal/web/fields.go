package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// kind is how a field is filled in.
type kind string

// The kinds. Some of a list are several values; parts are several inputs that make one value; questions are the
// screening, one after the other.
const (
	aDay      kind = "day"
	aNumber   kind = "number"
	aText     kind = "text"
	longText  kind = "long"
	oneOf     kind = "one"
	someOf    kind = "some"
	inParts   kind = "parts"
	questions kind = "questions"
	aFile     kind = "file"
)

// option is one value that can be chosen: what it is called, and what it changes.
type option struct {
	Value, Label, Means string
	Grave               bool // Means says what to do at once
	Plain               bool // the help of the field says what Means does, which is shown once it is chosen
	Chosen              bool
}

// part is one input of a field in parts, or one question with its answers.
type part struct {
	Name, Label, Value string
	Choices            []option
}

// field is one input of a form: a fact, or what is typed of a note, a session or a test.
type field struct {
	Name       fault.Field
	Label      string
	Help, Unit string
	Kind       kind
	Choices    []option
	Parts      []part
	byMode     string // between the parts that are written mode=value; "" for parts between commas
	Required   bool
	Latest     workout.Date // of a day; 0 for none
	Value      string       // as coach reads it
	Was        string       // what stood in the book when the page was made
	Form       string       // tells the fields of several forms on a page apart
	Wrong      []string
	Before     []string // what was entered earlier
}

// Decimal says that the parts are numbers.
func (f field) Decimal() bool { return f.byMode != " " }

// input is the name of the input of a part.
func (f field) input(part string) string { return string(f.Name) + "-" + part }

// others are the signs beyond the questions of screening.
const others = "others"

// noSign is the answer "no" to a screening question.
const noSign = "none"

// gathered is what the inputs of a form say, as coach reads it; complete is false while some questions have an
// answer and others have none.
func (f field) gathered(form url.Values) (value string, complete bool) {
	switch f.Kind {
	case someOf:
		return strings.Join(form[string(f.Name)], ","), true
	case questions:
		return f.answers(form)
	case inParts:
		var all []string
		empty := true
		for _, p := range f.Parts {
			v := strings.Join(strings.Fields(form.Get(f.input(p.Name))), "")
			empty = empty && v == ""
			switch {
			case f.byMode == "":
				all = append(all, v)
			case v != "":
				all = append(all, p.Name+"="+v)
			}
		}
		if empty {
			return "", true
		}
		if f.byMode == "" {
			for i, v := range all {
				if v == "" {
					all[i] = "0" // the other threshold may be all that is known
				}
			}
			return strings.Join(all, ","), true
		}
		return strings.Join(all, f.byMode), true
	}
	return strings.TrimSpace(form.Get(string(f.Name))), true
}

// answers gathers the signs that the questions of screening found.
func (f field) answers(form url.Values) (value string, complete bool) {
	answered := 0
	var found []string
	for _, p := range f.Parts {
		v := form.Get(f.input(p.Name))
		if v != "" {
			answered++
		}
		if v != "" && v != noSign {
			found = append(found, v)
		}
	}
	found = append(found, form[f.input(others)]...)
	switch {
	case answered == 0 && len(found) == 0:
		return "", true
	case len(found) == 0:
		return noSign, answered == len(f.Parts)
	}
	return strings.Join(found, ","), answered == len(f.Parts)
}

// holding is the field with a value from coach.
func (f field) holding(value string) field {
	form := url.Values{}
	list := strings.Split(value, ",")
	switch {
	case value == "":
	case f.Kind == someOf:
		form[string(f.Name)] = list
	case f.Kind == questions:
		for _, p := range f.Parts {
			form.Set(f.input(p.Name), noSign)
			for _, c := range p.Choices {
				if slices.Contains(list, c.Value) {
					form.Set(f.input(p.Name), c.Value)
				}
			}
		}
		form[f.input(others)] = list
	case f.Kind == inParts && f.byMode == "":
		for i, p := range f.Parts {
			if i < len(list) && list[i] != "0" {
				form.Set(f.input(p.Name), list[i])
			}
		}
	case f.Kind == inParts:
		for pair := range strings.SplitSeq(value, f.byMode) {
			name, v, _ := strings.Cut(pair, "=")
			form.Set(f.input(name), v)
		}
	default:
		form.Set(string(f.Name), value)
	}
	f = f.filled(form)
	f.Value, f.Was = value, value
	return f
}

// filled is the field with what a form holds.
func (f field) filled(form url.Values) field {
	f.Value = form.Get(string(f.Name))
	f.Choices = chosenOf(f.Choices, form[string(f.Name)])
	if f.Kind == questions {
		f.Choices = chosenOf(f.Choices, form[f.input(others)])
	}
	f.Parts = slices.Clone(f.Parts)
	for i, p := range f.Parts {
		f.Parts[i].Value = form.Get(f.input(p.Name))
		f.Parts[i].Choices = chosenOf(p.Choices, form[f.input(p.Name)])
	}
	return f
}

func chosenOf(all []option, values []string) []option {
	all = slices.Clone(all)
	for i := range all {
		all[i].Chosen = slices.Contains(values, all[i].Value)
	}
	return all
}

// labelled is what a value that can be chosen is called; one that cannot is shown as it stands.
func (f field) labelled(value string) string {
	choices := slices.Clone(f.Choices)
	for _, p := range f.Parts {
		choices = append(choices, p.Choices...)
	}
	if i := slices.IndexFunc(choices, func(c option) bool { return c.Value == value }); i >= 0 {
		return choices[i].Label
	}
	return value
}

// shown is a value as people read it.
func (f field) shown(value string) string {
	text := value
	switch {
	case value == "":
		return "not known"
	case f.Kind == aDay:
		if d, err := workout.ParseDate(value); err == nil {
			return d.Long()
		}
	case f.Kind == questions && value == noSign:
		return "none found"
	case f.Kind == questions, f.Kind == oneOf, f.Kind == someOf:
		return strings.Join(record.Map(strings.Split(value, ","), f.labelled), ", ")
	case f.Kind == inParts && f.byMode == "":
		var all []string
		for i, v := range strings.Split(value, ",") {
			if v != "0" && i < len(f.Parts) {
				all = append(all, f.Parts[i].Label+" "+v)
			}
		}
		text = strings.Join(all, ", ")
	case f.Kind == inParts:
		text = strings.ReplaceAll(strings.ReplaceAll(strings.ReplaceAll(value, f.byMode, "; "), "=", " "), ",", ", ")
	}
	if f.Unit != "" {
		text += " " + f.Unit
	}
	return text
}

// refused is a form that was sent and not entered: what was typed, and what was wrong with it.
type refused struct {
	form   string
	typed  url.Values
	faults []*fault.Error
}

// of is what was refused of one of the forms of a page.
func (x refused) of(form string) refused {
	if x.form == form {
		return x
	}
	return refused{}
}

// apply puts into the fields what was typed before it was refused, and why beside each.
func (x refused) apply(fields []field) []field {
	if x.form == "" {
		return fields
	}
	fields = slices.Clone(fields)
	for i, f := range fields {
		fields[i] = f.filled(x.typed)
		for _, e := range x.faults {
			if e.Field == f.Name {
				fields[i].Wrong = append(fields[i].Wrong, wording.Sentence(e.Say(f.Label)))
			}
		}
	}
	return fields
}

// beside lists the faults that belong to no field of a form; they are shown above it.
func beside(faults []*fault.Error, fields []field) (out []string) {
	for _, e := range faults {
		if !slices.ContainsFunc(fields, func(f field) bool { return f.Name == e.Field }) {
			out = append(out, wording.Sentence(wording.Capital(e.Say("the "+strings.ReplaceAll(string(e.Field), "_", " ")))))
		}
	}
	return out
}

// entry does what a form asks and leads to the page that shows the result. What was refused is shown there again as it was
// typed.
func (d *Desk) entry(form string, fields func() []field, f doing) http.Handler {
	return d.told(func(r *http.Request) (to string, did result, err error) {
		if err := r.ParseMultipartForm(maxForm); err != nil && err != http.ErrNotMultipart {
			return "", did, fmt.Errorf("read the form: %w", err)
		}
		err = d.alone(r, func() (err error) { to, did, err = f(r); return err })
		all := fault.All(err)
		if to == "" || len(all) == 0 {
			return to, did, err
		}
		did.refused = refused{form, r.PostForm, all}
		did.Wrong = append(did.Wrong, beside(all, fields())...)
		if n := len(all) - len(beside(all, fields())); n > 0 {
			did.Wrong = append(did.Wrong, "Nothing was entered. Look at "+wording.Verb(n, "the answer that is", "the answers that are")+" marked below.")
		}
		return to, did, nil
	})
}

// typed gathers what a form says about fields, as coach reads it. Of the facts that the page showed, only changed
// ones are included; what was emptied is none.
func typed(r *http.Request, fields []field, now coach.Facts) (coach.Facts, error) {
	out, wrong := coach.Facts{}, error(nil)
	for _, f := range fields {
		value, complete := f.gathered(r.PostForm)
		if !complete {
			wrong = errors.Join(wrong, fault.In(f.Name, "", "need an answer to every question"))
			continue
		}
		was := r.PostFormValue("was-" + string(f.Name))
		switch {
		case f.same(value, was):
			continue
		case now != nil && now[f.Name] != was:
			wrong = errors.Join(wrong, fault.In(f.Name, "", "was changed to %q in the meantime: look again", f.shown(now[f.Name])).Of(fault.Conflict))
			continue
		case value == "":
			value = coach.None
		}
		if f.byMode != "" {
			value = f.withoutGone(value, was)
		}
		out[f.Name] = value
	}
	return out, wrong
}

// same says whether two values mean the same: the order of a list makes no difference.
func (f field) same(a, b string) bool {
	if f.Kind != someOf && f.Kind != questions {
		return a == b
	}
	x, y := strings.Split(a, ","), strings.Split(b, ",")
	slices.Sort(x)
	slices.Sort(y)
	return slices.Equal(x, y)
}

// withoutGone adds the modes whose value was emptied.
func (f field) withoutGone(value, was string) string {
	var all []string
	if value != coach.None {
		all = append(all, value)
	}
	for pair := range strings.SplitSeq(was, f.byMode) {
		mode, _, _ := strings.Cut(pair, "=")
		if mode != "" && !strings.Contains(f.byMode+value, f.byMode+mode+"=") {
			all = append(all, mode+"="+coach.None)
		}
	}
	return strings.Join(all, f.byMode)
}

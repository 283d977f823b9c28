package workout

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// Code names what a fact says. The package that finds the fact has the list of its codes, and package
// reasons the sentence of each in the trainer's English.
type Code string

// Written is the code of a sentence that was kept before facts travelled as codes, with the argument
// "text". Nothing makes it any more.
const Written Code = "written"

// Fact is something to be said, without the words for it: a remark on a recording, what a measurement
// lacks, a reason of an assessment.
type Fact struct {
	Code Code `json:"code"`
	Args Args `json:"args,omitempty"`
	// Text is the sentence: it is filled in where a fact is shown as JSON, and stands instead of the
	// arguments in books of an earlier version.
	Text string `json:"text,omitempty"`
}

// Say makes a fact.
func Say(code Code, args Args) Fact { return Fact{Code: code, Args: args} }

// Facts are said one after the other.
type Facts []Fact

// Args are what the sentence of a code names: numbers (int or float64), days (Date), names
// (string and its like), several of these, and facts. A sentence reads the same from an argument that
// has been through JSON, where every number is a float64 and every name a string.
type Args map[string]any

// Equal says that two facts say the same, whether or not one of them has been through JSON.
func (f Fact) Equal(other Fact) bool {
	a, errA := json.Marshal(f)
	b, errB := json.Marshal(other)
	return errA == nil && errB == nil && bytes.Equal(a, b)
}

// Facts gives the facts among the arguments, nil for none.
func (f Fact) Facts(name string) Facts {
	all, _ := f.Args[name].(Facts)
	return all
}

// UnmarshalJSON reads a fact, or a sentence as older books hold it.
func (f *Fact) UnmarshalJSON(b []byte) error {
	var text string
	if json.Unmarshal(b, &text) == nil {
		*f = Fact{}
		if text != "" {
			*f = Fact{Code: Written, Args: Args{"text": text}}
		}
		return nil
	}
	type plain Fact
	return json.Unmarshal(b, (*plain)(f))
}

// UnmarshalJSON reads several facts, or one text as older books hold it.
func (all *Facts) UnmarshalJSON(b []byte) error {
	if bytes.HasPrefix(bytes.TrimSpace(b), []byte(`"`)) {
		var f Fact
		if err := json.Unmarshal(b, &f); err != nil {
			return err
		}
		*all = Facts{f}
		return nil
	}
	return json.Unmarshal(b, (*[]Fact)(all))
}

// UnmarshalJSON gives every argument back in the type that its JSON stands for. A text of the shape of
// a day becomes a day: it is written the same where it is a name.
func (a *Args) UnmarshalJSON(b []byte) error {
	var raw map[string]json.RawMessage
	if err := json.Unmarshal(b, &raw); err != nil {
		return err
	}
	*a = Args{}
	for name, value := range raw {
		v, err := argument(value)
		if err != nil {
			return fmt.Errorf("argument %s: %w", name, err)
		}
		(*a)[name] = v
	}
	return nil
}

func argument(b json.RawMessage) (any, error) {
	var (
		number  float64
		day     Date
		name    string
		numbers []float64
		names   []string
		facts   Facts
	)
	switch {
	case string(b) == "null" || string(b) == "[]":
		return facts, nil
	case json.Unmarshal(b, &number) == nil:
		return number, nil
	case json.Unmarshal(b, &day) == nil:
		return day, nil
	case json.Unmarshal(b, &name) == nil:
		return name, nil
	case json.Unmarshal(b, &numbers) == nil:
		return numbers, nil
	case json.Unmarshal(b, &names) == nil:
		return names, nil
	}
	err := json.Unmarshal(b, &facts)
	return facts, err
}

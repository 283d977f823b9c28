package coach

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"nextrung/internal/fault"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// None is the word for nothing of a kind.
const None = "none"

const none = None

// place is where a typed value goes: at is a pointer to a day, a number, a yes or no, a text or a list
// of texts, or a reading; words are those that may stand there, all if none are named.
type place struct {
	at    any
	words []string
	says  func() string // what stands there as it would be typed; needed where at is a reading
}

// reading reads what only one field can hold.
type reading func(f fault.Field, typed string) error

// read puts a typed value in its place. "none" empties a list, and a day, number or text that may be missing.
func (p place) read(f fault.Field, typed string) (err error) {
	list := []string{typed}
	to := reflect.Indirect(reflect.ValueOf(p.at))
	if _, ok := p.at.(reading); !ok && typed == none && len(p.words) == 0 && to.Kind() != reflect.Slice {
		to.SetZero()
		return nil
	}
	if to.Kind() == reflect.Slice {
		list = words(typed)
	}
	if list, err = p.spell(f, list); err != nil {
		return err
	}
	if len(list) == 1 {
		typed = list[0]
	}
	switch at := p.at.(type) {
	case reading:
		return at(f, typed)
	case *workout.Date:
		*at, err = Date(f, typed)
	case *float64:
		var n []float64
		if n, err = Numbers(f, typed, 1); err == nil {
			*at = n[0]
		}
	case *int:
		if *at, err = strconv.Atoi(typed); err != nil {
			err = fault.In(f, typed, "is not a whole number")
		}
	case *bool:
		*at = typed == "yes"
	default: // a kind of text, or a list of one
		if to.Kind() == reflect.Slice {
			return fill(to, f, list)
		}
		if typed == none && slices.Contains(p.words, none) {
			typed = ""
		}
		to.SetString(typed)
	}
	return err
}

// fill puts words into a list of a kind of text; "none" alone empties it.
func fill(to reflect.Value, f fault.Field, list []string) error {
	to.SetZero()
	for _, w := range list {
		if w == none && len(list) > 1 {
			return bothSomeAndNone(f, strings.Join(list, ","))
		}
		if w != none {
			to.Set(reflect.Append(to, reflect.ValueOf(w).Convert(to.Type().Elem())))
		}
	}
	return nil
}

// written is what stands in the place, as it would be typed; "" for nothing.
func (p place) written() string {
	to := reflect.Indirect(reflect.ValueOf(p.at))
	switch {
	case p.says != nil:
		return p.says()
	case to.IsZero():
		return ""
	case to.Kind() == reflect.Slice:
		var all []string
		for i := range to.Len() {
			all = append(all, to.Index(i).String())
		}
		return strings.Join(all, ",")
	}
	return fmt.Sprint(to.Interface())
}

// spell finds the words that are meant, where only some may stand.
func (p place) spell(f fault.Field, list []string) (out []string, err error) {
	if len(p.words) == 0 {
		return list, nil
	}
	for _, typed := range list {
		word, err := Word(f, typed, p.words...)
		if err != nil {
			return nil, err
		}
		out = append(out, word)
	}
	return out, nil
}

// Date reads a day; 0 for "".
func Date(f fault.Field, typed string) (workout.Date, error) {
	if typed = strings.TrimSpace(typed); typed == "" {
		return 0, nil
	}
	d, err := workout.ParseDate(typed)
	if err != nil {
		return 0, fault.In(f, typed, "is not a date; write it as YYYY-MM-DD")
	}
	return d, nil
}

// NotAhead refuses a day after today.
func NotAhead(f fault.Field, d, today workout.Date) error {
	if d > today {
		return fault.In(f, d, "is in the future")
	}
	return nil
}

// Numbers reads n numbers separated by commas.
func Numbers(f fault.Field, typed string, n int) ([]float64, error) {
	parts := strings.Split(typed, ",")
	if len(parts) != n {
		if n == 1 {
			return nil, fault.In(f, typed, "is not a number")
		}
		return nil, fault.In(f, typed, "has %d of %d numbers: give %d, separated by commas", len(parts), n, n)
	}
	out := make([]float64, n)
	for i, p := range parts {
		v, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, fault.In(f, p, "is not a number")
		}
		out[i] = v
	}
	return out, nil
}

// words splits a list at its commas.
func words(list string) []string {
	var out []string
	for w := range strings.SplitSeq(list, ",") {
		if w = strings.TrimSpace(w); w != "" {
			out = append(out, w)
		}
	}
	return out
}

// readSigns reads a list of signs; denied says that "none" was among the words.
func readSigns(typed string) (found []signs.Sign, denied bool, unknown []string) {
	for _, w := range words(typed) {
		switch sign, ok := signs.Named(w); {
		case !ok:
			unknown = append(unknown, w)
		case sign == "":
			denied = true
		case !slices.Contains(found, sign): // two words may name one sign
			found = append(found, sign)
		}
	}
	return found, denied, unknown
}

func bothSomeAndNone(f fault.Field, typed string) error {
	return fault.In(f, typed, "says none but also names something: leave one of them out")
}

func bothSignAndNone(f fault.Field, typed string) error {
	return fault.In(f, typed, "says none but also names a sign: leave one of them out")
}

func notOneOf(f fault.Field, word string, allowed ...string) error {
	return fault.In(f, word, "is not one of %s", strings.Join(allowed, ", "))
}

func asText[W ~string](all []W) []string {
	out := make([]string, len(all))
	for i, w := range all {
		out[i] = string(w)
	}
	return out
}

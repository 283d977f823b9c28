package reasons

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"text/template"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// functions are what a sentence may use. Arguments may have been through JSON: a number is then a
// float64 whatever it was, and an empty list has lost its type.
func functions() template.FuncMap {
	return template.FuncMap{
		"number": func(v any) string { return wording.Number(float(v)) },
		"clock":  func(v any) string { return wording.Clock(int(float(v))) },
		"when":   when,
		"signed": func(v any) string { return wording.Signed(float(v)) },
		"whole":  func(v any) string { return wording.Number(math.Round(float(v))) },
		"years":  func(v any) string { return wording.Number(math.Floor(float(v))) },
		"months": func(v any) string { return InUnit(math.Round(float(v)*10)/10, "months") },
		// count writes a number with its noun, some the same with "no" for 0, part how many of how many,
		// last the same of the last ones, are a number with its verb.
		"count":    func(v any, noun string) string { return wording.Count(int(float(v)), noun) },
		"times":    func(v any) string { return wording.Times(int(float(v))) },
		"some":     func(v any, noun string) string { return wording.Some(int(float(v)), noun) },
		"part":     func(n, of any, noun string) string { return wording.Part(int(float(n)), int(float(of)), noun) },
		"last":     func(n, of any, noun string) string { return wording.PartOfLast(int(float(n)), int(float(of)), noun) },
		"are":      func(v any, one, more string) string { return wording.Plural(int(float(v)), one, more) },
		"verb":     func(v any, one, more string) string { return wording.Verb(int(float(v)), one, more) },
		"many":     func(v any) bool { return float(v) > 1 },
		"more":     func(a, b any) bool { return float(a) > float(b) },
		"word":     func(v any) string { return wording.Word(int(float(v))) },
		"ordinal":  func(v any) string { return wording.Ordinal(int(float(v))) },
		"numbers":  func(v any) string { return numbers(v, 0.1) },
		"wholes":   func(v any) string { return numbers(v, 1) },
		"day":      workout.Date.Long,
		"ago":      func(v any) string { return wording.Ago(int(float(v))) },
		"sign":     func(s string) string { return signs.Sign(s).Words() },
		"question": func(s string) string { return "“" + signs.Sign(s).Question() + "”" },
		"advice":   func(s string, days any) string { return signs.Sign(s).Advice(int(float(days))) },
		"disease": func(d any) string {
			if d == "renal" {
				return "kidney"
			}
			return fmt.Sprint(d)
		},
		"clearance": func(v any) string {
			return map[record.Clear]string{
				record.NotNecessary: "no medical clearance is needed", record.BeforeAny: "a doctor's clearance is needed before any session",
				record.BeforeVigorous: "a doctor's clearance is needed before vigorous work",
				record.StopFirst:      "stop training until a doctor has cleared the client",
			}[record.Clear(fmt.Sprint(v))]
		},
		"capital": wording.Capital,
		"quote":   func(v any) string { return fmt.Sprintf("%q", fmt.Sprint(v)) },
		"shell":   func(v any) string { return wording.Quoted(fmt.Sprint(v)) },
		"comma":   func(v any) string { return strings.Join(names(v), ",") },
		// list joins facts into one list, each puts them after a sentence, one after the other.
		"list": func(all record.Facts) string { return wording.List(Texts(all)) },
		"each": func(all record.Facts) string {
			if len(all) == 0 {
				return ""
			}
			return " " + Paragraph(all)
		},
		"only":   func(all record.Facts) string { return Paragraph(all) },
		"effort": effort,
		// change writes a change in percent with its direction: "12 % more".
		"change": func(percent any, up, down string) string {
			switch n := wording.Number(math.Abs(float(percent))); {
			case n == "0":
				return "no " + up
			case float(percent) < 0:
				return n + " % " + down
			default:
				return n + " % " + up
			}
		},
		// above writes a difference in beats: "3 bpm above", "2 bpm below", "level with".
		"above": func(bpm any) string { return wording.Above(float(bpm)) },
		// against writes how far a heart rate is above or below the usual one.
		"against": func(rise, usual any) string {
			switch n := wording.Number(math.Abs(float(rise))); {
			case n == "0":
				return "the client's usual"
			case float(rise) < 0:
				return n + " bpm below the client's usual " + wording.Number(float(usual))
			default:
				return n + " bpm above the client's usual " + wording.Number(float(usual))
			}
		},
	}
}

// when says how long and at what time a fault of the sensor was seen, "" where the fault alone is named.
func when(args map[string]any) string {
	seconds, timed := args["seconds"]
	if times, more := args["times"]; more {
		return fmt.Sprintf(" %s, %.0f s in all", wording.Count(int(float(times)), "more time"), float(seconds))
	}
	if !timed {
		return ""
	}
	return fmt.Sprintf(" for %.0f s at %s", float(seconds), wording.Clock(int(float(args["at"]))))
}

// effort writes an effort with its scale, 0 for none.
func effort(value, scale any) string {
	switch float(scale) {
	case 10:
		return wording.Number(float(value)) + " on the 0-10 scale"
	case 20:
		return wording.Number(float(value)) + " on the 6-20 scale"
	}
	return wording.Number(float(value))
}

func float(v any) float64 { return reflect.ValueOf(v).Convert(reflect.TypeFor[float64]()).Float() }

// numbers lists values, rounded to a step.
func numbers(v any, step float64) string {
	var out []string
	all, _ := v.([]float64)
	for _, x := range all {
		out = append(out, wording.Number(math.Round(x/step)*step))
	}
	return strings.Join(out, ", ")
}

func names(v any) []string {
	all, _ := v.([]string)
	return all
}

package answers

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// chat is a message as people type it, with the week it is about and what it says.
type chat struct {
	text  string
	week  Setting
	facts map[string]string // what is meant, by "Mon effort"; "?" where only the client can say
}

// chats reads messages that were written, with what they say, before the reader was made for them. A
// message begins with its day, the scale and the days of its sessions, and ends with lines of "=": day,
// effort, talking, enjoyment, and what else there is.
func chats(t *testing.T, file string) (out []chat) {
	data, err := os.ReadFile("testdata/" + file + ".txt")
	if err != nil {
		t.Fatal(err)
	}
	for block := range strings.SplitSeq(strings.TrimSpace(string(data)), "\n\n") {
		lines := strings.Split(block, "\n")
		head := strings.Fields(lines[0])
		on := workout.MustDate(head[1])
		dayOf := func(name string) workout.Date {
			for d := on; d > on-7; d-- {
				if d.Time().Format("Mon") == name {
					return d
				}
			}
			return on
		}
		c := chat{facts: map[string]string{}, week: Setting{On: on, Client: "Senna"}}
		c.week.Scale, _ = strconv.Atoi(head[2])
		for _, name := range head[3:] {
			c.week.Sessions = append(c.week.Sessions, record.Session{Date: dayOf(name), Minutes: 36})
		}
		for _, l := range lines[1:] {
			facts, isFacts := strings.CutPrefix(l, "= ")
			if !isFacts {
				c.text += l + "\n"
				continue
			}
			f := strings.Fields(facts)
			plain := 0
			for _, v := range f[1:] {
				name := ""
				for _, named := range []string{"rest", "heat", "nofan", "sign:"} {
					if after, ok := strings.CutPrefix(v, named); ok {
						name, v = named, after
					}
				}
				if name == "" {
					name = []string{"effort", "talk", "enjoy"}[plain]
					plain++
				}
				if name == "effort" && v != "?" && v != "_" && !strings.Contains(v, "/") {
					v += "/" + strconv.Itoa(c.week.Scale)
				}
				if name == "sign:" {
					name, v = name+v, "yes"
				}
				if v != "_" {
					c.facts[f[0]+" "+name] = v
				}
			}
		}
		out = append(out, c)
	}
	return out
}

// factsOf lists what notes enter, in the manner of a chat.
func factsOf(notes []record.Note) map[string]string {
	out := map[string]string{}
	for _, n := range notes {
		add := func(name string, given bool, v any) {
			if given {
				out[n.Date.Time().Format("Mon")+" "+name] = fmt.Sprint(v)
			}
		}
		if n.RPE != nil {
			add("effort", true, fmt.Sprintf("%g/%d", n.RPE.Value, n.RPE.Scale))
		}
		add("talk", n.Talk != "", n.Talk)
		add("enjoy", n.Enjoyment != 0, n.Enjoyment)
		add("rest", n.HRRest != 0, n.HRRest)
		if n.HeatC != nil {
			add("heat", true, *n.HeatC)
		}
		add("nofan", n.NoFan, "")
		for _, s := range n.Symptoms {
			add("sign:"+string(s), true, "yes")
		}
	}
	return out
}

// TestChats holds that of what people say on a messenger at least 85 % is read, and nothing wrongly.
func TestChats(t *testing.T) {
	for _, file := range []string{"chats-seen", "chats-unseen"} {
		read, asked, wrong := 0, 0, 0
		for _, c := range chats(t, file) {
			r := Parse(c.text, c.week)
			got := factsOf(r.Notes)
			for name, v := range got {
				if _, fact, _ := strings.Cut(name, " "); c.facts["any "+fact] == v { // which day it was, the message does not say
					delete(got, name)
					got["any "+fact] = v
				}
			}
			var missed []string
			for name, v := range c.facts {
				switch {
				case v == "?":
				case got[name] == v:
					read++
				default:
					asked++
					missed = append(missed, name+" "+v)
				}
			}
			for name, v := range got {
				if c.facts[name] != v {
					wrong++
					t.Errorf("%q: %s %s is entered and was not said", c.text, name, v)
				}
			}
			if slices.Sort(missed); len(missed) > 0 && (file == "chats-seen" || os.Getenv("SHOW") != "") {
				t.Logf("%q\n  misses %s\n  reads %s", c.text, strings.Join(missed, ", "), written(r))
			}
		}
		t.Logf("%s: %d read, %d not, %d wrong", file, read, asked, wrong)
		if share := float64(read) / float64(read+asked); share < 0.85 {
			t.Errorf("%s: %.0f %% are read, at least 85 are wanted", file, 100*share)
		}
	}
}

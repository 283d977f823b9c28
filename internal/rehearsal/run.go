package rehearsal

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"sync"
	"sync/atomic"

	"nextrung/internal/policy"
	"nextrung/internal/record"
)

// Options says how much to rehearse.
type Options struct {
	Policy  policy.Policy
	Clients int // at least 1
	Weeks   int // at least 6
	Seed    uint64
	World   World // "" is the usual one
	// Tidy clients do every session, record it to the end and answer after it, so that what is left is
	// the policy's own.
	Tidy bool
	// KeepZones leaves the zones as they were at the start, whatever talk and effort say.
	KeepZones bool
	Workers   int // 0 is 1; changes nothing but the time
}

// Result is the table.
type Result struct {
	Clients    int      `json:"clients"`
	Weeks      int      `json:"weeks"`
	Seed       uint64   `json:"seed"`
	World      World    `json:"world"`
	Tidy       bool     `json:"tidy"`
	KeepZones  bool     `json:"keep_zones,omitempty"`
	Policy     string   `json:"policy"` // digest of the policy's text
	Definition string   `json:"definition"`
	Ways       []Tried  `json:"ways"`
	Aims       []Aim    `json:"aims"`
	Compared   []string `json:"compared"` // what the heart-rate rules add, in sentences
	Assumed    []string `json:"assumed"`
}

// Tried is one way of deciding with its counts.
type Tried struct {
	Way    Way     `json:"way"`
	Groups []Group `json:"groups"`
}

// Aim is what the whole policy should reach in everybody. Value is in percent, with its 95 % interval (Wilson 1927);
// nil without a case.
type Aim struct {
	Text  string   `json:"text"`
	Value *float64 `json:"value_percent"`
	Low   float64  `json:"low_percent"`
	High  float64  `json:"high_percent"`
	Met   *bool    `json:"met"`
}

// Run rehearses. Equal options but for Workers give equal results. It fails on options that cannot
// be and when ctx ends.
func Run(ctx context.Context, o Options, progress func(done, all int)) (Result, error) {
	lives, err := o.lives(ctx, Ways(), progress)
	if err != nil {
		return Result{}, err
	}
	return table(o, lives), nil
}

// lives takes every client through the weeks under the ways.
func (o Options) lives(ctx context.Context, ways []Way, progress func(done, all int)) ([]map[Way]Journey, error) {
	lives := make([]map[Way]Journey, max(0, o.Clients))
	err := o.each(ctx, progress, func(p person) func() {
		life := live(o, p, ways)
		return func() { lives[p.number] = life }
	})
	return lives, err
}

// each does something with every client, several at a time. What do returns is then done one at a
// time, in any order.
func (o Options) each(ctx context.Context, progress func(done, all int), do func(person) func()) error {
	if o.Clients < 1 || o.Weeks < sixth {
		return fmt.Errorf("rehearse %d clients for %d weeks: at least 1 client and %d weeks are needed", o.Clients, o.Weeks, sixth)
	}
	var (
		group sync.WaitGroup
		next  atomic.Int64
		mutex sync.Mutex
		done  int
	)
	for range max(1, o.Workers) {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < o.Clients && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				p := o.World.in(draw(o.Seed, i))
				if o.Tidy {
					p = p.tidy()
				}
				then := do(p)
				mutex.Lock()
				then()
				if done++; progress != nil {
					progress(done, o.Clients)
				}
				mutex.Unlock()
			}
		})
	}
	group.Wait()
	if err := ctx.Err(); err != nil {
		return fmt.Errorf("rehearse: %w", err)
	}
	return nil
}

func table(o Options, lives []map[Way]Journey) Result {
	r := Result{Clients: o.Clients, Weeks: o.Weeks, Seed: o.Seed, World: cmp.Or(o.World, Usual), Tidy: o.Tidy, KeepZones: o.KeepZones, Policy: o.Policy.Digest(), Definition: Definition, Assumed: Assumed(o)}
	for _, way := range Ways() {
		r.Ways = append(r.Ways, Tried{way, groups(under(way, lives))})
	}
	whole, plain := r.Ways[0].Groups[0].Counts, r.Ways[1].Groups[0].Counts
	r.Aims = aims(whole, r.Ways[2].Groups[0].Counts)
	r.Compared = compare(whole, plain)
	return r
}

// under are the journeys of all clients under one way.
func under(way Way, lives []map[Way]Journey) []Journey {
	return record.Map(lives, func(l map[Way]Journey) Journey { return l[way] })
}

// aims compares the whole policy with what it is to reach, the last one beside perfect knowledge of who is able.
func aims(c, knowing Counts) []Aim {
	one := func(text string, part, whole int, keeps func(float64) bool) Aim {
		v, ok := Share(part, whole)
		if !ok {
			return Aim{Text: text}
		}
		low, high := score(v/100, float64(whole))
		return Aim{text, &v, 100 * low, 100 * high, new(keeps(v))}
	}
	most := func(limit float64) func(float64) bool { return func(v float64) bool { return v <= limit } }
	least := func(limit float64) func(float64) bool { return func(v float64) bool { return v >= limit } }
	return []Aim{
		one("at most 5 % of those moved up were not ready for the session as written", c.AdvancedUnready, c.Advanced, most(5)),
		one("at most 3 % of those moved up could not do it as they do their sessions", c.AdvancedUnable, c.Advanced, most(3)),
		one("after at most 5 % of the moves, half or more of the interval sessions of the next four weeks were too hard", c.HardAfter, c.Followed, most(5)),
		one("at least 60 % of the ready are moved up within 3 weeks", c.ReadyInTime, c.Ready, least(60)),
		one("at least 80 % of the ready who have done the training are", c.TrainedInTime, c.Trained, least(80)),
		one("at most 20 % lack the data for a verdict at week 6", c.NotAssessableSix, c.AtSix, most(20)),
		ofKnowing(c, knowing),
	}
}

// ofKnowing is the share of the ready moved in time as a part of what perfect knowledge reaches under the same rules
// about training. Its interval treats the latter as known.
func ofKnowing(c, knowing Counts) Aim {
	const text, least = "of the ready, at least 85 % as many are moved up within 3 weeks as with perfect knowledge and the same training", 85
	v, ok := Share(c.ReadyInTime, c.Ready)
	most, known := Share(knowing.ReadyInTime, knowing.Ready)
	if !ok || !known || most == 0 {
		return Aim{Text: text}
	}
	low, high := score(v/100, float64(c.Ready))
	part := 100 * v / most
	return Aim{text, &part, 1e4 * low / most, 1e4 * high / most, new(part >= least)}
}

// compare says what the heart-rate rules add to weeks, sessions, effort and talk. A difference
// counts when its 95 % interval leaves out 0.
func compare(whole, plain Counts) []string {
	if whole.Advanced == 0 || plain.Advanced == 0 {
		return []string{"With one of the two ways, nobody was moved up, so nothing can be said about what the heart-rate rules add."}
	}
	low, high := difference(plain.AdvancedUnready, plain.Advanced, whole.AdvancedUnready, whole.Advanced)
	figures := fmt.Sprintf("%s were not ready (%s)", beside(whole.AdvancedUnready, whole.Advanced, plain.AdvancedUnready, plain.Advanced), between(low, high))
	says := "The heart-rate rules make no difference here, beyond chance, to how many move up too early"
	switch {
	case low > 0:
		says = "The heart-rate rules keep some clients from moving up too early"
	case high < 0:
		says = "With the heart-rate rules, more clients moved up too early"
	}
	out := []string{says + ": of those moved up, " + figures + "."}
	if whole.Ready == 0 || plain.Ready == 0 {
		return out
	}
	low, high = difference(plain.ReadyInTime, plain.Ready, whole.ReadyInTime, whole.Ready)
	return append(out, fmt.Sprintf("What they cost: of the ready clients, %s were moved up within 3 weeks (%s).",
		beside(whole.ReadyInTime, whole.Ready, plain.ReadyInTime, plain.Ready), between(low, high)))
}

func beside(a, n, b, m int) string {
	return fmt.Sprintf("%.1f %% of %d with them and %.1f %% of %d without", 100*float64(a)/float64(n), n, 100*float64(b)/float64(m), m)
}

func between(low, high float64) string {
	return fmt.Sprintf("95 %% interval of the difference: %.1f to %.1f points", 100*low, 100*high)
}

// difference is the 95 % interval of a/n - b/m for independent groups (Newcombe, Statistics in
// Medicine 1998, method 10: from the score intervals of the two proportions). The clients are the
// same under both ways, so the interval is somewhat too wide.
func difference(a, n, b, m int) (low, high float64) {
	p, q := float64(a)/float64(n), float64(b)/float64(m)
	pl, ph := score(p, float64(n))
	ql, qh := score(q, float64(m))
	return p - q - math.Hypot(p-pl, qh-q), p - q + math.Hypot(ph-p, q-ql)
}

// score is the 95 % interval of a proportion (Wilson 1927).
func score(p, n float64) (low, high float64) {
	const z = 1.959964
	centre, half := p+z*z/(2*n), z*math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	return (centre - half) / (1 + z*z/n), (centre + half) / (1 + z*z/n)
}

// Assumed lists what the rehearsal rests on, for people.
func Assumed(o Options) []string {
	zones := "Whichever way is used, the trainer accepts every suggestion to lower the top of zone 1 (it comes from talk and effort) at once, and declines all others."
	if o.KeepZones {
		zones = "The zones stay as they were at the start, even where talk and effort contradict them."
	}
	out := []string{
		"The world is invented. The rehearsal shows what the rules do in it; it does not prove that they are safe or right.",
		"One invented number, how much of the aerobic base is missing, drives drift, recovery, effort and talk together; sessions close the gap at a speed that differs from person to person. People also differ in ways that have nothing to do with it.",
		"The maximal heart rate scatters around the age formula with a standard deviation of 10.8 bpm (Nes 2013); every other spread is invented.",
		"One in two wears a wrist sensor, one in five never measured the resting heart rate, one in ten likes to train hard. In 3 % of the weeks the client is away; in 4 % a cold or poor sleep is noted.",
		"Clients do what is prescribed, in the zones that the trainer knows, whatever they feel; the trainer follows every verdict at once.",
		zones,
		"Being ready is defined by how the next sessions feel and how far the heart rate drops between bouts. Answers about effort measure the first directly, so this world favours the effort rules over the heart-rate rules.",
		"Nobody gets hurt, pauses, takes medicine or leaves; a session that is too hard has no consequences except the answer given and the heart rate seen.",
	}
	if says := o.World.describes(); says != "" {
		out = append(out, says)
	}
	if o.Tidy {
		return append(out, "In every week at home, everybody does every session, records it to the end and answers afterwards.")
	}
	return append(out, "Each client misses 2 to 27 % of the sessions, answers after 30 to 95 % of them, and stops up to 80 % of the recordings right after the last effort.")
}

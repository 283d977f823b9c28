package web

import (
	"crypto/rand"
	"slices"
	"sync"
)

// result is what a form did, shown once on the page after it.
type result struct {
	Done  []string // what was entered
	Wrong []string // what was not, and why
	Typed string   // the reason of a decision that was refused
	// Unclaimed is how many files are kept until somebody says whose they are.
	Unclaimed int
	typed     *messageForm // a client's message that was not entered
	refused
	test *shownTest // the result of a field test
}

// results keeps the last few, since a page that was sent by a form must not be sent again by a reload.
type results struct {
	mutex sync.Mutex
	last  []kept
}

type kept struct {
	id string
	result
}

// keepLast is how many results are kept: enough for a few open tabs.
const keepLast = 32

// keep keeps a result and gives the name under which it is shown.
func (r *results) keep(did result) string {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	id := rand.Text()
	r.last = append(r.last, kept{id, did})
	r.last = r.last[max(0, len(r.last)-keepLast):]
	return id
}

// of is the result of that name; nothing if there is none any more.
func (r *results) of(id string) result {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	if i := slices.IndexFunc(r.last, func(k kept) bool { return k.id == id }); i >= 0 {
		return r.last[i].result
	}
	return result{}
}

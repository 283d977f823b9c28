package web

import (
	"cmp"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync"
)

// arrivals is what is being taken in, for anybody who looks in the meantime.
type arrivals struct {
	mutex sync.Mutex
	at    arrivalsForm
	next  chan struct{} // closed at the next change
}

// arrivalsForm is how far an intake is.
type arrivalsForm struct {
	Done, All int
	Last      []string // what became of the last files
}

// lastArrivals is how many lines the progress of an intake shows.
const lastArrivals = 4

// expect says that more files are about to be taken in. Earlier ones that are done are forgotten.
func (a *arrivals) expect(n int) {
	a.change(func(at *arrivalsForm) {
		if at.Done >= at.All {
			*at = arrivalsForm{}
		}
		at.All += n
	})
}

func (a *arrivals) took(did result) {
	a.change(func(at *arrivalsForm) {
		at.Done++
		at.Last = append(slices.Clone(at.Last), append(did.Wrong, did.Done...)...)
		at.Last = at.Last[max(0, len(at.Last)-lastArrivals):]
	})
}

func (a *arrivals) change(f func(*arrivalsForm)) {
	a.mutex.Lock()
	defer a.mutex.Unlock()
	f(&a.at)
	if a.next != nil {
		close(a.next)
		a.next = nil
	}
}

// now gives how far the intake is, and what is closed when that changes.
func (a *arrivals) now() (arrivalsForm, <-chan struct{}) {
	a.mutex.Lock()
	defer a.mutex.Unlock()
	if a.next == nil {
		a.next = make(chan struct{})
	}
	return a.at, a.next
}

// arriving tells how far the intake is, with each file that is done, as server-sent events (WHATWG HTML, 9.2) until
// nobody listens any more or the desk stops.
func (d *Desk) arriving(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/event-stream")
	told := http.NewResponseController(w)
	for {
		at, next := d.coming.now()
		b, err := fill("arrivals", at)
		if err == nil {
			_, err = fmt.Fprintf(w, "data: %s\n\n", strings.ReplaceAll(strings.TrimSpace(string(b)), "\n", "\ndata: "))
		}
		if err = cmp.Or(err, told.Flush()); err != nil {
			return
		}
		select {
		case <-next:
		case <-r.Context().Done():
			return
		case <-d.ended:
			return
		}
	}
}

package web

import (
	"net/http"
	"runtime"
	"slices"
	"sync"

	"nextrung/internal/coach"
	"nextrung/internal/workout"
)

// restsUpon is what a client's page or row depends on: what is known, the policy, and the day.
type restsUpon struct {
	version coach.Version
	on      workout.Date
}

// memory keeps what was made of each client until what it depends on changes. Its zero value keeps nothing yet. What is
// wanted twice at the same time is made once.
type memory[K comparable, T any] struct {
	most  int // how many clients it keeps, 0 for all
	mutex sync.Mutex
	of    map[string]*made[K, T]
	used  []string // the clients, the last used at the end
}

type made[K comparable, T any] struct {
	mutex sync.Mutex
	whole bool
	from  K
	value T
}

// get gives what was made of a client, or makes it.
func (m *memory[K, T]) get(client string, from K, make func() (T, error)) (T, error) {
	e := m.entry(client)
	e.mutex.Lock()
	defer e.mutex.Unlock()
	if e.whole && e.from == from {
		return e.value, nil
	}
	value, err := make()
	if err != nil {
		return value, err
	}
	e.whole, e.from, e.value = true, from, value
	return value, nil
}

func (m *memory[K, T]) entry(client string) *made[K, T] {
	m.mutex.Lock()
	defer m.mutex.Unlock()
	if m.of == nil {
		m.of = map[string]*made[K, T]{}
	}
	if m.most > 0 {
		m.used = append(slices.DeleteFunc(m.used, func(u string) bool { return u == client }), client)
		for len(m.used) > m.most {
			delete(m.of, m.used[0])
			m.used = m.used[1:]
		}
	}
	if m.of[client] == nil {
		m.of[client] = &made[K, T]{}
	}
	return m.of[client]
}

// keepOnly forgets everybody who is no longer in the book.
func (m *memory[K, T]) keepOnly(in map[string]coach.Version) {
	m.mutex.Lock()
	defer m.mutex.Unlock()
	for client := range m.of {
		if _, ok := in[client]; !ok {
			delete(m.of, client)
		}
	}
}

// ofEverybody gives what is made of each client, by name, several at once. What nothing new rests upon is not made again.
func ofEverybody[T any](d *Desk, r *http.Request, m *memory[restsUpon, T], of func(r *http.Request, who string) (T, error)) ([]T, error) {
	versions, err := d.coach.Versions(r.Context())
	if err != nil {
		return nil, err
	}
	m.keepOnly(versions)
	names, err := d.coach.Clients(r.Context())
	if err != nil {
		return nil, err
	}
	out, failed := make([]T, len(names)), make([]error, len(names))
	var workers sync.WaitGroup
	next := make(chan int)
	for range min(len(names), runtime.GOMAXPROCS(0)) {
		workers.Go(func() {
			for i := range next {
				if failed[i] = r.Context().Err(); failed[i] == nil {
					out[i], failed[i] = m.get(names[i], restsUpon{versions[names[i]], d.on()}, func() (T, error) { return of(r, names[i]) })
				}
			}
		})
	}
	for i := range names {
		next <- i
	}
	close(next)
	workers.Wait()
	for _, err := range failed {
		if err != nil {
			return nil, err
		}
	}
	return out, nil
}

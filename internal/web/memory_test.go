package web

import (
	"errors"
	"slices"
	"sync"
	"testing"

	"nextrung/internal/coach"
)

// What rests upon the same is made once, also when many ask at once; an error is not kept.
func TestMemoryMakesOnce(t *testing.T) {
	var m memory[int, string]
	made := 0
	ask := func(client string, from int, fails error) string {
		s, err := m.get(client, from, func() (string, error) { made++; return client, fails })
		if !errors.Is(err, fails) {
			t.Errorf("error %v, want %v", err, fails)
		}
		return s
	}
	var all sync.WaitGroup
	for range 20 {
		all.Go(func() { ask("Runa", 1, nil) })
	}
	all.Wait()
	if made != 1 {
		t.Errorf("made %d times for one state", made)
	}
	if ask("Runa", 2, nil); made != 2 {
		t.Error("another state was not made")
	}
	if ask("Ketil", 1, nil); made != 3 {
		t.Error("one client's page was given to another")
	}
	broken := errors.New("broken")
	ask("Runa", 3, broken)
	if ask("Runa", 3, nil); made != 5 {
		t.Error("an error was kept")
	}
}

// Somebody who is no longer in the book is forgotten, and no more are kept than were wanted.
func TestMemoryForgets(t *testing.T) {
	var m memory[int, string]
	for _, who := range []string{"Runa", "Ketil", "Odda"} {
		m.get(who, 1, func() (string, error) { return who, nil })
	}
	m.keepOnly(map[string]coach.Version{"Runa": {}})
	if len(m.of) != 1 || m.of["Runa"] == nil {
		t.Errorf("kept %v", m.of)
	}
	few := memory[int, string]{most: 2}
	for _, who := range []string{"Runa", "Ketil", "Runa", "Odda"} {
		few.get(who, 1, func() (string, error) { return who, nil })
	}
	if len(few.of) != 2 || few.of["Ketil"] != nil || !slices.Equal(few.used, []string{"Runa", "Odda"}) {
		t.Errorf("kept %v of the last two, Runa and Odda", few.used)
	}
}

package logbook_test

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"runtime/debug"
	"strings"
	"sync"
	"testing"

	"nextrung/internal/logbook"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// The test binary runs itself as another program that uses the same book.
const (
	childBook = "NEXTRUNG_TEST_BOOK"
	childFrom = "NEXTRUNG_TEST_FROM"
)

func TestMain(m *testing.M) {
	debug.SetGCPercent(400) // collecting what the tests drop would cost a third of their time
	if dir := os.Getenv(childBook); dir != "" {
		if err := receiveMany(dir, os.Getenv(childFrom)); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

const (
	many  = 90 // files that the other program receives
	inOne = 4  // workouts in each
)

func nth(prefix string, i int) (recording.File, workout.Date) {
	return export(fmt.Sprintf("%s %d.fit", prefix, i), 20_000), monday + workout.Date(i)
}

// receiveMany enters many files and prints the number of each once it is in the book.
func receiveMany(dir, prefix string) error {
	ctx := context.Background()
	b, err := logbook.Open(ctx, dir)
	if err != nil {
		return err
	}
	for i := range many {
		f, day := nth(prefix, i)
		err := b.Add(ctx, f, "Runa", day, items(f, "Runa", day, inOne), nil)
		if known := (*logbook.ErrKnown)(nil); err != nil && !errors.As(err, &known) {
			return err
		}
		fmt.Println(i)
	}
	return b.Close()
}

func child(t *testing.T, dir, prefix string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	must(t, err)
	c := exec.CommandContext(t.Context(), self)
	c.Env = append(os.Environ(), childBook+"="+dir, childFrom+"="+prefix)
	c.Stderr = os.Stderr
	return c
}

// A program that is killed while it receives leaves whole files only: all that it had said were in
// the book, and at most one more. Going on afterwards enters the rest once.
func TestKilledWhileReceiving(t *testing.T) {
	b, dir := crewed(t)
	must(t, b.Close())
	said := -1
	for _, after := range []int{1, 3, 7, 20, 45, 70} {
		c := child(t, dir, "crossing")
		out, err := c.StdoutPipe()
		must(t, err)
		must(t, c.Start())
		lines := bufio.NewScanner(out)
		for lines.Scan() {
			var n int
			if _, err := fmt.Sscan(lines.Text(), &n); err != nil {
				t.Fatal(err)
			}
			said = max(said, n)
			if n == after {
				must(t, c.Process.Kill())
			}
		}
		if err := c.Wait(); err == nil {
			t.Fatal("the program was not killed")
		}
		book := open(t, dir)
		verified(t, book)
		there := 0
		for i := range many {
			f, _ := nth("crossing", i)
			_, _, ok, err := book.Holder(t.Context(), f.Digest)
			must(t, err)
			if ok {
				there++
				raw, _, err := book.Original(t.Context(), f.Digest)
				must(t, err)
				same(t, f.Name, len(raw), len(f.Bytes))
			} else if i <= said {
				t.Fatalf("file %d was said to be in the book and is not", i)
			}
		}
		if there > said+2 {
			t.Errorf("%d files are there, %d were said to be", there, said+1)
		}
		if got := len(counts(t, book, "Runa", monday+many)); got != there*inOne {
			t.Errorf("%d recordings of %d files", got, there)
		}
		must(t, book.Close())
	}
	must(t, child(t, dir, "crossing").Run())
	book := open(t, dir)
	verified(t, book)
	if got := len(counts(t, book, "Runa", monday+many)); got != many*inOne {
		t.Errorf("%d recordings, want %d", got, many*inOne)
	}
}

// Two other programs receive, partly the same files, while this one reads: nothing is lost or
// doubled, and every look at the book sees whole files.
func TestTwoProgramsAndReaders(t *testing.T) {
	b, dir := crewed(t)
	var writers, readers sync.WaitGroup
	for _, prefix := range []string{"crossing", "crossing", "return"} {
		c := child(t, dir, prefix)
		writers.Go(func() {
			if err := c.Run(); err != nil {
				t.Errorf("%s: %v", prefix, err)
			}
		})
	}
	done := make(chan struct{})
	for range 4 {
		readers.Go(func() {
			for last := 0; ; {
				select {
				case <-done:
					return
				default:
				}
				r, err := b.Record(t.Context(), "Runa", monday+many)
				if err != nil {
					t.Error(err)
					return
				}
				if n := len(r.Recordings); n%inOne != 0 || n < last {
					t.Errorf("%d recordings after %d: not whole files", n, last)
				} else {
					last = n
				}
			}
		})
	}
	writers.Wait()
	close(done)
	readers.Wait()
	verified(t, b)
	beside, err := logbook.Beside(dir)
	must(t, err)
	if p, err := b.Verify(t.Context(), beside); err != nil || len(p) > 0 || beside.Entry <= many {
		t.Errorf("the seal beside the book, %s: %q %v", beside, p, err)
	}
	files := map[string]int{}
	for _, name := range counts(t, b, "Runa", monday+many) {
		files[strings.Fields(name)[0]]++
	}
	same(t, "recordings", files, map[string]int{"crossing": many * inOne, "return": many * inOne})
}

// Decisions that several connections enter at once still form one chain.
func TestDecisionsFromSeveralConnections(t *testing.T) {
	_, dir := decided(t)
	var all sync.WaitGroup
	for range 3 {
		b := open(t, dir)
		for i := range 5 {
			all.Go(func() {
				d := decision(monday+workout.Date(30+i), "at once")
				if err := b.AddDecision(t.Context(), "Runa", d); err != nil {
					t.Error(err)
				}
			})
		}
	}
	all.Wait()
	b := open(t, dir)
	verified(t, b)
	r, err := b.Record(t.Context(), "Runa", monday+99)
	must(t, err)
	if len(r.Decisions) != 18 {
		t.Errorf("%d decisions", len(r.Decisions))
	}
}

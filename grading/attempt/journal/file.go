package journal

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"nospark/grading/attempt"
	"nospark/scenarios/disk"
)

// Read reads the journal in the folder of a lab. One that does not exist says nothing: nothing has happened yet.
func Read(folder string, lab Lab) (Content, error) {
	path := filepath.Join(folder, filepath.FromSlash(File))
	data, err := disk.Read(path, Limit)
	if errors.Is(err, fs.ErrNotExist) {
		return Content{Room: attempt.NewRoom(), Checked: true}, nil
	}
	if err != nil {
		return Content{}, err
	}
	return Decode(path, data, lab)
}

// Writer goes on with a journal. It is safe for use by several goroutines at once.
type Writer struct {
	file *os.File
	sync func() error // of the file
	key  []byte

	mu       sync.Mutex
	seq      int
	link     []byte
	pending  []byte
	next     *batch
	flushing bool
	flushers sync.WaitGroup
	closing  bool
	ended    bool  // the closing line stands
	broken   error // what a write failed with: nothing is added any more
}

var (
	errClosed = errors.New("the journal is closed")
	errEnded  = errors.New("the journal has its closing line")
)

// batch is what one sync brings to the disk.
type batch struct {
	done chan struct{}
	err  error
}

// Open reads the journal of a lab, or begins one, and goes on with it. A torn last line is cut off. Whoever opens a
// journal holds the lock of its folder. One that is closed takes a release and nothing else.
func Open(folder string, lab Lab) (*Writer, Content, error) {
	path := filepath.Join(folder, filepath.FromSlash(File))
	c, err := Read(folder, lab)
	if err != nil {
		return nil, Content{}, err
	}
	if c.size == 0 {
		if err := begin(path, &c, lab); err != nil {
			return nil, Content{}, err
		}
	}
	f, err := os.OpenFile(path, os.O_RDWR, 0o600)
	if err != nil {
		return nil, Content{}, fmt.Errorf("the journal cannot be written: %w", err)
	}
	w := &Writer{file: f, sync: f.Sync, key: lab.Key, seq: c.Lines, link: c.link, ended: c.Room.Closed}
	if err := w.toEnd(int64(c.size)); err != nil {
		f.Close()
		return nil, Content{}, fmt.Errorf("%s: cannot be written: %w", path, err)
	}
	return w, c, nil
}

// begin writes a journal that says no more than whose it is.
func begin(path string, c *Content, lab Lab) error {
	line, link, err := encode(lab.Key, nil, head{Format: Format, Lab: lab.Name, Term: lab.Term})
	if err != nil {
		return err
	}
	c.size, c.link = len(line), link
	return disk.Write(path, line, 0o600)
}

// toEnd cuts off what is behind the last whole line.
func (w *Writer) toEnd(size int64) error {
	if err := w.file.Chmod(0o600); err != nil {
		return err
	}
	if err := w.file.Truncate(size); err != nil {
		return err
	}
	if _, err := w.file.Seek(size, io.SeekStart); err != nil {
		return err
	}
	return w.file.Sync()
}

// Append writes an event down and returns once it has reached the disk. After an error nothing is written any more:
// what the disk holds is then not known before the journal is opened again.
func (w *Writer) Append(e attempt.Event) error {
	w.mu.Lock()
	if w.broken != nil || w.closing {
		defer w.mu.Unlock()
		return cmp.Or(w.broken, errClosed)
	}
	if w.ended && e.Kind != attempt.Release {
		w.mu.Unlock()
		return errEnded
	}
	line, link, err := encode(w.key, w.link, numbered{w.seq + 1, e})
	if err != nil {
		w.mu.Unlock()
		return err
	}
	w.ended = w.ended || e.Kind == attempt.Close
	w.seq, w.link = w.seq+1, link
	w.pending = append(w.pending, line...)
	if w.next == nil {
		w.next = &batch{done: make(chan struct{})}
	}
	mine := w.next
	if !w.flushing {
		w.flushing = true
		w.flushers.Go(w.flush)
	}
	w.mu.Unlock()
	<-mine.done
	return mine.err
}

// flush writes what is pending until nothing is.
func (w *Writer) flush() {
	for {
		w.mu.Lock()
		lines, now := w.pending, w.next
		w.pending, w.next = nil, nil
		if now == nil {
			w.flushing = false
			w.mu.Unlock()
			return
		}
		err := w.broken
		w.mu.Unlock()
		if err == nil {
			if _, err = w.file.Write(lines); err == nil {
				err = w.sync()
			}
		}
		if err != nil {
			w.mu.Lock()
			if w.broken == nil {
				w.broken = fmt.Errorf("%s: cannot be written: %w", w.file.Name(), err)
			}
			err = w.broken
			w.mu.Unlock()
		}
		now.err = err
		close(now.done)
	}
}

// Delay makes every sync take that much longer, to measure how the bench does on a slow disk. Call it before Append.
func (w *Writer) Delay(d time.Duration) {
	fast := w.sync
	w.sync = func() error {
		time.Sleep(d)
		return fast()
	}
}

// Close gives the file up; lines that are still on their way come first.
func (w *Writer) Close() error {
	w.mu.Lock()
	w.closing = true
	w.mu.Unlock()
	w.flushers.Wait()
	return w.file.Close()
}

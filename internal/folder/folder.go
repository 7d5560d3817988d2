// Package folder keeps plans as files of one folder, for doors that several people or windows may use at once.
//
// What it promises: no name leads out of the folder; a plan is written whole or not at all, and is on the disk when Write returns; what somebody else has written meanwhile is
// never written over, it is told.
package folder

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

// MostBytes is the size of the largest plan that is read or written.
const MostBytes = 1 << 20

// Prices is the name of the list of prices that may lie beside the plans. It is read and written as a plan is, and is none.
const Prices = "prices.yaml"

// mostPlans is how many plans of a folder are listed.
const mostPlans = 1000

// Revision tells one text of a plan from another.
type Revision string

// RevisionOf is the revision of a text.
func RevisionOf(text []byte) Revision {
	sum := sha256.Sum256(text)
	return Revision(hex.EncodeToString(sum[:12]))
}

// File is a plan as it lies on the disk.
type File struct {
	Name     string
	Text     []byte
	Revision Revision
	Modified time.Time
}

// ConflictError says that the plan on the disk is not the one that was to be replaced.
type ConflictError struct {
	Name string
	Disk File // as it lies there now; Text is nil where it was taken away
}

// Error tells it.
func (e *ConflictError) Error() string {
	if e.Disk.Text == nil {
		return fmt.Sprintf("%s was taken away meanwhile; nothing was written", e.Name)
	}
	return fmt.Sprintf("%s was changed meanwhile, on the disk or in another window; nothing was written over", e.Name)
}

// NameError says why a name names no plan of the folder.
type NameError struct{ Name, Why string }

// Error tells it.
func (e *NameError) Error() string { return fmt.Sprintf("plan %q: %s", e.Name, e.Why) }

// Folder is a folder of plans. All methods may be called at once.
type Folder struct {
	root    *os.Root
	writing sync.Mutex
}

// Open opens a folder that is there.
func Open(path string) (*Folder, error) {
	root, err := os.OpenRoot(path)
	if err != nil {
		return nil, fmt.Errorf("opening the folder of plans: %w", err)
	}
	return &Folder{root: root}, nil
}

// Path is the folder's own path.
func (f *Folder) Path() string { return f.root.Name() }

// Close closes it.
func (f *Folder) Close() error { return f.root.Close() }

// check refuses what is no name of a plan in the folder itself.
func check(name string) error {
	switch {
	case name == "" || len(name) > 120:
		return &NameError{name, "a name has 1 to 120 characters"}
	case filepath.Base(name) != name || strings.ContainsAny(name, `/\`) || !fs.ValidPath(name):
		return &NameError{name, "a name has no path"}
	case strings.HasPrefix(name, "."):
		return &NameError{name, "a name does not begin with a point"}
	case strings.ContainsFunc(name, func(r rune) bool { return r < ' ' || r == 0x7f }):
		return &NameError{name, "a name has no control characters"}
	case !isPlan(name):
		return &NameError{name, "a plan's name ends in .yaml or .yml"}
	}
	return nil
}

func isPlan(name string) bool {
	end := strings.ToLower(filepath.Ext(name))
	return end == ".yaml" || end == ".yml"
}

// Entry is a plan of the list.
type Entry struct {
	Name     string
	Bytes    int64
	Modified time.Time
}

// List is the plans of the folder by name.
func (f *Folder) List() ([]Entry, error) {
	dir, err := f.root.Open(".")
	if err != nil {
		return nil, fmt.Errorf("listing plans: %w", err)
	}
	defer dir.Close()
	all, err := dir.ReadDir(-1)
	if err != nil {
		return nil, fmt.Errorf("listing plans: %w", err)
	}
	var list []Entry
	for _, e := range all {
		if check(e.Name()) != nil || e.Name() == Prices {
			continue
		}
		info, err := f.root.Stat(e.Name()) // a link that leads out of the folder is no plan of it
		if err != nil || !info.Mode().IsRegular() {
			continue
		}
		list = append(list, Entry{e.Name(), info.Size(), info.ModTime()})
	}
	slices.SortFunc(list, func(a, b Entry) int { return strings.Compare(a.Name, b.Name) })
	return list[:min(len(list), mostPlans)], nil
}

// Read reads a plan. Errors: a *NameError; fs.ErrNotExist; one larger than MostBytes.
func (f *Folder) Read(name string) (File, error) {
	if err := check(name); err != nil {
		return File{}, err
	}
	file, err := f.root.Open(name)
	if err != nil {
		return File{}, fmt.Errorf("reading plan %s: %w", name, plain(err))
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil || !info.Mode().IsRegular() {
		return File{}, &NameError{name, "is no file"}
	}
	text, err := io.ReadAll(io.LimitReader(file, MostBytes+1))
	if err != nil {
		return File{}, fmt.Errorf("reading plan %s: %w", name, plain(err))
	}
	if len(text) > MostBytes {
		return File{}, fmt.Errorf("reading plan %s: it is larger than %d bytes", name, MostBytes)
	}
	return File{name, text, RevisionOf(text), info.ModTime()}, nil
}

// Write replaces the text of a plan that still is at the revision it is given, "" for one that is not there yet. When it returns without an error the text is on the disk. Errors: a *NameError, a
// *ConflictError, or what the disk says; then the old text stands.
//
// Another program that writes the same file in the moment between look and replacement is not seen.
func (f *Folder) Write(name string, text []byte, was Revision) (File, error) {
	if err := check(name); err != nil {
		return File{}, err
	}
	if len(text) > MostBytes {
		return File{}, fmt.Errorf("writing plan %s: it has %d bytes, must have at most %d", name, len(text), MostBytes)
	}
	f.writing.Lock()
	defer f.writing.Unlock()
	disk, err := f.Read(name)
	switch {
	case errors.Is(err, fs.ErrNotExist) && was == "":
	case errors.Is(err, fs.ErrNotExist):
		return File{}, &ConflictError{Name: name, Disk: File{Name: name}}
	case err != nil:
		return File{}, err
	case disk.Revision == RevisionOf(text):
		return disk, nil // it is there already
	case disk.Revision != was:
		return File{}, &ConflictError{Name: name, Disk: disk}
	}
	if err := f.replace(name, text); err != nil {
		return File{}, fmt.Errorf("writing plan %s, which stays as it was: %w", name, plain(err))
	}
	return f.Read(name)
}

// replace puts a text in a file's place: a new file beside it, on the disk, then renamed over it.
func (f *Folder) replace(name string, text []byte) (err error) {
	mode := fs.FileMode(0o644)
	if info, err := f.root.Stat(name); err == nil {
		mode = info.Mode().Perm()
	}
	beside := "." + name + "." + rand.Text()[:8] + ".new"
	file, err := f.root.OpenFile(beside, os.O_CREATE|os.O_EXCL|os.O_WRONLY, mode)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.root.Remove(beside)
		}
	}()
	_, err = file.Write(text)
	err = errors.Join(err, file.Sync(), file.Close())
	if err != nil {
		return err
	}
	if err = f.root.Rename(beside, name); err != nil {
		return err
	}
	return f.sync()
}

// sync puts the folder itself on the disk; systems that cannot are left alone.
func (f *Folder) sync() error {
	dir, err := f.root.Open(".")
	if err != nil {
		return err
	}
	defer dir.Close()
	if err := dir.Sync(); err != nil && !errors.Is(err, errors.ErrUnsupported) && !errors.Is(err, fs.ErrInvalid) && !errors.Is(err, fs.ErrPermission) {
		return err
	}
	return nil
}

// plain leaves the system call and the path out of a file error.
func plain(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

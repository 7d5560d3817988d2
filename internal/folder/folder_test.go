package folder

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

func open(t *testing.T) (*Folder, string) {
	t.Helper()
	dir := t.TempDir()
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f, dir
}

func put(t *testing.T, dir, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// What is written is read, with a new revision; the file keeps its rights and nothing is left beside it.
func TestWriteAndRead(t *testing.T) {
	f, dir := open(t)
	put(t, dir, "pit.yaml", "one\n")
	first, err := f.Read("pit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	second, err := f.Write("pit.yaml", []byte("two\n"), first.Revision)
	if err != nil {
		t.Fatal(err)
	}
	got, err := f.Read("pit.yaml")
	if err != nil || string(got.Text) != "two\n" || got.Revision != second.Revision || got.Revision == first.Revision {
		t.Fatalf("read %q at %s, wrote two at %s after %s: %v", got.Text, got.Revision, second.Revision, first.Revision, err)
	}
	if info, err := os.Stat(filepath.Join(dir, "pit.yaml")); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("rights are %v, were 0600: %v", info.Mode(), err)
	}
	if all, _ := os.ReadDir(dir); len(all) != 1 {
		t.Errorf("%d files lie there, want the plan alone", len(all))
	}
}

// A plan that somebody changed or took away meanwhile is not written over, and what lies there is told.
func TestConflict(t *testing.T) {
	f, dir := open(t)
	put(t, dir, "pit.yaml", "one\n")
	was, _ := f.Read("pit.yaml")
	put(t, dir, "pit.yaml", "by hand\n")
	_, err := f.Write("pit.yaml", []byte("two\n"), was.Revision)
	var conflict *ConflictError
	if !errors.As(err, &conflict) || string(conflict.Disk.Text) != "by hand\n" {
		t.Fatalf("got %v, want a conflict that tells what lies there", err)
	}
	if _, err := f.Write("pit.yaml", []byte("two\n"), ""); !errors.As(err, &conflict) {
		t.Errorf("a new plan of a name that is taken: %v, want a conflict", err)
	}
	if _, err := f.Write("pit.yaml", []byte("two\n"), conflict.Disk.Revision); err != nil {
		t.Errorf("after the change was seen: %v", err)
	}
	os.Remove(filepath.Join(dir, "pit.yaml"))
	if _, err := f.Write("pit.yaml", []byte("three\n"), was.Revision); !errors.As(err, &conflict) || conflict.Disk.Text != nil {
		t.Errorf("a plan that is gone: %v, want a conflict without a text", err)
	}
}

// No name leads out of the folder, by path, by link, or to what is no plan.
func TestNames(t *testing.T) {
	f, dir := open(t)
	outside := filepath.Join(t.TempDir(), "secret.yaml")
	if err := os.WriteFile(outside, []byte("secret"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(dir, "link.yaml")); err != nil {
		t.Skip("no links here: ", err)
	}
	if err := os.Mkdir(filepath.Join(dir, "folder.yaml"), 0o755); err != nil {
		t.Fatal(err)
	}
	put(t, dir, "readme.txt", "no plan")
	for _, name := range []string{"", ".", "..", "../secret.yaml", "/etc/passwd", outside, "a/b.yaml", `a\b.yaml`, ".hidden.yaml", "readme.txt", "link.yaml", "folder.yaml", "a\x00.yaml", "a\n.yaml",
		strings.Repeat("a", 200) + ".yaml"} {
		if file, err := f.Read(name); err == nil {
			t.Errorf("%q was read: %q", name, file.Text)
		}
		if _, err := f.Write(name, []byte("mine"), ""); err == nil {
			t.Errorf("%q was written", name)
		}
	}
	if text, _ := os.ReadFile(outside); string(text) != "secret" {
		t.Errorf("what lies outside reads %q", text)
	}
	if list, err := f.List(); err != nil || len(list) != 0 {
		t.Errorf("the list is %v, want none: %v", list, err)
	}
}

// Of many who write at once from the same revision one wins, the others are told; the text is always one of theirs, whole.
func TestManyWriteAtOnce(t *testing.T) {
	f, dir := open(t)
	put(t, dir, "pit.yaml", "start")
	was, _ := f.Read("pit.yaml")
	var won, lost int
	var count sync.Mutex
	var all sync.WaitGroup
	for i := range 16 {
		all.Go(func() {
			_, err := f.Write("pit.yaml", bytes.Repeat([]byte{byte('a' + i)}, 4096), was.Revision)
			count.Lock()
			defer count.Unlock()
			var conflict *ConflictError
			switch {
			case err == nil:
				won++
			case errors.As(err, &conflict):
				lost++
			default:
				t.Error(err)
			}
		})
	}
	all.Wait()
	got, err := f.Read("pit.yaml")
	if err != nil || won != 1 || lost != 15 || !bytes.Equal(got.Text, bytes.Repeat(got.Text[:1], 4096)) {
		t.Errorf("%d won, %d were told, the text begins %.8q: %v", won, lost, got.Text, err)
	}
}

// What cannot be written leaves the plan as it was and nothing beside it.
func TestDiskThatRefuses(t *testing.T) {
	f, dir := open(t)
	put(t, dir, "pit.yaml", "one\n")
	was, _ := f.Read("pit.yaml")
	if _, err := f.Write("pit.yaml", make([]byte, MostBytes+1), was.Revision); err == nil {
		t.Error("a plan of more than a megabyte was written")
	}
	if os.Getuid() != 0 { // root writes wherever it likes
		os.Chmod(dir, 0o500)
		defer os.Chmod(dir, 0o700)
		if _, err := f.Write("pit.yaml", []byte("two\n"), was.Revision); err == nil || errors.Is(err, fs.ErrNotExist) {
			t.Errorf("a folder that may not be written: %v", err)
		}
	}
	if got, err := f.Read("pit.yaml"); err != nil || string(got.Text) != "one\n" {
		t.Errorf("the plan reads %q, want it as it was: %v", got.Text, err)
	}
}

func TestList(t *testing.T) {
	f, dir := open(t)
	for i := range 3 {
		put(t, dir, fmt.Sprintf("p%d.yaml", 2-i), "x")
	}
	put(t, dir, Prices, "x") // no plan
	list, err := f.List()
	if err != nil || len(list) != 3 || list[0].Name != "p0.yaml" || list[2].Name != "p2.yaml" || list[0].Bytes != 1 {
		t.Errorf("list %v: %v", list, err)
	}
}

package folder

import (
	"bytes"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// On a disk that is full a plan stays as it was, nothing is left beside it, and what did not fit is told; when there is room again it is written.
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=64k"); err != nil {
		t.Skip("a small disk cannot be mounted here: ", err)
	}
	defer syscall.Unmount(dir, 0)
	f, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	put(t, dir, "pit.yaml", "one\n")
	was, err := f.Read("pit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	filler := filepath.Join(dir, "filler")
	if err := os.WriteFile(filler, make([]byte, 40<<10), 0o644); err != nil {
		t.Fatal(err)
	}
	large := bytes.Repeat([]byte("x"), 32<<10)
	if _, err := f.Write("pit.yaml", large, was.Revision); err == nil {
		t.Fatal("it was written though there is no room")
	}
	if got, err := f.Read("pit.yaml"); err != nil || string(got.Text) != "one\n" {
		t.Errorf("the plan reads %.10q, want it as it was: %v", got.Text, err)
	}
	if all, _ := os.ReadDir(dir); len(all) != 2 {
		t.Errorf("%d files lie there, want the plan and the filler", len(all))
	}
	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	if _, err := f.Write("pit.yaml", large, was.Revision); err != nil {
		t.Errorf("with room again: %v", err)
	}
}

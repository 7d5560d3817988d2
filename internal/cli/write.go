package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// file is a file to be written.
type file struct {
	name  string
	write func(*bytes.Buffer) error
}

// writeFiles makes a folder and writes files into it, each whole or not at all.
func writeFiles(dir string, files []file) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("making the folder: %w", plainPath(err))
	}
	for _, f := range files {
		var b bytes.Buffer
		if err := f.write(&b); err != nil {
			return fmt.Errorf("%s: %w", f.name, err)
		}
		if err := writeWhole(filepath.Join(dir, f.name), b.Bytes()); err != nil {
			return err
		}
	}
	return nil
}

// writeWhole writes a file beside its place and moves it there, so that a half-written one is never found.
func writeWhole(path string, content []byte) (err error) {
	t, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return fmt.Errorf("writing: %w", plainPath(err))
	}
	defer func() {
		if err != nil {
			os.Remove(t.Name())
			err = fmt.Errorf("writing %s: %w", path, plainPath(err))
		}
	}()
	_, err = t.Write(content)
	err = errors.Join(err, t.Sync(), t.Chmod(0o644), t.Close())
	if err != nil {
		return err
	}
	return os.Rename(t.Name(), path)
}

// newFolder makes a folder that was not there: name, else name-2, name-3 and so on.
func newFolder(name string) (string, error) {
	for n := 1; n < 1000; n++ {
		dir := name
		if n > 1 {
			dir = fmt.Sprintf("%s-%d", name, n)
		}
		err := os.Mkdir(dir, 0o755)
		if err == nil {
			return dir, nil
		}
		if !errors.Is(err, fs.ErrExist) {
			return "", fmt.Errorf("making a folder: %w", plainPath(err))
		}
	}
	return "", fmt.Errorf("making a folder: %s to %s-999 are all there; name another", name, name)
}

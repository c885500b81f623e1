package farend

import (
	"context"
	"crypto/rand"
	"errors"
	"io/fs"
	"os"
	"path"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/publish"
	"asleft/generator/rooted"
)

// unfinished is how names of files begin that are not whole yet, in publish.Folder.
const unfinished = publish.Folder + "/new-"

// unfinishedName is a name that no other run has.
func unfinishedName() string { return unfinished + rand.Text() }

// put is Put of a far end that holds files back.
func put(ctx context.Context, end publish.Drafter, name string, data []byte) error {
	draft, err := end.Draft(ctx, name, data)
	if err != nil {
		return err
	}
	return end.Place(ctx, draft, name)
}

// take makes what only one of several can make, where a server's refusal does not say
// why. Whoever is refused for one that is not there when it is looked for met another who
// let go in that moment, and tries again; where it is never there, nobody may make it.
func take(try func() (refused bool, err error), there func() bool) error {
	for tried := 1; ; tried++ {
		refused, err := try()
		switch {
		case !refused:
			return err
		case there():
			return fs.ErrExist
		case tried == 4:
			return err
		}
	}
}

// folder is a far end in a file system: a stick, a share, a folder of another program.
type folder struct {
	fsys afero.Fs
	done func() error
}

// Folder is a far end in a file system; done is called when it is closed.
func Folder(fsys afero.Fs, done func() error) publish.FarEnd { return folder{fsys, done} }

func (f folder) Traits() publish.Traits { return publish.Traits{AtOnce: 4} }

func (f folder) Read(_ context.Context, name string, most int64) ([]byte, error) {
	data, err := rooted.ReadFile(f.fsys, name, most)
	switch {
	case errors.Is(err, rooted.ErrNoFile):
		err = publish.NewFault(err, "publish.in-the-way", "file", name)
	case errors.Is(err, rooted.ErrTooLarge):
		err = publish.NewFault(err, "publish.too-large", "file", name)
	}
	return data, folderFault(err, name)
}

func infoOf(info fs.FileInfo) publish.Info {
	if !info.Mode().IsRegular() {
		return publish.Info{Size: -1}
	}
	return publish.Info{Size: info.Size(), Changed: info.ModTime()}
}

func (f folder) Stat(_ context.Context, names []string) (map[string]publish.Info, error) {
	there := map[string]publish.Info{}
	for _, name := range names {
		info, err := rooted.Lstat(f.fsys, name)
		switch {
		case err == nil:
			there[name] = infoOf(info)
		case !missing(err):
			return nil, folderFault(err, name)
		}
	}
	return there, nil
}

// missing tells whether a file is not there, or cannot be since what should be a
// folder above it is a file.
func missing(err error) bool { return errors.Is(err, fs.ErrNotExist) || isNotFolder(err) }

func (f folder) List(ctx context.Context) (map[string]publish.Info, error) {
	all, err := listTree(ctx, f.Traits().AtOnce, func(dir string) ([]fs.FileInfo, error) { return afero.ReadDir(f.fsys, dir) })
	return all, folderFault(err, ".")
}

func (f folder) MakeFolders(_ context.Context, dirs []string) error {
	for _, dir := range dirs {
		if err := f.fsys.MkdirAll(dir, 0o755); err != nil {
			return folderFault(err, dir)
		}
	}
	return nil
}

func (f folder) Put(ctx context.Context, name string, data []byte) error {
	return put(ctx, f, name, data)
}

func (f folder) Draft(_ context.Context, name string, data []byte) (string, error) {
	draft := unfinishedName()
	err := f.write(draft, data, 0)
	if err != nil {
		_ = f.fsys.Remove(draft) // what failed first is what is told
	}
	return draft, folderFault(err, name)
}

func (f folder) Place(_ context.Context, draft, name string) (err error) {
	if strings.HasPrefix(name, publish.Folder+"/") {
		err = f.flush() // before the manifest says that it is there
	}
	if err == nil {
		err = f.fsys.Rename(draft, name)
		if errors.Is(err, fs.ErrNotExist) {
			if err = f.fsys.MkdirAll(path.Dir(name), 0o755); err == nil {
				err = f.fsys.Rename(draft, name)
			}
		}
	}
	if err != nil {
		_ = f.fsys.Remove(draft) // what failed first is what is told
	}
	return folderFault(err, name)
}

// write writes a file; excl where it must not be there yet.
func (f folder) write(name string, data []byte, excl int) error {
	const flags = os.O_WRONLY | os.O_CREATE | os.O_TRUNC
	file, err := f.fsys.OpenFile(name, flags|excl, 0o644)
	if errors.Is(err, fs.ErrNotExist) {
		if err := f.fsys.MkdirAll(path.Dir(name), 0o755); err != nil {
			return err
		}
		file, err = f.fsys.OpenFile(name, flags|excl, 0o644)
	}
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	return errors.Join(err, file.Close())
}

func (f folder) Create(_ context.Context, name string, data []byte) error {
	return folderFault(f.write(name, data, os.O_EXCL), name)
}

func (f folder) Remove(_ context.Context, name string) error {
	err := f.fsys.Remove(name)
	if err != nil && !missing(err) {
		return folderFault(err, name)
	}
	for dir := path.Dir(name); dir != "." && dir != publish.Folder; dir = path.Dir(dir) {
		// Where it is not empty, or another run has just removed it, it stays as it is.
		if infos, e := afero.ReadDir(f.fsys, dir); e != nil || len(infos) > 0 || f.fsys.Remove(dir) != nil {
			break
		}
	}
	return folderFault(err, name)
}

func (f folder) Tidy(context.Context) error {
	infos, err := afero.ReadDir(f.fsys, publish.Folder)
	if err != nil {
		return folderFault(err, publish.Folder)
	}
	for _, info := range infos {
		if name := path.Join(publish.Folder, info.Name()); strings.HasPrefix(name, unfinished) {
			if err := f.fsys.Remove(name); err != nil && !missing(err) {
				return folderFault(err, name)
			}
		}
	}
	return nil
}

// flush has the disk hold what was written: a stick is pulled out when the program
// says that it is done.
func (f folder) flush() error {
	flusher, ok := f.fsys.(rooted.Flusher)
	if !ok {
		return nil
	}
	if err := flusher.Flush(); !errors.Is(err, errors.ErrUnsupported) {
		return err
	}
	return nil
}

func (f folder) Close() error {
	err := folderFault(f.flush(), publish.Folder)
	if f.done != nil {
		err = errors.Join(err, f.done())
	}
	return err
}

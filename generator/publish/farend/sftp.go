package farend

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"io"
	"io/fs"
	"net/url"
	"os"
	"path"
	"strings"
	"sync"
	"sync/atomic"

	"github.com/pkg/sftp"
	"golang.org/x/crypto/ssh"
	"golang.org/x/sync/errgroup"

	"asleft/generator/publish"
)

// How many calls go on at a time over one connection. Each waits for the line; the
// more there are, the less that costs, up to where the server is busy.
const (
	sftpPuts  = 256
	sftpStats = 512
	sftpLists = 32
)

// onePacket is what goes in one write of the protocol.
const onePacket = 32 << 10

// An sftpEnd is a folder on a server with SSH.
type sftpEnd struct {
	line    *ssh.Client
	client  *sftp.Client
	address string
	root    string
	replace bool // the server can rename onto a file
	missing bool // the root was not there at first

	busy  atomic.Int64 // drafts on their way
	mu    sync.Mutex
	lanes []*sftp.Client // more of them over the same line, once there is much to bring
	wide  sync.Once
	next  atomic.Int64
}

func openSFTP(ctx context.Context, at *url.URL, o Options) (publish.FarEnd, error) {
	line, err := openSSH(ctx, at, o)
	if err != nil {
		return nil, err
	}
	client, err := startSFTP(line)
	if err != nil {
		_ = line.Close()
		return nil, publish.NewFault(err, "publish.no-sftp", "host", at.Host, "said", err)
	}
	s := &sftpEnd{line: line, client: client, address: at.Host, root: at.Path}
	_, s.replace = client.HasExtension("posix-rename@openssh.com")
	if rest, ok := strings.CutPrefix(s.root+"/", "/~/"); ok {
		s.root = rest // a path without a slash begins in the user's folder
	}
	s.root = path.Clean(s.root)
	if err := s.checkRoot(); err != nil {
		_ = s.Close() // what failed first is what is told
		return nil, err
	}
	return s, nil
}

// startSFTP asks the server for SFTP and begins to speak it, without waiting for the
// answer in between.
func startSFTP(line *ssh.Client) (*sftp.Client, error) {
	channel, requests, err := line.OpenChannel("session", nil)
	if err != nil {
		return nil, err
	}
	go ssh.DiscardRequests(requests)
	asked := make(chan error, 1)
	go func() {
		taken, err := channel.SendRequest("subsystem", true, ssh.Marshal(struct{ Name string }{"sftp"}))
		if err == nil && !taken {
			err = errNoSFTP
		}
		if err != nil {
			_ = channel.Close() // or the other half would wait for ever
		}
		asked <- err
	}()
	client, err := sftp.NewClientPipe(channel, channel, sftp.UseConcurrentWrites(true))
	if err != nil {
		_ = channel.Close() // what failed first is what is told
		return nil, cmp.Or(<-asked, err)
	}
	if err := <-asked; err != nil { // the answer came before the other half's
		_ = client.Close()
		return nil, err
	}
	return client, nil
}

var errNoSFTP = errors.New("the server does not know it")

// checkRoot looks whether the folder is there, or the one that it is to be made in: a
// site in a folder of a mistyped name is seen by nobody.
func (s *sftpEnd) checkRoot() error {
	for _, dir := range []string{s.root, path.Dir(s.root)} {
		info, err := s.client.Stat(dir)
		switch {
		case err == nil && !info.IsDir():
			return publish.NewFault(nil, "publish.in-the-way", "file", dir)
		case err == nil:
			s.missing = dir != s.root
			return nil
		case !errors.Is(err, fs.ErrNotExist):
			return s.fault(err, dir)
		}
	}
	return publish.NewFault(nil, "publish.no-folder", "dir", s.root)
}

func (s *sftpEnd) at(name string) string { return path.Join(s.root, name) }

func (s *sftpEnd) Traits() publish.Traits {
	return publish.Traits{AtOnce: sftpPuts, NoReplace: !s.replace}
}

func (s *sftpEnd) Read(_ context.Context, name string, most int64) (data []byte, err error) {
	file, err := s.client.Open(s.at(name))
	if err != nil {
		return nil, s.fault(err, name)
	}
	defer func() { go func() { _ = file.Close() }() }() // it was read; nobody needs to wait for the answer
	// Of the ways to read, WriteTo asks for several pieces at once.
	into := &bounded{most: most}
	if _, err = file.WriteTo(into); errors.Is(err, errTooLarge) {
		return nil, publish.NewFault(err, "publish.too-large", "file", name)
	}
	return into.Bytes(), s.fault(err, name)
}

var errTooLarge = errors.New("too large")

// A bounded buffer takes so many bytes at most.
type bounded struct {
	bytes.Buffer
	most int64
}

func (b *bounded) Write(p []byte) (int, error) {
	if int64(b.Len()+len(p)) > b.most {
		return 0, errTooLarge
	}
	return b.Buffer.Write(p)
}

func (s *sftpEnd) Stat(ctx context.Context, names []string) (map[string]publish.Info, error) {
	there := map[string]publish.Info{}
	var mu sync.Mutex
	err := inParallel(ctx, names, sftpStats, func(name string) error {
		info, err := s.client.Lstat(s.at(name))
		if errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		if err != nil {
			return s.fault(err, name)
		}
		mu.Lock()
		defer mu.Unlock()
		there[name] = infoOf(info)
		return nil
	})
	return there, err
}

// inParallel calls do for each name, so many at a time.
func inParallel(ctx context.Context, names []string, atOnce int, do func(name string) error) error {
	work, working := errgroup.WithContext(ctx)
	work.SetLimit(atOnce)
	for _, name := range names {
		if working.Err() != nil {
			break
		}
		work.Go(func() error { return do(name) })
	}
	if err := work.Wait(); err != nil {
		return err
	}
	return ctx.Err()
}

func (s *sftpEnd) List(ctx context.Context) (map[string]publish.Info, error) {
	return listTree(ctx, sftpLists, func(dir string) ([]fs.FileInfo, error) {
		infos, err := s.client.ReadDirContext(ctx, s.at(dir))
		if errors.Is(err, fs.ErrNotExist) {
			return nil, nil // the root is made later, or somebody removed the folder just now
		}
		return infos, s.fault(err, dir)
	})
}

// mostListed is how many files and folders of a far end are looked through: twice as many
// as a manifest has room for. longestPath is more than any server can have. A listing
// that goes round in circles would fill the memory.
const (
	mostListed  = 1_000_000
	longestPath = 4096
)

// listTree walks the folders of a far end, many at a time.
func listTree(ctx context.Context, atOnce int, read func(dir string) ([]fs.FileInfo, error)) (map[string]publish.Info, error) {
	all := map[string]publish.Info{}
	var mu sync.Mutex
	listed := 0
	for level := []string{"."}; len(level) > 0; {
		var below []string
		err := inParallel(ctx, level, atOnce, func(dir string) error {
			infos, err := read(dir)
			mu.Lock()
			defer mu.Unlock()
			if listed += len(infos); listed > mostListed || len(dir) > longestPath {
				return publish.NewFault(nil, "publish.too-many")
			}
			for _, info := range infos {
				name := path.Join(dir, info.Name())
				switch {
				case name == publish.Folder:
				case info.IsDir():
					below = append(below, name)
				default:
					all[name] = infoOf(info)
				}
			}
			return err
		})
		if err != nil {
			return nil, err
		}
		level = below
	}
	return all, nil
}

// MakeFolders makes those of one depth at a time, all together. That one is there
// already looks like any other failure; if it is none, the files say so.
func (s *sftpEnd) MakeFolders(ctx context.Context, dirs []string) error {
	return byDepth(dirs, func(level []string) error {
		return inParallel(ctx, level, sftpPuts, func(dir string) error {
			err := s.client.Mkdir(s.at(dir))
			switch {
			case isFailure(err):
				return nil
			case errors.Is(err, fs.ErrNotExist): // what is above it was just made, or is a file
				return publish.NewFault(err, "publish.in-the-way", "file", path.Dir(dir))
			}
			return s.fault(err, dir)
		})
	})
}

// byDepth calls do with the folders of each depth, the highest first.
func byDepth(dirs []string, do func(level []string) error) error {
	levels := map[int][]string{}
	for _, dir := range dirs {
		n := strings.Count(dir, "/")
		levels[n] = append(levels[n], dir)
	}
	for n := 0; len(levels) > 0; n++ {
		if err := do(levels[n]); err != nil {
			return err
		}
		delete(levels, n)
	}
	return nil
}

func isFailure(err error) bool {
	var status *sftp.StatusError
	return errors.As(err, &status) && errors.Is(status.FxCode(), sftp.ErrSSHFxFailure)
}

func (s *sftpEnd) Put(ctx context.Context, name string, data []byte) error {
	return put(ctx, s, name, data)
}

// A server takes only so many bytes of one channel at a time, which on a long line is
// less than the line carries. With a crowd on it more channels are opened, on the same
// line, so nobody has to log in again; a server that gives none is fed through the one.
const (
	crowd     = 64
	moreLanes = 3
)

// lane is the channel that a draft goes through.
func (s *sftpEnd) lane() *sftp.Client {
	if s.busy.Load() >= crowd {
		s.wide.Do(func() {
			for range moreLanes {
				go func() {
					if client, err := startSFTP(s.line); err == nil {
						s.mu.Lock()
						defer s.mu.Unlock()
						s.lanes = append(s.lanes, client)
					}
				}()
			}
		})
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if n := s.next.Add(1) % int64(len(s.lanes)+1); n > 0 {
		return s.lanes[n-1]
	}
	return s.client
}

func (s *sftpEnd) Draft(_ context.Context, name string, data []byte) (string, error) {
	s.busy.Add(1)
	defer s.busy.Add(-1)
	draft := unfinishedName()
	file, err := s.write(s.lane(), s.at(draft), data)
	if err == nil {
		err = s.finish(file, len(data))
	}
	if err != nil {
		_ = s.client.Remove(s.at(draft)) // what failed first is what is told
	}
	return draft, s.fault(err, name)
}

func (s *sftpEnd) Place(_ context.Context, draft, name string) error {
	from, to := s.at(draft), s.at(name)
	err := s.rename(from, to)
	if errors.Is(err, fs.ErrNotExist) {
		if err = s.client.MkdirAll(path.Dir(to)); err == nil {
			err = s.rename(from, to)
		} else if isNotFolder(err) || errors.Is(err, fs.ErrNotExist) {
			err = publish.NewFault(err, "publish.in-the-way", "file", path.Dir(name))
		}
	}
	if err != nil {
		_ = s.client.Remove(from) // what failed first is what is told
	}
	return s.fault(err, name)
}

func (s *sftpEnd) rename(from, to string) error {
	if s.replace {
		return s.client.PosixRename(from, to)
	}
	// The protocol's own rename wants nobody there: for a moment, nobody is.
	if err := s.client.Remove(to); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return s.client.Rename(from, to)
}

// write writes a file that is not there yet. It is given back open.
func (s *sftpEnd) write(client *sftp.Client, name string, data []byte) (*sftp.File, error) {
	const flags = os.O_WRONLY | os.O_CREATE | os.O_EXCL
	file, err := client.OpenFile(name, flags)
	if errors.Is(err, fs.ErrNotExist) {
		if err := client.MkdirAll(path.Dir(name)); err != nil {
			return nil, err
		}
		file, err = client.OpenFile(name, flags)
	}
	if err != nil {
		return nil, err
	}
	n, err := file.Write(data)
	if err == nil && n < len(data) {
		err = io.ErrShortWrite
	}
	if isFailure(err) {
		err = s.writeFailure(err, name)
	}
	if err != nil {
		_ = file.Close() // what failed first is what is told
	}
	return file, err
}

// finish closes a file and makes sure that the server has all of it. What went in several
// packets is counted there, while it is closed: a session that ends badly has been seen to
// say nothing of the rest. What went in one was answered.
func (s *sftpEnd) finish(file *sftp.File, size int) error {
	if size <= onePacket {
		return file.Close()
	}
	closed := make(chan error, 1)
	go func() { closed <- file.Close() }()
	info, err := s.client.Lstat(file.Name())
	if err == nil && info.Size() != int64(size) {
		err = io.ErrShortWrite
	}
	return cmp.Or(err, <-closed)
}

func (s *sftpEnd) Create(_ context.Context, name string, data []byte) error {
	err := take(func() (bool, error) {
		file, err := s.write(s.client, s.at(name), data)
		if err == nil {
			go func() { _ = file.Close() }() // who has the lock is read afterwards
		}
		return isFailure(err), err
	}, func() bool {
		_, err := s.client.Lstat(s.at(name))
		return err == nil
	})
	return s.fault(err, name)
}

func (s *sftpEnd) Remove(_ context.Context, name string) error {
	err := s.client.Remove(s.at(name))
	for dir := path.Dir(name); err == nil && dir != "." && dir != publish.Folder; dir = path.Dir(dir) {
		if s.client.RemoveDirectory(s.at(dir)) != nil { // the server keeps one that is not empty
			break
		}
	}
	return s.fault(err, name)
}

func (s *sftpEnd) Tidy(ctx context.Context) error {
	infos, err := s.client.ReadDir(s.at(publish.Folder))
	if err != nil {
		return s.fault(err, publish.Folder)
	}
	var left []string
	for _, info := range infos {
		if name := path.Join(publish.Folder, info.Name()); strings.HasPrefix(name, unfinished) {
			left = append(left, name)
		}
	}
	return inParallel(ctx, left, sftpPuts, func(name string) error {
		if err := s.client.Remove(s.at(name)); !errors.Is(err, fs.ErrNotExist) {
			return s.fault(err, name)
		}
		return nil
	})
}

func (s *sftpEnd) Close() error {
	// The line first: the library would wait for the server to end the session. What was
	// brought was answered by then.
	_ = s.line.Close()
	_ = s.client.Close()
	return nil
}

// fault words what the server said. It calls most of what can happen "failure", and is
// asked what it was.
func (s *sftpEnd) fault(err error, name string) error {
	var known *publish.Fault
	switch {
	case errors.As(err, &known):
		return known
	case err == nil || errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrExist):
		return err
	case errors.Is(err, fs.ErrPermission):
		if s.readOnly() {
			return publish.NewFault(err, "publish.read-only")
		}
		if s.missing && strings.HasPrefix(name, publish.Folder) { // it could not be made
			return publish.NewFault(err, "publish.no-folder", "dir", s.root)
		}
		return publish.NewFault(err, "publish.no-right", "file", s.at(name))
	case isFailure(err):
		return s.failure(err, name)
	}
	return lostFault(err, s.address)
}

// lostFault words the end of a line in the middle of the work.
func lostFault(err error, address string) error {
	return publish.NewFault(err, "publish.line-lost", "host", address).OfLine()
}

func (s *sftpEnd) readOnly() bool {
	const readOnly = 1 // of statvfs, as OpenSSH's extension has it
	disk, err := s.client.StatVFS(s.root)
	return err == nil && disk.Flag&readOnly != 0
}

// full tells whether the disk there has no room for one packet more.
func (s *sftpEnd) full() bool {
	disk, err := s.client.StatVFS(s.root)
	return err == nil && (disk.Bavail*disk.Frsize < onePacket || disk.Files > 0 && disk.Favail == 0)
}

// writeFailure words the failure of a write. The file could be opened, so it is hardly
// anything but the disk, or a quota that the server does not tell of. Other files that
// failed may have made room again by now.
func (s *sftpEnd) writeFailure(err error, name string) error {
	if s.full() {
		return publish.NewFault(err, "publish.disk-full")
	}
	return publish.NewFault(err, "publish.no-room", "file", name)
}

func (s *sftpEnd) failure(err error, name string) error {
	switch {
	case s.readOnly():
		return publish.NewFault(err, "publish.read-only")
	case s.full():
		return publish.NewFault(err, "publish.disk-full")
	}
	if info, e := s.client.Lstat(s.at(name)); e == nil && !info.Mode().IsRegular() {
		return publish.NewFault(err, "publish.in-the-way", "file", name)
	}
	return publish.NewFault(err, "publish.failed", "file", name, "said", err)
}

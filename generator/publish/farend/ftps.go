package farend

import (
	"bytes"
	"cmp"
	"context"
	"crypto/tls"
	"errors"
	"io"
	"io/fs"
	"net"
	"net/textproto"
	"net/url"
	"path"
	"strings"
	"sync"
	"time"

	"github.com/jlaffaye/ftp"

	"asleft/generator/publish"
)

// ftpLines is how many connections are used at a time. FTP does one thing at a time
// on each, so this is all that helps.
const ftpLines = 8

// An ftpEnd is a folder on a server with FTP under TLS.
type ftpEnd struct {
	address, user, password string
	root                    string
	missing                 bool // the root was not there at first
	o                       Options
	trust                   *tls.Config

	slots chan struct{} // one for each connection that may be in use
	mu    sync.Mutex
	idle  []idleConn
	all   map[*ftp.ServerConn]bool
	// before: this password was taken before, so it is no longer what is wrong.
	before bool
	full   bool // the server has refused one more
}

// An idleConn is a connection that nothing is done on, and since when.
type idleConn struct {
	*ftp.ServerConn
	since time.Time
}

// idleFor is how long a connection may have been idle and is taken for open without being
// asked: some servers close them after a few seconds, and an upload on one that is closed
// looks like a line that broke.
const idleFor = 2 * time.Second

func openFTPS(ctx context.Context, at *url.URL, o Options) (publish.FarEnd, error) {
	f := &ftpEnd{address: port(at, "21"), user: at.User.Username(), root: path.Clean(at.Path), o: o, trust: certificates(o, at.Hostname()),
		slots: make(chan struct{}, ftpLines), all: map[*ftp.ServerConn]bool{}}
	if rest, ok := strings.CutPrefix(at.Path+"/", "/~/"); ok {
		f.root = path.Clean(rest)
	}
	if f.user == "" {
		f.user = "anonymous"
	}
	for try := 0; ; try++ {
		conn, err := f.greet(ctx)
		if err != nil {
			return nil, err
		}
		begun := time.Now()
		if f.password, err = o.secret(ctx, Secret{Password, f.user + "@" + at.Host, try}); err != nil {
			_ = conn.Quit()
			return nil, err
		}
		if time.Since(begun) > o.quiet() { // servers do not wait for long for somebody who thinks
			_ = conn.Quit()
			if conn, err = f.dial(ctx); err != nil {
				return nil, err
			}
		}
		if err = f.login(conn); err == nil {
			f.idle = append(f.idle, idleConn{conn, time.Now()})
			return f, f.checkRoot(ctx)
		}
		if !publish.IsFault(err, "publish.password") || try+1 == tries {
			return nil, err
		}
	}
}

// greet opens a connection and has the server show its certificate: nobody is asked for a
// password for a server that is not to have it. The library leaves that to the first thing
// that it sends, and a server that refuses this one has shown it too.
func (f *ftpEnd) greet(ctx context.Context) (*ftp.ServerConn, error) {
	conn, err := f.dial(ctx)
	if err != nil {
		return nil, err
	}
	if err := conn.NoOp(); err != nil && code(err) == 0 {
		_ = conn.Quit()
		return nil, f.fault(err, "")
	}
	return conn, nil
}

// connect opens one more connection and logs in.
func (f *ftpEnd) connect(ctx context.Context) (*ftp.ServerConn, error) {
	conn, err := f.dial(ctx)
	if err != nil {
		return nil, err
	}
	if err := f.login(conn); err != nil {
		return nil, err
	}
	return conn, nil
}

func (f *ftpEnd) dial(ctx context.Context) (*ftp.ServerConn, error) {
	config := f.trust.Clone()
	// Under TLS 1.3 servers send tickets after the handshake; a data line that is closed
	// with those unread is reset, and the upload cut short.
	config.MaxVersion = tls.VersionTLS12
	// Servers want the session of the control line resumed on each data line. Each
	// connection has a cache of its own: shared ones have been seen to mix them up.
	config.ClientSessionCache = tls.NewLRUClientSessionCache(8)
	first := true
	lasting := context.WithoutCancel(ctx) // the connection outlives the call that it was made for
	conn, err := ftp.Dial(f.address, ftp.DialWithExplicitTLS(config), ftp.DialWithForceListHidden(true), ftp.DialWithDialFunc(func(_, address string) (net.Conn, error) {
		line, err := f.o.dial(lasting, address)
		if err != nil || first { // the library puts TLS onto the control line alone
			first = false
			return line, err
		}
		return tls.Client(line, config), nil
	}))
	if err != nil {
		return nil, f.fault(err, "")
	}
	return conn, nil
}

func (f *ftpEnd) login(conn *ftp.ServerConn) error {
	if err := conn.Login(f.user, f.password); err != nil {
		_ = conn.Quit()
		f.mu.Lock()
		before := f.before
		f.mu.Unlock()
		switch {
		case code(err) == ftp.StatusNotLoggedIn && before: // some say that of too many connections
			return f.fault(&textproto.Error{Code: ftp.StatusNotAvailable, Msg: err.Error()}, "")
		case code(err) == ftp.StatusNotLoggedIn:
			return publish.NewFault(err, "publish.password", "of", f.user+"@"+f.address)
		}
		return f.fault(err, "")
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	f.all[conn], f.before = true, true
	return nil
}

// on does something on a connection of its own. A connection on which anything but a
// refusal came is given up.
func (f *ftpEnd) on(ctx context.Context, name string, do func(c *ftp.ServerConn) error) error {
	select {
	case f.slots <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	defer func() { <-f.slots }()
	conn := f.takeIdle()
	for conn == nil {
		var err error
		if !f.crowded() {
			if conn, err = f.connect(ctx); err == nil {
				break
			}
			if code(err) != ftp.StatusNotAvailable {
				return err
			}
			f.mu.Lock()
			f.full = true
			f.mu.Unlock()
		}
		if !f.waitIdle(ctx) && cmp.Or(err, ctx.Err()) != nil {
			return cmp.Or(err, ctx.Err())
		}
		conn = f.takeIdle()
	}
	err := do(conn)
	if code(err) == ftp.StatusNotAvailable || err != nil && code(err) == 0 && !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, fs.ErrExist) {
		f.forget(conn)
	} else {
		f.mu.Lock()
		f.idle = append(f.idle, idleConn{conn, time.Now()})
		f.mu.Unlock()
	}
	return f.fault(err, name)
}

// takeIdle is an idle connection that is open still; nil for none.
func (f *ftpEnd) takeIdle() *ftp.ServerConn {
	for {
		f.mu.Lock()
		last := len(f.idle) - 1
		if last < 0 {
			f.mu.Unlock()
			return nil
		}
		conn := f.idle[last]
		f.idle = f.idle[:last]
		f.mu.Unlock()
		if time.Since(conn.since) < idleFor || conn.NoOp() == nil {
			return conn.ServerConn
		}
		f.forget(conn.ServerConn)
	}
}

// waitIdle waits until one of the connections that there are may be free; false where
// there is none.
func (f *ftpEnd) waitIdle(ctx context.Context) bool {
	f.mu.Lock()
	some := len(f.all) > 0
	f.mu.Unlock()
	select {
	case <-ctx.Done():
		return false
	case <-time.After(50 * time.Millisecond):
		return some
	}
}

// crowded tells whether the server has refused one more connection than there are. It
// gets no more: some shut out whoever tries for long.
func (f *ftpEnd) crowded() bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.full && len(f.all) > 0
}

func (f *ftpEnd) forget(conn *ftp.ServerConn) {
	f.mu.Lock()
	delete(f.all, conn)
	f.mu.Unlock()
	_ = conn.Quit() // it is of no use any more
}

func (f *ftpEnd) at(name string) string { return path.Join(f.root, name) }

func (f *ftpEnd) checkRoot(ctx context.Context) error {
	return f.on(ctx, "", func(c *ftp.ServerConn) error {
		was, err := c.CurrentDir()
		if err != nil {
			return err
		}
		if !path.IsAbs(f.root) { // or it would mean another folder wherever a connection has gone since
			f.root = path.Join(was, f.root)
		}
		for _, dir := range []string{f.root, path.Dir(f.root)} {
			if err = c.ChangeDir(dir); err == nil {
				f.missing = dir != f.root
				return c.ChangeDir(was)
			}
		}
		if code(err) == ftp.StatusFileUnavailable {
			return publish.NewFault(err, "publish.no-folder", "dir", f.root)
		}
		return err
	})
}

func (f *ftpEnd) Traits() publish.Traits { return publish.Traits{AtOnce: ftpLines, DearStat: true} }

func (f *ftpEnd) Read(ctx context.Context, name string, most int64) (data []byte, err error) {
	err = f.on(ctx, name, func(c *ftp.ServerConn) error {
		r, err := c.Retr(f.at(name))
		if code(err) == ftp.StatusFileUnavailable {
			return fs.ErrNotExist
		}
		if err != nil {
			return err
		}
		data, err = io.ReadAll(io.LimitReader(r, most+1))
		err = errors.Join(err, r.Close())
		if int64(len(data)) > most {
			return publish.NewFault(err, "publish.too-large", "file", name)
		}
		return err
	})
	return data, err
}

func (f *ftpEnd) Stat(ctx context.Context, names []string) (map[string]publish.Info, error) {
	there := map[string]publish.Info{}
	var mu sync.Mutex
	err := inParallel(ctx, names, ftpLines, func(name string) error {
		return f.on(ctx, name, func(c *ftp.ServerConn) error {
			size, err := c.FileSize(f.at(name))
			if code(err) == ftp.StatusFileUnavailable { // as a folder is
				return nil
			}
			if err != nil {
				return err
			}
			info := publish.Info{Size: size}
			if strings.HasPrefix(name, publish.Folder+"/") && c.IsGetTimeSupported() {
				info.Changed, _ = c.GetTime(f.at(name)) // of the lock alone it matters
			}
			mu.Lock()
			defer mu.Unlock()
			there[name] = info
			return nil
		})
	})
	return there, err
}

func (f *ftpEnd) List(ctx context.Context) (map[string]publish.Info, error) {
	return listTree(ctx, ftpLines, func(dir string) (infos []fs.FileInfo, err error) {
		err = f.on(ctx, dir, func(c *ftp.ServerConn) error {
			entries, err := c.List(f.at(dir))
			if code(err) == ftp.StatusFileUnavailable {
				return nil
			}
			infos = infos[:0]
			for _, e := range entries {
				if e.Name != "." && e.Name != ".." {
					infos = append(infos, ftpInfo{e})
				}
			}
			return err
		})
		return infos, err
	})
}

// An ftpInfo is a line of a listing.
type ftpInfo struct{ e *ftp.Entry }

func (i ftpInfo) Name() string       { return path.Base(i.e.Name) }
func (i ftpInfo) Size() int64        { return int64(i.e.Size) } //nolint:gosec // a file's
func (i ftpInfo) ModTime() time.Time { return i.e.Time }
func (i ftpInfo) IsDir() bool        { return i.e.Type == ftp.EntryTypeFolder }
func (i ftpInfo) Sys() any           { return nil }
func (i ftpInfo) Mode() fs.FileMode {
	switch i.e.Type {
	case ftp.EntryTypeFolder:
		return fs.ModeDir
	case ftp.EntryTypeLink:
		return fs.ModeSymlink
	}
	return 0
}

func (f *ftpEnd) MakeFolders(ctx context.Context, dirs []string) error {
	return byDepth(dirs, func(level []string) error {
		return inParallel(ctx, level, ftpLines, func(dir string) error {
			return f.on(ctx, dir, func(c *ftp.ServerConn) error { return f.makeFolder(c, dir) })
		})
	})
}

// makeFolder makes a folder. One that is there is refused like one that must not be
// made; if it is none, the files say so.
func (f *ftpEnd) makeFolder(c *ftp.ServerConn, dir string) error {
	if err := c.MakeDir(f.at(dir)); code(err) != ftp.StatusFileUnavailable {
		return err
	}
	return nil
}

// makeAll makes a folder of ours and those above it, the root among them.
func (f *ftpEnd) makeAll(c *ftp.ServerConn, dir string) error {
	for _, d := range []string{".", dir} {
		if err := f.makeFolder(c, d); err != nil {
			return err
		}
	}
	return nil
}

func (f *ftpEnd) Put(ctx context.Context, name string, data []byte) error {
	return put(ctx, f, name, data)
}

func (f *ftpEnd) Draft(ctx context.Context, name string, data []byte) (string, error) {
	draft := unfinishedName()
	return draft, f.on(ctx, name, func(c *ftp.ServerConn) error {
		err := f.store(c, f.at(draft), data)
		if code(err) == ftp.StatusBadFileName { // the folder for drafts may be missing
			if err = f.makeAll(c, publish.Folder); err == nil {
				err = f.store(c, f.at(draft), data)
			}
		}
		return f.dropped(c, draft, err)
	})
}

func (f *ftpEnd) Place(ctx context.Context, draft, name string) error {
	return f.on(ctx, name, func(c *ftp.ServerConn) error {
		err := c.Rename(f.at(draft), f.at(name))
		return f.dropped(c, draft, f.inTheWay(c, name, err))
	})
}

// inTheWay is the refusal of a file's place, with the reason where a file stands for a
// folder that it needs, or a folder for it: the server says the same of no right.
func (f *ftpEnd) inTheWay(c *ftp.ServerConn, name string, err error) error {
	if err == nil || code(err) == 0 {
		return err
	}
	stands := ""
	if c.ChangeDir(f.at(name)) == nil {
		stands = name
	}
	for dir := path.Dir(name); dir != "."; dir = path.Dir(dir) {
		if _, e := c.FileSize(f.at(dir)); e == nil && c.ChangeDir(f.at(dir)) != nil {
			stands = dir
		}
	}
	if stands == "" {
		return err
	}
	return publish.NewFault(err, "publish.in-the-way", "file", stands)
}

// dropped removes a draft that failed, where the line is still good.
func (f *ftpEnd) dropped(c *ftp.ServerConn, draft string, err error) error {
	if err != nil && code(err) != 0 {
		_ = c.Delete(f.at(draft)) // what failed first is what is told
	}
	return err
}

// store writes a file and makes sure that the server has all of it.
func (f *ftpEnd) store(c *ftp.ServerConn, name string, data []byte) error {
	err := c.Stor(name, bytes.NewReader(data))
	if err != nil {
		return err
	}
	size, err := c.FileSize(name)
	if err == nil && size != int64(len(data)) {
		err = io.ErrShortWrite
	}
	return err
}

// held is the folder that stands for a file that must not be there twice: to make a
// folder is the only thing in FTP that only one of two can do.
func held(name string) string { return name + ".held" }

func (f *ftpEnd) Create(ctx context.Context, name string, data []byte) error {
	return f.on(ctx, name, func(c *ftp.ServerConn) error {
		if err := f.makeAll(c, publish.Folder); err != nil {
			return err
		}
		err := take(func() (bool, error) {
			err := c.MakeDir(f.at(held(name)))
			return code(err) == ftp.StatusFileUnavailable, err
		}, func() bool { return c.ChangeDir(f.at(held(name))) == nil && c.ChangeDir("/") == nil })
		if err != nil {
			return err
		}
		// Servers lock a file that is being written: on a line that went dead meanwhile they
		// would let nobody read it for minutes. So it is a draft, too.
		draft := unfinishedName()
		if err = f.store(c, f.at(draft), data); err == nil {
			err = c.Rename(f.at(draft), f.at(name))
		}
		return f.dropped(c, draft, err)
	})
}

func (f *ftpEnd) Remove(ctx context.Context, name string) error {
	return f.on(ctx, name, func(c *ftp.ServerConn) error {
		err := c.Delete(f.at(name))
		gone := code(err) == ftp.StatusFileUnavailable
		if err != nil && !gone {
			return err
		}
		if strings.HasPrefix(name, publish.Folder+"/") {
			if err := c.RemoveDir(f.at(held(name))); err == nil || code(err) != ftp.StatusFileUnavailable {
				return err
			}
		}
		for dir := path.Dir(name); !gone && dir != "." && dir != publish.Folder; dir = path.Dir(dir) {
			if c.RemoveDir(f.at(dir)) != nil { // the server keeps one that is not empty
				break
			}
		}
		if gone {
			if _, err := c.FileSize(f.at(name)); code(err) == 0 {
				return publish.NewFault(err, "publish.no-right", "file", f.at(name))
			}
			return fs.ErrNotExist
		}
		return nil
	})
}

func (f *ftpEnd) Tidy(ctx context.Context) error {
	return f.on(ctx, publish.Folder, func(c *ftp.ServerConn) error {
		entries, err := c.List(f.at(publish.Folder))
		if err != nil {
			return err
		}
		for _, e := range entries {
			if name := path.Join(publish.Folder, path.Base(e.Name)); strings.HasPrefix(name, unfinished) {
				if err := c.Delete(f.at(name)); err != nil && code(err) != ftp.StatusFileUnavailable {
					return err
				}
			}
		}
		return nil
	})
}

func (f *ftpEnd) Close() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	for conn := range f.all {
		_ = conn.Quit() // what was brought is known by then
	}
	f.all, f.idle = nil, nil
	return nil
}

// code is the number of a server's answer; 0 for what is none.
func code(err error) int {
	var answer *textproto.Error
	if errors.As(err, &answer) {
		return answer.Code
	}
	return 0
}

func (f *ftpEnd) fault(err error, name string) error {
	var known *publish.Fault
	switch {
	case errors.As(err, &known):
		return known
	case err == nil || errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrExist) || errors.Is(err, context.Canceled):
		return err
	}
	if bad := certificateFault(err, f.address); bad != nil {
		return bad
	}
	switch code(err) {
	case 0:
		f.mu.Lock()
		begun := len(f.all) > 0
		f.mu.Unlock()
		if begun {
			return lostFault(err, f.address)
		}
		return lineFault(err, f.address)
	case ftp.StatusFileUnavailable, ftp.StatusBadFileName: // the same for no right and for a disk that can only be read
		if f.missing && strings.HasPrefix(name, publish.Folder) { // it could not be made
			return publish.NewFault(err, "publish.no-folder", "dir", f.root)
		}
		return publish.NewFault(err, "publish.no-right", "file", f.at(name))
	case ftp.StatusActionAborted, ftp.StatusExceededStorage:
		return publish.NewFault(err, "publish.no-room", "file", f.at(name))
	case ftp.StatusNotAvailable:
		return publish.NewFault(err, "publish.too-many-lines", "host", f.address).OfLine() // those that broke may be counted still
	}
	return publish.NewFault(err, "publish.failed", "file", name, "said", err)
}

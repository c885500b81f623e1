package output_test

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"

	"asleft/generator/output"
	"asleft/generator/rooted"
	"asleft/generator/testenv"
)

// mount gives a small disk of its own, in memory. Only root may make one.
func mount(t *testing.T, options string) string {
	t.Helper()
	dir := t.TempDir()
	if err := unix.Mount("tmpfs", dir, "tmpfs", 0, options); err != nil {
		testenv.Without(t, "a small disk to mount ("+err.Error()+")")
	}
	t.Cleanup(func() { must(t, unix.Unmount(dir, 0)) })
	return dir
}

func TestFullDisk(t *testing.T) {
	dir := mount(t, "size=64k")
	disk, err := rooted.Open(dir)
	must(t, err)
	defer func() { must(t, disk.Close()) }()
	small := site{"index.html": "the shop", "a.html": "a page"}
	mustSet(t, disk, small)
	write(t, disk, "site/CNAME", "shop.example")
	mine := map[string]string{"CNAME": "shop.example"}
	for name, big := range map[string]site{
		"one large page":    {"index.html": strings.Repeat("x", 100<<10)},
		"many pages":        linked("new", manyMachines),
		"nearly all":        {"index.html": strings.Repeat("x", 40<<10), "a.html": "a page", "z.html": strings.Repeat("y", 20<<10)},
		"the manifest only": longNames(),
	} {
		if _, err := set(disk, big); !errors.Is(err, syscall.ENOSPC) {
			t.Errorf("%s: %v, want that the disk is full", name, err)
		}
		checkSite(t, disk, small, mine)
	}
	mustSet(t, disk, site{"index.html": "it fits"})
	checkSite(t, disk, site{"index.html": "it fits"}, mine)
}

// longNames are pages that take no room, with a manifest that does.
func longNames() site {
	s := site{}
	for i := range 300 {
		s[strings.Repeat("n", 200)+string(rune('a'+i%26))+string(rune('a'+i/26))] = ""
	}
	return s
}

// TestCheckPlaceOfAFolderMountedTwice: folders are told apart by what they are.
func TestCheckPlaceOfAFolderMountedTwice(t *testing.T) {
	top, shop := shopAt(t)
	again := filepath.Join(top, "elsewhere")
	if err := unix.Mount(shop, again, "", unix.MS_BIND, ""); err != nil {
		testenv.Without(t, "a folder to mount ("+err.Error()+")")
	}
	defer func() { must(t, unix.Unmount(again, 0)) }()
	wantRefusal(t, output.CheckPlace(shop, again), "that is the shop folder")
	wantRefusal(t, output.CheckPlace(shop, filepath.Join(again, "machines", "site")), "machines")
	must(t, output.CheckPlace(shop, filepath.Join(again, "site")))
}

// TestCheckPlaceFromNowhere starts in a folder that somebody has removed.
func TestCheckPlaceFromNowhere(t *testing.T) {
	_, shop := shopAt(t)
	here := filepath.Join(t.TempDir(), "here")
	must(t, os.Mkdir(here, 0o755))
	t.Chdir(here)
	must(t, os.Remove(here))
	if err := output.CheckPlace(shop, "site"); err == nil || !strings.Contains(err.Error(), "cannot make out where site is") {
		t.Errorf("got %v", err)
	}
}

func TestReadOnlyDisk(t *testing.T) {
	dir := mount(t, "size=1m")
	disk, err := rooted.Open(dir)
	must(t, err)
	defer func() { must(t, disk.Close()) }()
	mustSet(t, disk, winter)
	must(t, unix.Mount("", dir, "", unix.MS_REMOUNT|unix.MS_RDONLY, ""))
	if _, err := set(disk, spring); !errors.Is(err, syscall.EROFS) {
		t.Errorf("got %v", err)
	}
	checkSite(t, disk, winter)
}

// Nothing can be renamed into a disk mounted at the site's own name.
func TestSiteThatIsADisk(t *testing.T) {
	top := mount(t, "size=1m")
	must(t, os.Mkdir(filepath.Join(top, "site"), 0o755))
	must(t, unix.Mount("tmpfs", filepath.Join(top, "site"), "tmpfs", 0, "size=1m"))
	defer func() { must(t, unix.Unmount(filepath.Join(top, "site"), 0)) }()
	disk, err := rooted.Open(top)
	must(t, err)
	defer func() { must(t, disk.Close()) }()
	if _, err := set(disk, winter); err == nil {
		t.Error("no error")
	}
	if got := contents(t, disk, "site"); len(got) != 1 || got["assets/"] != "" {
		t.Errorf("got %q", got)
	}
}

// A pipe in the site's folder would keep a reader waiting for ever.
func TestPipes(t *testing.T) {
	dir := t.TempDir()
	disk, err := rooted.Open(dir)
	must(t, err)
	defer func() { must(t, disk.Close()) }()
	mustSet(t, disk, winter)
	for _, own := range []string{"site/photos/0a.jpg", "site/assets/empty.css"} { // made anew, without a look inside
		must(t, disk.Remove(own))
		must(t, unix.Mkfifo(filepath.Join(dir, own), 0o644))
	}
	must(t, unix.Mkfifo(filepath.Join(dir, "site", "pipe"), 0o644))
	mustSet(t, disk, spring)
	checkSite(t, disk, spring, map[string]string{"pipe": fs.ModeNamedPipe.String()})
}

// TestReadOnlyFolder has somebody shut one of the site's folders: nothing that was
// there is broken, and the next run finishes.
func TestReadOnlyFolder(t *testing.T) {
	dir := t.TempDir()
	disk, err := rooted.Open(dir)
	must(t, err)
	defer func() { must(t, disk.Close()) }()
	mustSet(t, disk, linked("old", shopSize))
	addForeign(t, disk)
	v := versionsOf(t, shopSize)
	defer asNobody(t, dir)()
	for _, shut := range []string{"site/machines/m0", "site/photos", "site"} {
		must(t, disk.Chmod(shut, 0o500))
		_, err := set(disk, linked("new", shopSize))
		if !errors.Is(err, fs.ErrPermission) || !errors.Is(err, output.ErrUnfinished) {
			t.Errorf("%s: %v", shut, err)
		}
		v.check(t, disk)
		must(t, disk.Chmod(shut, 0o755))
		v.finish(t, disk, shopSize)
		mustSet(t, disk, linked("old", shopSize))
	}
}

// TestSnapshotOpensFewAtATime looks at more folders than a process may open, and at
// one that this user may not look into.
func TestSnapshotOpensFewAtATime(t *testing.T) {
	dir := t.TempDir()
	disk, err := rooted.Open(dir)
	must(t, err)
	defer func() { must(t, disk.Close()) }()
	for i := range 300 {
		must(t, disk.MkdirAll(filepath.Join("m", strconv.Itoa(i), "photos"), 0o755))
	}
	write(t, disk, "shut/x", "")
	must(t, disk.Chmod("shut", 0o300))
	defer asNobody(t, dir)()
	var old syscall.Rlimit
	must(t, syscall.Getrlimit(syscall.RLIMIT_NOFILE, &old))
	few := old
	few.Cur = 100
	must(t, syscall.Setrlimit(syscall.RLIMIT_NOFILE, &few))
	s, err := output.TakeSnapshot(disk, ".", nil)
	must(t, syscall.Setrlimit(syscall.RLIMIT_NOFILE, &old))
	if err != nil || len(s.Files()) != 602 {
		t.Errorf("%d files, %v", len(s.Files()), err)
	}
	if _, err := output.TakeSnapshot(disk, "shut", nil); !errors.Is(err, fs.ErrPermission) {
		t.Errorf("the shut folder itself: %v", err)
	}
}

// asNobody makes the whole process another user until the returned function is
// called, if it is root's: root is let in everywhere.
func asNobody(t *testing.T, dir string) (back func()) {
	t.Helper()
	if os.Getuid() != 0 {
		return func() {}
	}
	const nobody = 65534
	must(t, os.Chmod(filepath.Dir(dir), 0o755))
	must(t, filepath.WalkDir(dir, func(path string, _ os.DirEntry, err error) error {
		return errors.Join(err, os.Lchown(path, nobody, nobody))
	}))
	must(t, syscall.Setresuid(-1, nobody, -1))
	return func() { must(t, syscall.Setresuid(-1, 0, -1)) }
}

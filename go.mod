module asleft

go 1.26.4

require (
	github.com/adrg/frontmatter v0.2.0
	github.com/bep/imagemeta v1.0.1
	github.com/bojanz/currency v1.4.2
	github.com/chromedp/cdproto v0.159.0
	github.com/chromedp/chromedp v0.23.0
	github.com/disintegration/imaging v1.6.2
	github.com/fsnotify/fsnotify v1.10.1
	github.com/gen2brain/jpegn v0.6.0
	github.com/gofrs/flock v0.13.2
	github.com/google/go-cmp v0.7.0
	github.com/govalues/decimal v0.1.36
	github.com/jlaffaye/ftp v0.2.4
	github.com/pkg/sftp v1.13.12
	github.com/rogpeppe/go-internal v1.16.0
	github.com/signintech/gopdf v0.33.0
	github.com/skeema/knownhosts v1.3.3
	github.com/spf13/afero v1.15.0
	github.com/spf13/cobra v1.10.2
	github.com/spf13/pflag v1.0.10
	github.com/yuin/goldmark v1.8.7
	github.com/zalando/go-keyring v0.2.8
	go.yaml.in/yaml/v4 v4.0.0
	golang.org/x/crypto v0.59.0
	golang.org/x/image v0.47.0
	golang.org/x/net v0.62.0
	golang.org/x/sync v0.25.0
	golang.org/x/sys v0.50.0
	golang.org/x/term v0.48.0
	golang.org/x/text v0.44.0
	gopkg.in/yaml.v2 v2.4.0
	pgregory.net/rapid v1.3.0
	rsc.io/qr v0.2.0
)

require (
	github.com/BurntSushi/toml v1.6.0 // indirect
	github.com/cockroachdb/apd/v3 v3.2.1 // indirect
	github.com/danieljoos/wincred v1.2.3 // indirect
	github.com/go-json-experiment/json v0.0.0-20260213210345-44df1a37e875 // indirect
	github.com/godbus/dbus/v5 v5.2.2 // indirect
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/kr/fs v0.1.0 // indirect
	github.com/phpdave11/gofpdi v1.0.14-0.20211212211723-1f10f9844311 // indirect
	github.com/pkg/errors v0.8.1 // indirect
	github.com/stretchr/objx v0.5.3 // indirect
	golang.org/x/tools v0.52.0 // indirect
)

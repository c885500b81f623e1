package catalog

// englishPublish is what is said when a site is brought to the web.
var englishPublish = map[string]string{
	"publish.no-front-page":     "The site has no index.html, so there is nothing to bring. Run asleft writeup and see what it says.",
	"publish.site-changed":      "{file} was changed while it was being brought over. Run asleft publish again; it goes on where it stopped.",
	"publish.at-work":           "{who} is bringing a site there at this moment. Wait until that is done, then run this again.",
	"publish.lock-lost":         "{who} took over the far end while this run was at work, so this run has stopped. When the other is done, run this again.",
	"publish.newer":             "The list at the far end was written by a newer asleft than this one. Bring this asleft up to date, then run it again.",
	"publish.other-shop":        "That place holds the site of another shop: {shop} {web}. Look at to: under publish: in shop.md. If it is right and that site may be replaced, run this again with --move-in.",
	"publish.stranger":          "Something stands there already that this program did not bring: {files}. Look at to: under publish: in shop.md. If it is right, run this again with --move-in; what stands there is left alone.",
	"publish.stranger-replaced": "Something stands there already that this program did not bring, under names that the site needs: {files}. Keep a copy if you want one. If those files may be replaced, run this again with --move-in; all others are left alone.",
	"publish.too-large":         "{file} at the far end is far larger than this program ever writes. Something else uses that name; move it away there, then run this again.",
	"publish.disk-full":         "The disk at the far end is full. Make room there, or ask your host for more, then run this again; it goes on where it stopped.",
	"publish.read-only":         "The disk at the far end can only be read. Ask whoever runs it to let you write there, or name another place.",
	"publish.no-right":          "You may not write {file} at the far end. Ask whoever runs it to give you the right to, or name another folder.",
	"publish.in-the-way":        "At the far end a file stands where a folder is wanted, or a folder where a file is wanted: {file}. Move it away there, then run this again.",
	"publish.failed":            "The far end did not take {file} ({said}). Run this again; it goes on where it stopped.",
}

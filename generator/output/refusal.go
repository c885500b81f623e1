package output

import (
	"errors"
	"fmt"
)

// ErrAtWork is in the error of Open when another run held the site for longer
// than the caller would wait.
var ErrAtWork = errors.New("another writeup is at work here; wait until it is done, then run this again")

// ErrUnfinished is in the error of Commit when the disk failed after some files
// were put in place. Each page is whole, old or new, and the next run finishes.
var ErrUnfinished = errors.New("the site is in part the old one and in part the new one, with no page broken; run this again to finish it")

// A Refusal says why a site will not be written, in words for the mechanic and
// with what to do about it. It is about names and places; an error that is not a
// Refusal is the disk's.
type Refusal struct {
	Says  string // the reason and the remedy
	Cause error  // what the system said, or nil
}

// Error gives the reason and the remedy.
func (r *Refusal) Error() string { return r.Says }

// Unwrap gives the cause.
func (r *Refusal) Unwrap() error { return r.Cause }

func refuse(say string, args ...any) *Refusal { return &Refusal{Says: fmt.Sprintf(say, args...)} }

// Every sentence of this package that is about the user's folders and names.
const (
	sayFile = "the site cannot go to %s: that is a file, and a folder is wanted; " +
		"choose another place, such as a folder named site inside the shop folder"
	sayDangling = "the site cannot go to %s: that is a link that leads nowhere; remove the link or choose another place"
	sayRoot     = "the site cannot go to %s: that is a whole disk; choose a folder of its own, such as one named site inside the shop folder"
	sayHome     = "the site cannot go to %s: that is your home folder, or holds it; choose a folder of its own, such as one named site inside the shop folder"
	sayShop     = "the site cannot go to %s: that is the shop folder, with your logs in it; choose a folder of its own, such as one named site inside it"
	sayHolds    = "the site cannot go to %s: the shop folder %s lies inside it; choose a folder of its own, such as one named site inside the shop folder"
	sayOwn      = "the site cannot go to %s: %s is a folder of the shop itself, with your work in it; choose a folder of its own, such as one named site beside it"
	sayNoShop   = "%s is not a folder, so it cannot be the shop folder"

	sayName        = "%q cannot be the name of the site's folder; it has to be one plain name, such as site"
	saySiteLink    = "%s is a link to another folder; name the folder that it leads to"
	saySiteFile    = "%s is a file, and the site's folder is wanted there; move it away or choose another place"
	sayNotOurs     = "the folder %s holds files that this program did not make (%s); choose an empty folder or a new name for the site"
	sayBadManifest = "%s, the list of what this program wrote there, cannot be read (%v); move what you want to keep out of the site's folder, delete that folder and the list, and run this again"
	sayInTheWay    = "%s was not made by this program, and %s has to go there; move it out of the site's folder and run this again"
	sayNothing     = "no page was made, so the site stays as it is"
	sayOver        = "this run is over; begin another"
	sayPath        = "%q cannot be the name of a file of the site: %s; give it another name"
	sayTwice       = "two files of the site would have the same name: %q and %q; give one of them another name"
	sayInFile      = "%q would be a file and %q would lie in a folder of that name; give one of them another name"
	sayTwoFolders  = "%q and %q lie in folders whose names some systems take for the same; spell them alike"
	sayIncomplete  = "the site stays as it is, because a file of the new one is missing: %w"
)

package handover

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"strings"

	"github.com/spf13/afero"

	"asleft/generator/rooted"
)

// listFile is the site's list of sealed reports, where the site is in its usual
// folder: the last run that made the site wrote it.
const listFile = "site/sealed.json"

// largestList is more than the list of any shop holds, in bytes.
const largestList = 64 << 20

// reportName is the name of a report's files, without what tells their kinds apart.
var reportName = regexp.MustCompile(`^[a-z0-9-]+-[0-9]{4}-[0-9]{2}-[0-9]{2}-[0-9a-f]{10,64}$`)

// Missed are the sealed files that are gone and that the chain itself cannot miss,
// since nothing after them is left, as far as the shop's folder still shows them.
// Listed are those that the site lists: this shop sealed them for certain, so the
// chain does not hold. Copied are those of which only a buyer's copy lies in the
// shop's folder or among the sealed files; it may be another shop's. Who took the
// file away, and why, nobody can say.
func (c *Chain) Missed(shop afero.Fs) (listed, copied []Break, err error) {
	here := map[string]bool{}
	for _, l := range c.Links {
		here[strings.TrimSuffix(path.Base(l.File), ".json")] = true
	}
	reports, err := listedReports(shop)
	if err != nil {
		return nil, nil, err
	}
	for _, r := range reports {
		digits := r.Code
		if len(digits) == codeLength && len(r.Facts) >= nameLength {
			digits = r.Facts[:nameLength]
		}
		name := r.Machine + "-" + r.Date + "-" + digits
		if here[name] || !reportName.MatchString(name) {
			continue
		}
		here[name] = true
		listed = append(listed, Break{listFile, c.words.Say("missed.listed", "file", listFile, "sealed", path.Join(folderName, name+".json"), "number", r.Number)})
	}
	for _, dir := range []string{".", folderName} {
		infos, err := afero.ReadDir(shop, dir)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, nil, fmt.Errorf("reading %s: %w", dir, err)
		}
		for _, info := range infos {
			name, kind := strings.TrimSuffix(info.Name(), path.Ext(info.Name())), path.Ext(info.Name())
			if here[name] || kind != ".html" && kind != ".pdf" || !info.Mode().IsRegular() || !reportName.MatchString(name) {
				continue
			}
			here[name] = true
			file := path.Join(dir, info.Name())
			copied = append(copied, Break{file, c.words.Say("missed.copy", "file", file, "sealed", path.Join(folderName, name+".json"))})
		}
	}
	return listed, copied, nil
}

// A listedReport is what the site's list says of a report, as far as it is needed
// to name its sealed file.
type listedReport struct {
	Number  int    `json:"number"`
	Machine string `json:"machine"`
	Date    string `json:"date"`
	Code    string `json:"code"`
	Facts   string `json:"facts_digest"`
}

// listedReports are the reports that the site lists. A list that cannot be read as
// one says nothing: the next run that makes the site writes it anew.
func listedReports(shop afero.Fs) ([]listedReport, error) {
	if _, err := shop.Stat(listFile); err != nil {
		return nil, nil
	}
	data, err := rooted.ReadFile(shop, listFile, largestList)
	if errors.Is(err, rooted.ErrTooLarge) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", listFile, err)
	}
	var list struct{ Reports []listedReport }
	if json.Unmarshal(data, &list) != nil {
		return nil, nil
	}
	return list.Reports, nil
}

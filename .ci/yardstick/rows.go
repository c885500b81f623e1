package main

import (
	"errors"
	"fmt"
	"os"
	"runtime"
)

// A row measures one bar or several that share their runs.
type row struct {
	name    string
	measure func(*bench) ([]result, error)
}

var rows = []row{
	{"binary", (*bench).binary},
	{"text", (*bench).text},
	{"photos", (*bench).photos},
	{"again", (*bench).again},
	{"large", (*bench).large},
	{"growth", (*bench).growth},
}

func rowNames() []string {
	var names []string
	for _, r := range rows {
		names = append(names, r.name)
	}
	return names
}

func (b *bench) binary() ([]result, error) {
	info, err := os.Stat(b.path("asleft"))
	if err != nil {
		return nil, err
	}
	size := float64(info.Size()) / 1e6
	return []result{{what: "binary, stripped", against: "-", times: measured{Asleft: figure{Bytes: float64(info.Size())}}, ratio: only(size), bar: 25, unit: " MB"}}, nil
}

// text is a cold run without photos against goldmark on the same bodies.
func (b *bench) text() ([]result, error) {
	shop, err := b.fill(b.pick(1000, 100), b.pick(10_000, 1000), 0, "16x16")
	if err != nil {
		return nil, err
	}
	goldmark := contender{run: func() (run, error) {
		r, err := start("", b.self, "goldmark", shop.dir)
		if err == nil {
			_, err = fmt.Sscan(r.out, &r.seconds, &r.cpu) // reading the files does not count
		}
		return r, err
	}}
	copied := contender{
		before: func() error { return b.putAside(b.path("site-copy")) },
		run:    func() (run, error) { return start("", "cp", "-r", b.path("site-text"), b.path("site-copy")) },
	}
	runs, err := b.turns(true, b.writeup(shop.dir, "site-text", true), goldmark, copied)
	if err != nil {
		return nil, err
	}
	a, g, cp := runs[0], runs[1], runs[2]
	b.note("text: %s of Markdown files, %s of it bodies; goldmark's time is the rendering alone", mb(float64(shop.text)), mb(float64(shop.bodies)))
	what := fmt.Sprintf("cold text: %d machines, %d entries, no photos", b.pick(1000, 100), b.pick(10_000, 1000))
	return []result{
		{what: what, against: "goldmark alone, one core", times: times(a, g), ratio: versus(a, g), bar: 10, shortBar: wide * 32},
		{what: what, against: "cp -r of the finished site", times: times(a, cp), ratio: versus(a, cp)},
	}, errors.Join(os.RemoveAll(b.path("site-text")), os.RemoveAll(b.path("site-copy")))
}

// slack is what a program may hold before it has done anything.
const slack = 64 << 20

// large is the peak memory with photos of 48 megapixels.
func (b *bench) large() ([]result, error) {
	const w, h = 8064, 6048
	count := b.pick(500, 8)
	shop, err := b.fill(b.pick(50, 4), b.pick(500, 40), count, fmt.Sprintf("%dx%d", w, h))
	if err != nil {
		return nil, err
	}
	// The peak does not move from run to run as time does; and this is long.
	r, err := b.writeup(shop.dir, "site-large", true).run()
	if err != nil {
		return nil, err
	}
	decoded := float64(w * h * 3 / 2) // bytes of a 4:2:0 photo
	ratio := (float64(r.rss) - slack) / (decoded * float64(runtime.NumCPU()))
	return []result{{
		what: fmt.Sprintf("peak memory less 64 MB, %d photos of 48 megapixels", count), against: "one decoded photo x cores",
		times: held(float64(r.rss), decoded*float64(runtime.NumCPU())), ratio: only(ratio), bar: 2.5, shortBar: heavier * 1.4, peak: true,
	}}, b.clear("site-large", shop)
}

func (b *bench) clear(site string, shop filled) error {
	if err := os.RemoveAll(b.path(site)); err != nil {
		return err
	}
	return b.drop(shop)
}

// growth is ten times the text against the text, and the peak memory with it.
func (b *bench) growth() ([]result, error) {
	n := b.pick(1000, 40)
	small, err := b.fill(n, 10*n, 0, "16x16")
	if err != nil {
		return nil, err
	}
	big, err := b.fill(10*n, 100*n, 0, "16x16")
	if err != nil {
		return nil, err
	}
	runs, err := b.turns(false, b.writeup(small.dir, "site-small", true), b.writeup(big.dir, "site-big", true))
	if err != nil {
		return nil, err
	}
	b.note("growth: without a round before that does not count")
	s, l := runs[0], runs[1]
	peaks := each(l, func(r run) float64 { return float64(r.rss) })
	over := each(l, func(r run) float64 { return (float64(r.rss) - slack) / float64(big.text) })
	if err := os.RemoveAll(b.path("site-small")); err != nil {
		return nil, err
	}
	return []result{
		{what: fmt.Sprintf("growth: %d to %d machines, text", n, 10*n), against: "one tenth of it", times: times(l, s), ratio: versus(l, s), bar: 10.5, shortBar: 13},
		{what: fmt.Sprintf("peak memory less 64 MB, %d machines, text", 10*n), against: "the source text", times: held(spreadOf(peaks).Median, float64(big.text)), ratio: ratioOf(over), bar: 6, shortBar: heavier * 7.1, peak: true},
	}, b.clear("site-big", big)
}

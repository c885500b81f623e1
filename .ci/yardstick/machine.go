package main

import (
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"runtime/debug"
	"strings"
	"time"
)

// A machine is where and with what was measured.
type machine struct {
	Processor string
	Cores     int
	Memory    string
	System    string
	Kernel    string
	Go        string
	Date      string // UTC
	Commit    string
	Load      string // of the last 1, 5 and 15 minutes, when it ended
	Others    []string
}

func thisMachine() machine {
	m := machine{
		Processor: field("/proc/cpuinfo", "model name", ":"),
		Cores:     runtime.NumCPU(),
		System:    strings.Trim(field("/etc/os-release", "PRETTY_NAME", "="), `"`),
		Kernel:    strings.TrimSpace(content("/proc/sys/kernel/osrelease")),
		Go:        runtime.Version(),
		Date:      time.Now().UTC().Format(time.DateOnly),
		Commit:    said("git", "describe", "--always", "--dirty"),
	}
	var kilobytes float64
	if _, err := fmt.Sscan(field("/proc/meminfo", "MemTotal", ":"), &kilobytes); err == nil {
		m.Memory = fmt.Sprintf("%.0f GB", kilobytes*1024/1e9)
	}
	if load := strings.Fields(content("/proc/loadavg")); len(load) >= 3 {
		m.Load = strings.Join(load[:3], " ")
	}
	for _, version := range []string{said("git", "--version"), said("vips", "--version"), goldmarkVersion()} {
		if version != "" {
			m.Others = append(m.Others, version)
		}
	}
	return m
}

func (m machine) String() string {
	return fmt.Sprintf("%s, %d cores, %s of memory, %s (Linux %s), %s, %s, asleft at %s; load at the end %s. Held against %s.",
		m.Processor, m.Cores, m.Memory, m.System, m.Kernel, m.Go, m.Date, m.Commit, m.Load, strings.Join(m.Others, ", "))
}

func content(file string) string {
	data, _ := os.ReadFile(file) // what the system does not tell is left out
	return string(data)
}

// field is the first value of that name in a file of names and values.
func field(file, name, between string) string {
	for line := range strings.Lines(content(file)) {
		if n, value, ok := strings.Cut(line, between); ok && strings.TrimSpace(n) == name {
			return strings.TrimSpace(value)
		}
	}
	return "unknown"
}

// said is the first line that a program prints; "" if it is not there.
func said(name string, args ...string) string {
	out, err := exec.Command(name, args...).Output()
	if err != nil {
		return ""
	}
	line, _, _ := strings.Cut(string(out), "\n")
	return strings.TrimSpace(line)
}

func goldmarkVersion() string {
	info, _ := debug.ReadBuildInfo()
	for _, m := range info.Deps {
		if m.Path == "github.com/yuin/goldmark" {
			return "goldmark " + m.Version
		}
	}
	return ""
}

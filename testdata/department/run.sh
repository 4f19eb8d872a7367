#!/bin/sh
# Makes the department and sums it up: the time and the memory that competency takes, against 10 seconds and 200 MB.
set -eu
cd "$(dirname "$0")/../.."
out=$(mktemp -d)
trap 'rm -rf "$out"' EXIT
go build -o "$out/nospark" ./cmd/nospark
go run ./testdata/department "$out/term"
cat > "$out/measure.go" <<'GO'
package main

import (
	"fmt"
	"os"
	"os/exec"
	"syscall"
	"time"
)

func main() {
	cmd := exec.Command(os.Args[1], os.Args[2:]...)
	cmd.Stderr = os.Stderr
	start := time.Now()
	if err := cmd.Run(); err != nil {
		panic(err)
	}
	usage := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	fmt.Printf("%.1f s, %.1f s of processor, %d MB\n", time.Since(start).Seconds(), (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds(), usage.Maxrss/1024)
}
GO
go run "$out/measure.go" "$out/nospark" competency "$out/term"
[ $# -eq 0 ] || cp "$out/term/competency.xlsx" "$1"

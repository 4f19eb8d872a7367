#!/bin/sh
# Prints how fast the bench answers. Everything stays on loopback addresses and takes some two minutes; let the machine be
# quiet meanwhile.
set -eu
cd "$(dirname "$0")/../.."
NOSPARK_SPEED=1 go test ./cmd/nospark -run 'TestBenchSpeed$' -count 1 -timeout 20m -v | grep '^|\|FAIL'

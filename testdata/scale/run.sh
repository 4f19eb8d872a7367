#!/usr/bin/env bash
# How fast nospark is beside other programs on this machine, and how it grows with a school: prints a table of ratios.
#
#   testdata/scale/run.sh [FOLDER]
#
# Works in FOLDER (default: a new one that is removed). Other programs take part where they are installed: ngspice, pdflatex
# (texlive-latex-base), node with exceljs (npm install exceljs in FOLDER/js). The others' lines say so when they are missing. Times are
# those that the processor works, so that other programs on the machine count for nobody, and those on the clock where the table says so.
set -euo pipefail
cd "$(dirname "$0")/../.."
folder=${1:-}
if [ -z "$folder" ]; then
	folder=$(mktemp -d)
	trap 'rm -rf "$folder"' EXIT
fi
mkdir -p "$folder"
go build -o "$folder/nospark" ./cmd/nospark
go test ./scenarios/vehicle -run '^$' -bench 'Point' -benchtime 3x > "$folder/points.txt" || true
go run ./testdata/scale "$folder"

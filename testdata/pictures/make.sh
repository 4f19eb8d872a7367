#!/usr/bin/env bash
# Makes the README's pictures from a fresh demo. Needs pdftoppm (poppler-utils), convert (imagemagick) and soffice (libreoffice-calc).
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
cd "$here/../.."
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
go run ./cmd/nospark demo "$work/demo" >/dev/null
lab=$work/demo/labs/week01
shot() { # shot PDF PAGE NAME
	pdftoppm -r 90 -f "$2" -l "$2" -png -singlefile "$1" "$work/$3"
	convert "$work/$3.png" -bordercolor '#cccccc' -border 1 -colors 64 "$here/$3.png"
}
shot "$lab/handouts/booklet.pdf" 1 diagram
shot "$lab/handouts/worksheets.pdf" 1 worksheet
shot "$lab/partners/readings.pdf" 1 readings
shot "$lab/graded/debriefs.pdf" 3 debrief
shot "$lab/instructor/isolation-chart.pdf" 1 chart
soffice -env:UserInstallation="file://$work/profile" --headless --convert-to pdf --outdir "$work" "$work/demo/competency.xlsx" >/dev/null 2>&1
shot "$work/competency.pdf" 2 competency

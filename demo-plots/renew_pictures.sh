#!/usr/bin/env bash
# Renews pictures/, which the README shows, from what the last run of the days left in out/pictures: smaller, and with fewer
# colors. Needs ImageMagick, and chromium with pdftoppm for the report, which nothing else here does.
set -euo pipefail

cd "$(dirname "${BASH_SOURCE[0]}")"
command -v convert >/dev/null || { echo "renew_pictures.sh: ImageMagick's convert is not there" >&2; exit 1; }

renew() { # PICTURE SOURCE
  local size=1280x800
  [[ $2 != */upright-* ]] || size=800x1280
  convert "out/pictures/$2.png" -resize "$size" -dither None -colors 128 -define png:compression-level=9 \
    -define png:compression-filter=0 -strip "PNG8:pictures/$1.png"
}

renew today 02-today
renew rate-four-measures 37-rate-four-measures
renew rate-stage 38-rate-grass-stage
renew rate-broadcast 42-rate-broadcast
renew rate-frame 27-rate-frame
renew rate-heading 29-rate-heading
renew rate-counts 36-rate-counts
renew rate-dusk looks/lying-es-dusk-rate-four-measures
renew rate-upright looks/upright-en-paper-rate-disease
renew harvest-upright looks/upright-en-paper-harvest
renew harvest-scale 32-harvest-scale
renew harvest-question 09-harvest-question
renew sort 34-sort-part
renew review looks/lying-en-paper-compare
renew slide looks/lying-en-paper-slide
renew as-sown looks/lying-en-paper-as-sown-entry
renew spray looks/lying-en-paper-event-no-entry
renew days-end 47-copied

# The report as it prints: the page of the tables of TF24.
for program in chromium pdfinfo pdftotext pdftoppm; do
  command -v "$program" >/dev/null || { echo "renew_pictures.sh: $program is not there: the report's picture is as it was" >&2; exit 1; }
done
printed=$(mktemp -d)
trap 'rm -rf "$printed"' EXIT
chromium --headless --no-sandbox --disable-gpu --no-pdf-header-footer --print-to-pdf="$printed/report.pdf" \
  "file://$PWD/out/report.html" 2>/dev/null
page=1
pages=$(pdfinfo "$printed/report.pdf" | awk '/^Pages:/ { print $2 }')
until [[ $(pdftotext -f "$page" -l "$page" "$printed/report.pdf" - | head -n 1) == TF24 ]]; do
  [[ $page -lt $pages ]] || { echo "renew_pictures.sh: no page of the report begins with TF24: its picture is as it was" >&2; exit 1; }
  page=$((page + 1))
done
pdftoppm -png -singlefile -r 130 -f "$((page + 1))" -l "$((page + 1))" "$printed/report.pdf" "$printed/tables"
convert "$printed/tables.png" -trim -bordercolor white -border 20 -dither None -colors 64 -define png:compression-level=9 -strip \
  PNG8:pictures/report.png

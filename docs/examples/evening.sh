#!/bin/sh
# The demo evening from the first score to the last, in a folder of its own.
# Run it from the root of the project, once it has been built: sh docs/examples/evening.sh
set -eu
root=$(pwd)
evening=$(mktemp -d)
trap 'rm -rf "$evening"' EXIT
tool() { node "$root/dist/cli/lastrotation.cjs" "$@"; }

cp "$root/docs/examples/mill-lane.yaml" "$evening/meet.yaml"
cd "$evening"
echo "== Is the meet file in order?"
tool check

echo "== The scores, through the feed, one answer a line"
tool live <"$root/docs/examples/mill-lane.scores.csv" >answers.txt
echo "$(wc -l <answers.txt) rows recorded"

echo "== The board"
tool standings

echo "== What does each need, and how likely is it?"
tool needs
tool chances

echo "== Lines for the graphics, ready before it happens"
tool graphics --json --out lines.json
tool graphics --kind outcome need

echo "== The rest, each for a gymnast who is next up"
tool live <<'ROWS' | wc -l
abaru,,9.850
farrowby,,9.750
gantry,,9.900
eblin,,9.700
hollistone,,9.650
bellamine,,9.825
imriefield,,9.575
corriedale,,9.800
farrowby,,9.700
abaru,,9.900
gantry,,9.875
ROWS
tool standings
tool chances

echo "== The record replays: the board after rotation 1"
tool standings --after 1

#!/bin/sh
# Makes the demo and test pictures anew: ./make.sh WORKFOLDER. One render at a time; what a folder already has done is kept.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
work=$1
py=${PYTHON:-/usr/bin/python3}
cd "$here"
for name in $($py -c "import catalogue; print(*[s['name'] for s in catalogue.SCENES])"); do
  out="$work/$name"
  [ -f "$out/done" ] && continue
  $py make_maps.py "$name" "$out"
  blender -b --python render_sole.py -- "$out" > "$out/log" 2>&1
  $py finish.py "$name" "$out" "$root"
  touch "$out/done"
done
$py print.py build-1-sole-left "$work/build-1-sole-left" "$root/demo/build-1/print-left.jpg" "$root/demo/truth/build-1-print-left.json"
for build in 1 2; do
  for view in lateral top toe heel; do
    raw="$work/pair-$build-$view.png"
    [ -f "$raw" ] && continue
    blender -b --python render_pair.py -- "$build" "$view" "$raw" > "$raw.log" 2>&1
    $py finish_pair.py "$raw" "$root/demo/build-$build/pair-$view.jpg" "$build" "$view"
  done
  $py pair_truth.py "$build" "$root"
  flat="$work/quarter-$build.exr"
  [ -f "$flat" ] || blender -b --python render_panel.py -- "$build" "$flat" > "$flat.log" 2>&1
  $py finish_panel.py "$flat" "$build" "$root"
done
$py make_reviews.py "$work" "$root"

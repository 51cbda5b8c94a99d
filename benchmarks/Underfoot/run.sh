#!/bin/bash
# Accuracy and coverage on 2,000 made-up soles, speed beside scikit-image's random walker.
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")"
dotnet build -c Release -v quiet -nologo Underfoot.csproj
program=bin/Release/net10.0/Pairbench.Benchmarks.Underfoot
"$program" scenes 300000 "$((300000 + ${SOLES:-2000}))" | tail -2
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
"$program" export "$folder" 300000 "$((300000 + ${WALKED:-20}))"
"$program" timed 300000 "$((300000 + ${WALKED:-20}))"
/usr/bin/python3 walker.py "$folder"

#!/bin/bash
# 2,000 random pairs of shoes: errors, intervals, turn solved or stated; laying one shoe on the other beside SciPy and OpenCV in the same run.
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")"
dotnet build -c Release -v quiet -nologo PairMatch.csproj
trap 'rm -f pairs.json' EXIT
bin/Release/net10.0/Pairbench.Benchmarks.PairMatch "${SCENES:-2000}"
/usr/bin/python3 reference.py

#!/bin/bash
# CIEDE2000 over a 12-megapixel pair beside scikit-image (Debian's python3-skimage), in the same run.
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")"
dotnet build -c Release -v quiet -nologo Colour.csproj
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
seconds=$(/usr/bin/python3 reference.py "$folder")
echo "scikit-image: 12 megapixels in $seconds s (median of 3)"
bin/Release/net10.0/Pairbench.Benchmarks.Colour "$folder" "$seconds"

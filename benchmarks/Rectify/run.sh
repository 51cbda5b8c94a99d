#!/bin/bash
# Rectifying 12 megapixels with bicubic sampling, beside OpenCV's warpPerspective (Debian's python3-opencv) in the same run.
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")"
dotnet build -c Release -v quiet -nologo Rectify.csproj
bin/Release/net10.0/Pairbench.Benchmarks.Rectify
/usr/bin/python3 warp.py
bin/Release/net10.0/Pairbench.Benchmarks.Rectify
/usr/bin/python3 warp.py

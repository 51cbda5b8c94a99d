#!/bin/bash
# Every stitch of 200 made-up rows that no test draws: found rate, pitch, missing stitches, wander.
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")"
dotnet build -c Release -v quiet -nologo Seams.csproj
bin/Release/net10.0/Pairbench.Benchmarks.Seams "${FROM:-20000}" "$((${FROM:-20000} + ${ROWS:-200}))"

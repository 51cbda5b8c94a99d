#!/bin/bash
# Three hours through eight layers: the oven's conduction beside SciPy's stiff integrators on the same mesh.
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")"
dotnet build -c Release -v quiet -nologo Oven.csproj
bin/Release/net10.0/Pairbench.Benchmarks.Oven
/usr/bin/python3 reference.py

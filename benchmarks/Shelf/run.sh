#!/bin/bash
# A hundred thousand made-up reviews on one shelf: list, searches, one review, comparison, beside the barest SQL.
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")"
dotnet build -c Release -v quiet -nologo Shelf.csproj
bin/Release/net10.0/Pairbench.Benchmarks.Shelf "$@"

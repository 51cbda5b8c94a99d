#!/bin/bash
# 100,000 random shoes through the U.S. schedule, beside one SQL query of SQLite a shoe.
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")"
dotnet build -c Release -v quiet -nologo Duty.csproj
bin/Release/net10.0/Pairbench.Benchmarks.Duty ../../data

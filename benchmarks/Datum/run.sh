#!/bin/bash
# The datum sheet and the cards in made-up photographs: how many are found, corners, lengths, intervals, time.
set -euo pipefail
cd "$(dirname "$(readlink -f "$0")")"
dotnet build -c Release -v quiet -nologo Datum.csproj
program=bin/Release/net10.0/Pairbench.Benchmarks.Datum
"$program" sheet "${VIEWS:-300}" 1600
"$program" paper "${VIEWS:-300}" 1200
"$program" cards "${CARDS:-60}" 1600
"$program" nothing 100 1400
"$program" sheet 4 4000

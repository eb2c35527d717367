#!/usr/bin/env bash
# Whether report.html and the pages for the printer are valid HTML, by a validator that is not ours: tidy (Debian's package of that name).
# Usage: valid_html.sh LIGULE_DESK PLANS, a folder of plans. Exit 77: there is no tidy here.
set -euo pipefail
command -v tidy >/dev/null || exit 77

desk=$1
plans=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cd "$work"

# Two years of two tests with odd names, ratings of everything that a file can say.
python3 - <<'PY'
import random
random.seed(7)
entries = ["A & <b>", 'B "quoted"', "C'", "D (novel AX1)", "E" * 90, "Fünf"]
with open("values.csv", "w", encoding="utf-8") as out:
    out.write("test,site,year,cutting,rep,entry,value\n")
    for test in ("T <1>", "U"):
        for year in (2024, 2025):
            for cutting in (1, 2):
                for rep in (1, 2, 3, 4):
                    for i, entry in enumerate(entries):
                        name = '"' + entry.replace('"', '""') + '"'
                        gap = test == "U" and rep == 2 and i == 3
                        value = "" if gap else f"{3 + i / 2 + random.random():.3f}"
                        out.write(f"{test},Hill & Dale,{year},{cutting},{rep},{name},{value}\n")
PY
cat >notes.csv <<'CSV'
test,fact,value
T <1>,Soil,"silt loam <2 %>"
U,Slope,"3 % & more"
CSV
cat >weather.csv <<'CSV'
site,year,month,rain,rain_unit,normal_rain,temperature,temperature_unit,normal_temperature
Hill & Dale,2024,5,3.1,in,4.0,61,F,60
Hill & Dale,2025,6,2.2,in,,,,
CSV
cat >varieties.csv <<'CSV'
name,species,type,market,publish_as,withheld,check,note
Fünf,tall fescue,late,on sale,Sechs <6>,,yes,"a & b"
C',tall fescue,,experimental,,yes,,
CSV
cat >aliases.csv <<'CSV'
name,same_as,from_year,decided_by,note
A & <b>,Alder <b>,,M & T,named
CSV

"$desk" tables --values values.csv --out all --site-notes notes.csv --weather weather.csv --varieties varieties.csv \
  --aliases aliases.csv --wished-lsd '10%' --release "first & <last>" --released-by "M & T" --released-on 2025-12-01 >/dev/null
"$desk" tables --values values.csv --out plain --level 0.10 --withhold-lsd --plan-order >/dev/null
printf 'test,site,year,cutting,rep,entry,value\nT,,,,,A,\n' >empty.csv
"$desk" tables --values empty.csv --out empty >/dev/null

for plan in TF24 WC25; do
  mkdir -p "$plan"
  "$desk" planting-list "$plans/$plan" --out "$plan/list.html" --rate '12 lb/acre' --names open >/dev/null
  "$desk" labels "$plans/$plan" --out "$plan/stakes.html" --paper a4 >/dev/null
  "$desk" labels "$plans/$plan" --out "$plan/packets.html" --for packets --names open >/dev/null
done

for page in {all,plain,empty}/report.html {TF24,WC25}/*.html; do
  # Warnings count: tidy says by them what a browser would guess.
  tidy -quiet -errors -utf8 "$page" || { echo "$page is not valid" >&2; exit 1; }
done

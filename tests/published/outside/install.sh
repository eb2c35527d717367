#!/usr/bin/env bash
# Installs the readers of package-lock.json into a folder of the build, from the npm registry, without running any of their scripts.
#
# usage: install.sh FOLDER
# Exit 77: they can't be had here (no node, no npm, no registry); one line says why. Exit 1: npm refuses what the registry gave
# (another digest than the lock's, a version that is gone ...). Nothing is fetched where FOLDER holds what the lock names.
set -euo pipefail

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
folder=$1

cannot() {
  echo "install.sh: $*" >&2
  exit 77
}

for program in node npm; do
  command -v "$program" >/dev/null || cannot "$program is not installed"
done
mkdir -p "$folder"
exec 9>"$folder/lock"
flock 9
state=$(cat "$here/package.json" "$here/package-lock.json" <(node --version) | sha256sum)
if [[ -r $folder/installed && $(<"$folder/installed") == "$state" ]]; then exit 0; fi

rm -f "$folder/installed"
cp "$here/package.json" "$here/package-lock.json" "$folder"
log=$folder/npm.log
# Deaf or slow: two minutes at most, since nothing else waits for it.
if ! timeout 120 npm ci --prefix "$folder" --ignore-scripts --no-audit --no-fund --fetch-retries 1 \
  --fetch-timeout 30000 >"$log" 2>&1; then
  tail -n 5 "$log" >&2
  ! grep -qE 'EINTEGRITY|EUSAGE|ETARGET|E404|EBADENGINE|EJSONPARSE' "$log" || exit 1
  cannot "the npm registry can't be reached"
fi
echo "$state" >"$folder/installed"

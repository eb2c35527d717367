#!/usr/bin/env bash
# arm64-sysroot.sh LIST FOLDER: lays the Debian 12 packages of arm64 named in LIST (one a line, # comments), and what they
# depend on, into FOLDER; nothing where they lie there. Exits 1 with one line when it cannot.
#
# A folder, and not `dpkg --add-architecture arm64`, because the machine stays as it is: no package of its own is held back
# or removed for one of arm64, and each archive that apt knows need not have arm64. Nothing of arm64 is run for it.
set -euo pipefail

fail() {
  echo "arm64-sysroot.sh: $*" >&2
  exit 1
}

[[ $# -eq 2 ]] || fail "name a list of packages and a folder"
list=$1
folder=$2
[[ -r $list ]] || fail "no such list: $list"
if cmp -s "$list" "$folder/laid.txt"; then
  echo "arm64: the libraries are there"
  exit 0
fi
command -v mmdebstrap >/dev/null || fail "no mmdebstrap; as root: apt-get install mmdebstrap"

echo "arm64: laying the libraries into $folder"
rm -rf "$folder"
mkdir -p "$folder"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
packages=$(sed -e 's/#.*//' -e 's/[[:space:]]//g' "$list" | sed '/^$/d' | paste -sd,)
mmdebstrap --variant=extract --architectures=arm64 --include="$packages" --aptopt='Acquire::Retries "3"' \
  bookworm "$work/all.tar" >"$work/log" 2>&1 || {
  tail -n 15 "$work/log" >&2
  fail "mmdebstrap could not get them (above); is a Debian mirror in reach?"
}
# Only what is compiled with and loaded: qemu takes a file from here before the machine's own of that name, and a program
# of this machine, a /tmp or the time zones must stay this machine's. Links by absolute names hold within the folder.
tar -x --no-same-owner -C "$folder" -f "$work/all.tar" ./lib ./usr/include ./usr/lib ./usr/share/cmake ./usr/share/eigen3 ./usr/share/pkgconfig
cp "$list" "$folder/laid.txt"

#!/usr/bin/env bash
# Installs the Debian packages named in the lists given (one name a line, # comments), only those that are missing.
# Exits 1 with one line when it cannot.
set -euo pipefail

fail() {
  echo "install-packages.sh: $*" >&2
  exit 1
}

[[ $# -gt 0 ]] || fail "name at least one package list"
for list in "$@"; do
  [[ -r $list ]] || fail "no such list: $list"
done
mapfile -t wanted < <(sed -e 's/#.*//' -e 's/[[:space:]]//g' "$@" | sed '/^$/d' | sort -u)

if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
  fail "this is no Debian system; install by hand: ${wanted[*]}"
fi

missing=()
for package in "${wanted[@]}"; do
  state=$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null || true)
  [[ $state == installed ]] || missing+=("$package")
done
if [[ ${#missing[@]} -eq 0 ]]; then
  echo "packages: all ${#wanted[@]} are there"
  exit 0
fi

echo "packages: installing ${missing[*]}"
as_root=()
if [[ $(id -u) -ne 0 ]]; then
  command -v sudo >/dev/null || fail "not root and no sudo; as root: apt-get install ${missing[*]}"
  as_root=(sudo)
fi
log=$(mktemp)
trap 'rm -f "$log"' EXIT
quietly() {
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive "$@" >"$log" 2>&1 || {
    tail -n 15 "$log" >&2
    return 1
  }
}
quietly apt-get -o Acquire::Retries=3 update || fail "apt-get update failed (above); is a Debian mirror in reach?"
quietly apt-get -o Acquire::Retries=3 install -y --no-install-recommends "${missing[@]}" ||
  fail "apt-get could not install them (above); the lists are made for Debian 12"

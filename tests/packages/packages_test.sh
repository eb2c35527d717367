#!/usr/bin/env bash
# packages_test.sh BUILD TREE: makes both packages of a build and looks at what they hold, say and need; unpacks them and
# works with both programs from where they lie. Installing them and taking them away is packages_in_chroot.sh.
set -euo pipefail
build=$1
tree=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
faults=0

fault() {
  echo "FAULT: $*" >&2
  faults=$((faults + 1))
}
# same NAME WANTED GOT
same() {
  [[ $2 == "$3" ]] && return
  fault "$1 differs:"
  diff <(echo "$2") <(echo "$3") >&2 || true
}

cpack --config "$build/CPackConfig.cmake" -B "$work/made" >"$work/cpack.log" 2>&1 || {
  cat "$work/cpack.log" >&2
  exit 1
}
version=$(sed -n 's/^set(CPACK_PACKAGE_VERSION "\(.*\)")$/\1/p' "$build/CPackConfig.cmake")
arch=$(dpkg --print-architecture)
tablet=$work/made/ligule_${version}_$arch.deb
desk=$work/made/ligule-desk_${version}_$arch.deb
same "the packages made" "$(printf '%s\n' "${desk##*/}" "${tablet##*/}")" \
  "$(find "$work/made" -maxdepth 1 -name '*.deb' -printf '%f\n' | LC_ALL=C sort)"

# --- what they hold ---------------------------------------------------------------------------------------------------

files_of() { dpkg-deb -c "$1" | awk '$1 !~ /^d/ { print $6 }' | LC_ALL=C sort; }
wanted_of() { # NAME MORE...
  local name=$1
  shift
  {
    (cd "$tree/assets" && find . -type f -printf "./usr/share/$name/%P\n")
    printf './usr/%s\n' "bin/$name" "share/applications/$name.desktop" "share/icons/hicolor/scalable/apps/$name.svg" \
      "share/man/man1/$name.1.gz" "share/doc/$name/copyright" "share/doc/$name/changelog.gz" "$@"
  } | LC_ALL=C sort
}
same "what ligule holds" "$(wanted_of ligule lib/udev/rules.d/61-ligule-scale.rules)" "$(files_of "$tablet")"
same "what ligule-desk holds" "$(wanted_of ligule-desk)" "$(files_of "$desk")"
same "files that both hold" "" "$(LC_ALL=C comm -12 <(files_of "$tablet") <(files_of "$desk"))"
for package in "$tablet" "$desk"; do
  same "rights in ${package##*/}" "$(printf '%s\n' '-rw-r--r-- root/root' '-rwxr-xr-x root/root' 'drwxr-xr-x root/root')" \
    "$(dpkg-deb -c "$package" | awk '{ print $1, $2 }' | LC_ALL=C sort -u)"
  # No script runs as root, and nothing is kept as settings.
  same "what governs ${package##*/}" "control md5sums" "$(dpkg-deb --ctrl-tarfile "$package" | tar -t | sed 's,^\./,,; /^$/d' |
    LC_ALL=C sort | xargs)"
done

# --- what they need ---------------------------------------------------------------------------------------------------

needs() { dpkg-deb -f "$1" "$2" | tr ',|' '\n' | sed 's/^ *//; s/ .*//'; }
for wanted in libc6 libstdc++6 libsqlite3-0 libsdl2-2.0-0 libsodium23 libzip4 libdate-tz3 fonts-b612 tzdata; do
  needs "$tablet" Depends | grep -qx "$wanted" || fault "ligule does not ask for $wanted"
done
for wanted in libc6 libstdc++6 libsqlite3-0 libsodium23 libzip4 libqrencode4 tzdata; do
  needs "$desk" Depends | grep -qx "$wanted" || fault "ligule-desk does not ask for $wanted"
done
for unwanted in libpq5 libqt5core5a libgtk-3-0; do
  ! needs "$tablet" Depends | grep -qx "$unwanted" || fault "ligule asks for $unwanted, which a tablet has no use for"
done
! needs "$desk" Depends | grep -qx libsdl2-2.0-0 || fault "ligule-desk asks for a display"
# Loaded where an archive is named: the desk works without it.
! needs "$desk" Depends | grep -qx libpq5 || fault "ligule-desk asks for libpq5, which it can do without"
if [[ -e $build/sync/archive/libligule_archive.a ]]; then
  needs "$desk" Recommends | grep -qx libpq5 || fault "ligule-desk does not recommend libpq5 for its archive"
fi

# --- menu, manual, rule -----------------------------------------------------------------------------------------------

for name in ligule ligule-desk; do
  package=$tablet
  [[ $name == ligule ]] || package=$desk
  dpkg-deb -x "$package" "$work/$name"
  desktop-file-validate "$work/$name/usr/share/applications/$name.desktop" || fault "$name.desktop is not valid"
  rsvg-convert -w 48 "$work/$name/usr/share/icons/hicolor/scalable/apps/$name.svg" -o "$work/icon.png" ||
    fault "$name.svg cannot be drawn"
  manual=$work/$name/usr/share/man/man1/$name.1.gz
  said=$(LC_ALL=C.UTF-8 MANROFFSEQ='' MANWIDTH=80 man --warnings -E UTF-8 -l -Tutf8 -Z "$manual" 2>&1 >/dev/null)
  same "what man says of $name.1" "" "$said"
  same "what mandoc says of $name.1" "" "$(mandoc -T lint -W warning "$manual" 2>&1)"
done
if udevadm verify --help >/dev/null 2>&1; then
  udevadm verify "$work/ligule/usr/lib/udev/rules.d/61-ligule-scale.rules" || fault "the udev rule is not valid"
fi

# --- both programs, from where they were unpacked ---------------------------------------------------------------------

tablet_program=$work/ligule/usr/bin/ligule
desk_program=$work/ligule-desk/usr/bin/ligule-desk
unset LIGULE_ASSETS
same "the tablet's version" "ligule $version" "$("$tablet_program" --version)"
same "the desk's version" "ligule-desk $version" "$("$desk_program" --version)"

# Each manual and its program name the same: every command, what it takes, its options, and what each of these is given.
# items_of MANUAL: a line for each item of its lists: section, name, value.
items_of() {
  zcat "$1" | sed 's/\\-/-/g; s/"//g; s/, / /g' | awk '
    /^\.S[HS] / { part = $2 }
    item { first = $2 ~ /^-[a-z]$/ ? 3 : 2; line = part; for (n = first; n <= NF; ++n) line = line " " $n; print line }
    { item = /^\.TP/ }' | LC_ALL=C sort
}
# asked_for SECTION: the same of what --help says, on standard input.
asked_for() {
  sed -n '/^Positionals:/,/^$/s/^  \([^ ]*\) .*/\1/p; /^Options:/,/^$/s/^  \(-[a-z],\)\?\(--\)/\2/p' |
    sed "s/ REQUIRED.*//; s/  .*//; s/^/$1 /" | LC_ALL=C sort
}
for item in '--ledger FILE' '--headless'; do
  "$tablet_program" --help | asked_for OPTIONS | grep -qxF -- "OPTIONS $item" || fault "the options of ligule could not be listed"
done
same "what ligule's manual (<) and its --help (>) name" "$(items_of "$work/ligule/usr/share/man/man1/ligule.1.gz" | grep '^OPTIONS ')" \
  "$("$tablet_program" --help | asked_for OPTIONS)"
mapfile -t commands < <("$desk_program" --help | sed -n '/^Subcommands:/,$s/^  \([a-z-]*\)  .*/\1/p')
[[ ${#commands[@]} -ge 15 ]] || fault "the commands of ligule-desk could not be listed"
asked=$(for command in "${commands[@]}"; do "$desk_program" "$command" --help | asked_for "$command"; done | grep -v -- ' --help$' |
  LC_ALL=C sort)
[[ $(wc -l <<<"$asked") -ge 100 ]] || fault "what the commands of ligule-desk take could not be listed"
for item in 'labels FOLDER' 'seal --out DIR' 'verify FILE'; do
  grep -qxF -- "$item" <<<"$asked" || fault "what ligule-desk ${item%% *} takes could not be listed"
done
same "what ligule-desk's manual (<) and the --help of its commands (>) name" \
  "$(items_of "$work/ligule-desk/usr/share/man/man1/ligule-desk.1.gz" | grep -v '^[A-Z]')" "$asked"

"$tree/tests/packages/small_day.sh" "$desk_program" "$tablet_program" "$tree/demo-plots/plans/TF24" "$work/day" ||
  fault "a day with the unpacked programs went wrong"

# --- what Debian's own judge says -------------------------------------------------------------------------------------

if command -v lintian >/dev/null; then
  lintian --no-cfg --fail-on error --allow-root "$tablet" "$desk" || fault "lintian names errors"
else
  echo "lintian is not here; tests/run.sh packages installs it"
fi
du -b "$tablet" "$desk" | sed 's,\t.*/,\t,'
[[ $faults -eq 0 ]]

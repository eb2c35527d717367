#!/usr/bin/env bash
# packages_in_chroot.sh BUILD TREE: installs both packages on a Debian 12 that holds nothing else, works with the
# programs there as somebody who is not root, takes the packages away, and holds the system to what it was before.
# Needs root, mmdebstrap and a Debian mirror.
set -euo pipefail
build=$1
tree=$2
root=$(mktemp -d /var/tmp/ligule-chroot.XXXXXX)
faults=0
fault() {
  echo "FAULT: $*" >&2
  faults=$((faults + 1))
}
leave() {
  local status=$?
  local mounted
  for mounted in proc sys; do
    if mountpoint -q "$root/$mounted"; then umount "$root/$mounted"; fi
  done
  rm -rf --one-file-system "$root" "$root.log"
  exit "$status"
}
trap leave EXIT

there() { chroot "$root" env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin LC_ALL=C.UTF-8 DEBIAN_FRONTEND=noninteractive "$@"; }
quietly() {
  "$@" >"$root.log" 2>&1 || {
    tail -n 20 "$root.log" >&2
    return 1
  }
  rm -f "$root.log"
}

echo "-- a fresh Debian 12"
quietly mmdebstrap --variant=minbase --include=man-db,udev,desktop-file-utils bookworm "$root"
mount -t proc proc "$root/proc"
mount --bind /sys "$root/sys"
cp /etc/resolv.conf "$root/etc/resolv.conf"
quietly there apt-get update
there useradd --create-home crew
mkdir "$root/packages"
cpack --config "$build/CPackConfig.cmake" -B "$root/packages" >/dev/null
cp -r "$tree/demo-plots/plans/TF24" "$tree/tests/packages/small_day.sh" "$root/packages/"
chmod -R a+rX "$root/packages"

# What stands on the disk: kind, rights, owner, name, and of files their bytes. What belongs to apt, dpkg and caches is
# their own affair, and so are the libraries that came along, which apt is asked to take away as well.
listing() {
  there find / -xdev \( -path /proc -o -path /sys -o -path /dev -o -path /run -o -path /tmp -o -path /packages -o -path /var/cache \
    -o -path /var/log -o -path /var/lib/apt -o -path /var/lib/dpkg -o -path /etc/ld.so.cache \) -prune \
    -o -printf '%y %m %u:%g %p\n' | LC_ALL=C sort
}
sums() { there find /etc /usr /home -xdev -type f ! -name ld.so.cache -exec sha256sum '{}' + | LC_ALL=C sort -k 2; }
listing >"$root/packages/before"
sums >"$root/packages/before.sums"

echo "-- installed, with what they ask for"
quietly there sh -c 'apt-get install -y --no-install-recommends /packages/*.deb'
[[ -z $(there dpkg --audit) ]] || fault "dpkg is not content: $(there dpkg --audit)"
for name in ligule ligule-desk; do
  there dpkg --verify "$name" | grep . && fault "$name is not as it was packed"
  [[ $(there man -w "$name") == "/usr/share/man/man1/$name.1.gz" ]] || fault "man does not find $name"
  there desktop-file-validate "/usr/share/applications/$name.desktop" || fault "$name.desktop is not valid"
done
# Debian 12's udev judges no file by itself (later ones do: udevadm verify), but names what it cannot read when it takes a
# device through its rules; a rule with a fault is planted first, so that silence says something.
unread() { there udevadm test /sys/devices/system/cpu/cpu0 2>&1 | grep -- "$1:[0-9]" || true; }
echo 'SUBSYSTEM=="tty", NO_SUCH_KEY=="x"' >"$root/usr/lib/udev/rules.d/62-planted.rules"
[[ -n $(unread 62-planted.rules) ]] || fault "udev does not name a rule with a fault: is /sys there?"
rm "$root/usr/lib/udev/rules.d/62-planted.rules"
[[ -z $(unread 61-ligule-scale.rules) ]] || fault "the udev rule is not valid: $(unread 61-ligule-scale.rules)"

echo "-- a day as somebody without rights"
there runuser -u crew -- env HOME=/home/crew bash -c 'cd && /packages/small_day.sh ligule-desk ligule /packages/TF24 /home/crew/season' ||
  fault "a day with the installed programs went wrong"
# The way the menu starts them: the tablet's with no options, the ledger among one's own data; the desk's in a terminal, with
# a shell behind it that has the desk in reach and ends with its input.
menu_line() { sed -n 's/^Exec=//p' "$root/usr/share/applications/$1.desktop" | sed 's/\\\\/\\/g'; } # as a shell quotes it
at_menu() { there runuser -u crew -- env HOME=/home/crew sh -c "$1"; }
printf 'type "CR\\n"\nexpect "Today"\nquit\n' >"$root/packages/menu.drive"
at_menu "$(menu_line ligule) --headless --drive /packages/menu.drive" </dev/null || fault "the tablet's program does not start"
said=$(at_menu "$(menu_line ligule-desk)" <<<'ligule-desk --version') || fault "the desk's line of the menu ends with $?"
[[ $said == *"Subcommands:"*"lay-out"*"ligule-desk $(there dpkg-query -W ligule-desk | cut -f 2)" ]] ||
  fault "the desk's line of the menu says: $said"
season=$(there find /home/crew -type f | LC_ALL=C sort | xargs chroot "$root" sha256sum)
[[ $season == */home/crew/.local/share/ligule/tablet.ledger* ]] || fault "the usual ledger is not where the manual says"

echo "-- removed and purged"
quietly there apt-get purge -y --auto-remove ligule ligule-desk
[[ $(there find /home/crew -type f | LC_ALL=C sort | xargs chroot "$root" sha256sum) == "$season" ]] ||
  fault "a season's files in a home folder were touched"
! there dpkg-query -W ligule ligule-desk 2>/dev/null | grep . || fault "dpkg still knows the packages"
rm -rf "$root/home/crew/season" "$root/home/crew/.local"
listing >"$root/packages/after"
sums >"$root/packages/after.sums"
diff "$root/packages/before" "$root/packages/after" >&2 || fault "other files are there than before (<) installing"
diff "$root/packages/before.sums" "$root/packages/after.sums" >&2 || fault "files differ from those before installing"
[[ $faults -eq 0 ]] && echo "installed, worked, removed: everything is as it was"
[[ $faults -eq 0 ]]

#!/bin/sh
# The Debian packages in FOLDER: installed into a root of their own, used, removed. Nothing of this
# machine is touched. Says what it sees.
#
#   sh tests/package/package_test.sh FOLDER
set -eu

here=$(cd "$(dirname "$0")" && pwd)
folder=$(cd "$1" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
root=$work/root

fail() {
  echo "package: $*" >&2
  exit 1
}

one() { # the one file that a pattern matches
  [ $# -eq 1 ] && [ -e "$1" ] || fail "not one package but: $*"
  echo "$1"
}
program=$(one "$folder"/thole_*.deb)
development=$(one "$folder"/libthole-dev_*.deb)

# dpkg in a root of its own has no database of what this machine has installed: dependencies are
# looked at below.
in_root() {
  if [ "$(id -u)" -eq 0 ]; then as_root=; else as_root=fakeroot; fi
  PATH=$PATH:/usr/sbin:/sbin $as_root dpkg --root="$root" --force-depends --force-not-root \
    --log=/dev/null "$@" >"$work/dpkg" 2>&1 || {
    cat "$work/dpkg" >&2
    fail "dpkg $* failed"
  }
}
files() { (cd "$root" && find . ! -type d ! -path './var/lib/dpkg/*' | LC_ALL=C sort); }
folders() { (cd "$root" && find . -type d ! -path './var/lib/dpkg*' | LC_ALL=C sort); }

echo "== what they are"
for deb in "$program" "$development"; do
  dpkg-deb -f "$deb" Package Version Architecture Section Installed-Size Depends
done
case $(dpkg-deb -f "$program" Depends) in
  *libc6*libstdc++6*libyaml-cpp*) ;;
  *) fail "the libraries of the program were not found: $(dpkg-deb -f "$program" Depends)" ;;
esac
case $(dpkg-deb -f "$program" Maintainer) in
  *@example.invalid\>) ;;
  *) fail "an address that may be somebody's: $(dpkg-deb -f "$program" Maintainer)" ;;
esac

if command -v lintian >/dev/null; then
  echo "== lintian"
  # The address reaches nobody on purpose; a first version answers no report of a fault.
  lintian --fail-on error --suppress-tags bogus-mail-host,initial-upload-closes-no-bugs \
    --allow-root "$program" "$development" || fail "lintian finds errors"
else
  echo "== lintian: skipped, it is not installed"
fi

echo "== installed"
mkdir -p "$root/var/lib/dpkg/info" "$root/var/lib/dpkg/updates"
: >"$root/var/lib/dpkg/status"
files >"$work/files-before"
folders >"$work/folders-before"
in_root --install "$program"
[ "$(dpkg-query --admindir="$root/var/lib/dpkg" -W -f '${Status}' thole)" = "install ok installed" ] ||
  fail "thole is not installed"
for file in usr/bin/thole usr/share/man/man1/thole.1.gz usr/share/doc/thole/copyright \
  usr/share/doc/thole/examples/fjord-skiff.yaml usr/share/thole/materials/metals.yaml \
  usr/share/thole/setup.schema.json usr/share/bash-completion/completions/thole; do
  [ -f "$root/$file" ] || fail "$file was not installed"
done
files | sed 's/[^/]*$//' | uniq -c
odd=$(cd "$root" && find usr ! -type l -perm /022 -print)
[ -z "$odd" ] || fail "others may write: $odd"
# A file that is in a package twice, or that belongs to another, would stop dpkg here.
in_root --install "$development"

thole=$root/usr/bin/thole
echo "== thole --version"
"$thole" --version

mkdir "$work/elsewhere"
cd "$work/elsewhere"
echo "== thole check of a shipped example, from another folder"
code=0
"$thole" check "$root/usr/share/doc/thole/examples/fjord-skiff-best-fix.yaml" >report || code=$?
sed -n 1,4p report
[ "$code" -eq 0 ] || [ "$code" -eq 1 ] || fail "thole check ends with $code"
# Every shipped report is what the shipped program says.
(
  cd "$root/usr/share/doc/thole/examples"
  for setup in *.yaml; do
    "$thole" check "$setup" >"$work/report" || [ $? -eq 1 ] || fail "$setup"
    cmp -s "$work/report" "${setup%.yaml}.txt" || fail "$setup: the shipped report is another"
  done
)
echo "all shipped examples give the shipped reports"
tables=$(cd "$root/usr/share/thole/materials" && LC_ALL=C && sha256sum ./*.yaml |
  sed 's|\./||' | sha256sum | cut -c1-8)
sed -n 1p report | grep -q "tables $tables" || fail "the report names other tables than $tables"
echo "the report names the tables that are shipped: $tables"

echo "== man thole"
if command -v man >/dev/null; then
  MANWIDTH=80 man -M "$root/usr/share/man" thole 2>"$work/warnings" | col -b >"$work/page"
  [ ! -s "$work/warnings" ] || fail "man says: $(cat "$work/warnings")"
  sed -n 1,8p "$work/page"
  wide=$(LC_ALL=C.UTF-8 wc -L <"$work/page")  # columns, where awk may count bytes
  [ "$wide" -le 80 ] || fail "lines of the manual page are too wide: $wide columns"
  man --warnings -E UTF-8 -l -Tutf8 -Z "$root/usr/share/man/man1/thole.1.gz" >/dev/null \
    2>"$work/warnings"
  [ ! -s "$work/warnings" ] || fail "groff says: $(cat "$work/warnings")"
  for file in $(zcat "$root/usr/share/man/man1/thole.1.gz" | grep -o '/usr/share/[a-z./-]*[a-z/]'); do
    [ -e "$root$file" ] || fail "the manual page names $file, which is not installed"
  done
else
  echo "skipped, man is not installed"
fi

echo "== completion"
offered=$(bash --norc -c '. "$1"; COMP_WORDS=(thole sheet --paper ""); COMP_CWORD=3; _thole
  echo "${COMPREPLY[@]}"' bash "$root/usr/share/bash-completion/completions/thole")
echo "thole sheet --paper: $offered"
[ "$offered" = "a4 letter" ] || fail "completion offers $offered"

echo "== an outside program, built with libthole-dev"
if [ -e "$(echo "$root"/usr/lib/*/libthole_core.a)" ]; then
  cmake -S "$here/../consumer" -B "$work/consumer" -DCMAKE_PREFIX_PATH="$root/usr" >"$work/log" 2>&1 &&
    cmake --build "$work/consumer" >>"$work/log" 2>&1 || {
    cat "$work/log" >&2
    fail "an outside program cannot be built"
  }
  (cd "$here/../.." && "$work/consumer/consumer") | grep '^verdict: ' || fail "it gives no verdict"
else
  fail "no library was installed"
fi

echo "== removed"
in_root --remove libthole-dev
in_root --purge thole libthole-dev
files >"$work/files-after"
folders >"$work/folders-after"
cmp "$work/files-before" "$work/files-after" || fail "files are left: $(cat "$work/files-after")"
cmp "$work/folders-before" "$work/folders-after" || fail "folders are left: $(cat "$work/folders-after")"
echo "nothing is left"
echo "Packages: all well."

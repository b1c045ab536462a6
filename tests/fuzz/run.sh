#!/bin/sh
# Corpora, dictionary and a run of every fuzz target; called by tests/run.sh with the build folder
# and the seconds for all. For one target: ... FOLDER SECONDS TARGET. Exit code 1: something was found.
set -eu

root=$(cd "$(dirname "$0")/../.." && pwd)
build=$1
seconds=$2
targets=${3:-unit_text setup_reader material_tables whole_check}
mkdir -p "$build/found"

# seed TARGET FILE...: inputs from the project itself, read and never changed.
seed() {
  folder=$build/seeds/$1
  shift
  rm -rf "$folder"
  mkdir -p "$folder"
  for file in "$@"; do
    [ -e "$file" ] || continue
    cp "$file" "$folder/$(echo "${file#"$root"/}" | tr '/' '-')"
  done
}

# seeds_of TARGET
seeds_of() {
  case $1 in
    setup_reader)
      seed "$1" "$root"/examples/*.yaml "$root"/tests/data/*.yaml "$root"/tests/data/bad/*.yaml \
        "$root"/tests/data/found/* "$root"/tests/fe/*.yaml
      ;;
    whole_check) seed "$1" "$root"/examples/*.yaml "$root"/tests/fe/*.yaml "$root"/tests/data/found/* ;;
    material_tables)
      seed "$1" "$root"/materials/*.yaml "$root"/tests/data/*table*.yaml "$root"/tests/data/found/*
      ;;
    unit_text) # every value written in a table or an example
      mkdir -p "$build/seeds/unit_text"
      cat "$root"/examples/*.yaml "$root"/materials/*.yaml |
        grep -oE "[-+]?[0-9][-0-9./ ]*(['\"]|[a-zA-Z][a-zA-Z0-9/^]*)?( m\^?2?| in\^?2?)?" | sort -u |
        awk -v folder="$build/seeds/unit_text" \
          '{ file = folder "/" NR; printf "%s", $0 > file; close(file) }'
      ;;
  esac
}

# The words of the schema are the keys and choices of a setup.
{
  grep -oE '"[a-z][a-z0-9_ -]*"' "$root/src/reading/setup.schema.json"
  sed -n 's/^ *- name: \([A-Za-z0-9 .-]*\)$/"\1"/p' "$root"/materials/*.yaml
  printf '"%s"\n' "description: " "kind: " "sources: " "entries: " "values: " "basis: " "seen: " \
    "{is: " ", known: " "- " ": " mm in ft lbf N kN MPa ksi deg "N m" kg lb mph kn "5 ft 10 in" 1e9
} | sort -u >"$build/words.dict"

# limits TARGET: seconds for one input, longest input in bytes.
limits() {
  case $1 in
    unit_text) echo 2 4000 ;;
    setup_reader | material_tables) echo 20 100000 ;;
    whole_check) echo 120 20000 ;;
  esac
}

run() {
  target=$1
  seeds_of "$target"
  # shellcheck disable=SC2046
  set -- $(limits "$target")
  mkdir -p "$build/corpus/$target"
  echo "---- $target, $part s"
  "$build/tests/fuzz/fuzz_$target" -max_total_time="$part" -timeout="$1" -max_len="$2" \
    -rss_limit_mb=2048 -malloc_limit_mb=512 -dict="$build/words.dict" -print_final_stats=1 \
    -artifact_prefix="$build/found/$target-" "$build/corpus/$target" "$build/seeds/$target"
}

# shellcheck disable=SC2086
set -- $targets
part=$((seconds / $#))
code=0
for target in "$@"; do
  run "$target" || code=1
done
exit $code

#!/bin/sh
# Builds and tests thole on Debian 12; installs the packages that are missing.
#
#   sh tests/run.sh            g++, warnings are errors, every test
#   sh tests/run.sh sanitize   clang++ with the address and undefined-behaviour sanitizers
#   sh tests/run.sh wasm       core, reading and tests with Emscripten, run under node
#   sh tests/run.sh page       the offline page made, its engine under node against the program, the
#                              page in Chromium and Firefox; a quarter of an hour
#   sh tests/run.sh format     is every source formatted?
#   sh tests/run.sh tidy       clang-tidy over src/
#   sh tests/run.sh coverage   lines and branches that the fast tests reach
#   sh tests/run.sh package    the Debian packages: made twice, installed in a root of their own, removed
#   sh tests/run.sh mutate [OPTION...]   one seeded error at a time: does a test notice? An hour or
#                              two of CPU time; options as in tests/mutate
#   sh tests/run.sh property [SETUPS [SEED]]   invariants of random setups, 100000 when left out
#   sh tests/run.sh fuzz [SECONDS]   libFuzzer over all that reads texts; five minutes in all
#
# Each has its own folder under build/. One test: build/gcc/tests/thole_tests -tc='name*', or
# ctest --test-dir build/gcc -R name.
set -eu

root=$(cd "$(dirname "$0")/.." && pwd)
. "$root/src/cmake/packages.sh"

test_packages="$build_packages ccache doctest-dev python3 python3-yaml python3-jsonschema
  clang clang-format libclang-rt-14-dev"
# What the label `browser` opens, prints and reads pages with.
browser_packages="chromium chromium-driver python3-selenium poppler-utils fonts-dejavu-core"
jobs=$(nproc)
# Function names and lines for a stack, no types: whole debug information of the tests takes gigabytes.
lean_release="-O2 -g1 -DNDEBUG"

# configure FOLDER OPTION...
configure() {
  folder=$1
  shift
  # shellcheck disable=SC2046
  cmake -S "$root" -B "$root/build/$folder" $(common_options) "$@"
}

run_tests() {
  folder=$1
  shift
  ctest --test-dir "$root/build/$folder" -j "$jobs" --output-on-failure --no-tests=error "$@"
}

# tests_in_parts FOLDER [OPTION...]: what ctest lists of thole_tests one by one, in a few processes.
tests_in_parts() {
  tests=$root/build/$1/tests/thole_tests
  shift
  python3 -B "$root/tests/in_parts.py" "$jobs" "$tests" "$@"
}

# One folder for all that g++ tests: with other options it would be built anew.
configure_gcc() {
  configure gcc -DCMAKE_CXX_COMPILER=g++ -DCMAKE_BUILD_TYPE=RelWithDebInfo \
    -DCMAKE_CXX_FLAGS_RELWITHDEBINFO="$lean_release" \
    -DCMAKE_COMPILE_WARNING_AS_ERROR=ON -DTHOLE_QUICK_BUILD=ON -DTHOLE_BUILD_BENCH=ON \
    -DTHOLE_LONG_TESTS=ON
}

gcc() {
  # shellcheck disable=SC2086
  need_packages $test_packages calculix-ccx libbenchmark-dev $browser_packages
  configure_gcc
  cmake --build "$root/build/gcc" --target all all_verify_interface_header_sets
  tests_in_parts gcc
  run_tests gcc -LE '^(unit|published|property|found|recorded|validation|limits)$'
}

sanitize() {
  # shellcheck disable=SC2086
  need_packages $test_packages
  configure sanitize -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_BUILD_TYPE=Debug \
    -DCMAKE_COMPILE_WARNING_AS_ERROR=ON -DTHOLE_QUICK_BUILD=ON \
    -DCMAKE_CXX_FLAGS_DEBUG="-O1 -gline-tables-only" \
    -DCMAKE_CXX_FLAGS="-fsanitize=address,undefined,float-cast-overflow \
-fno-sanitize-recover=all -fno-omit-frame-pointer -D_GLIBCXX_ASSERTIONS"
  cmake --build "$root/build/sanitize"
  # Recorded figures are compared below. Property tests and the longest of the others ask the same code
  # over and over: some random setups and the program's own tests of it will do. The outside project is
  # built without sanitizers and cannot link these libraries.
  tests_in_parts sanitize --test-suite-exclude=recorded \
    '--source-file-exclude=*/property_*,*/changes_test.cpp,*/forces_test.cpp,*/one_missing_test.cpp'
  THOLE_PROPERTY_SETUPS=200 "$root/build/sanitize/tests/thole_tests" \
    '--source-file=*/property_setups_test.cpp'
  run_tests sanitize -L cli
  # The other compiler, where its program is there: CI runs the plain build first.
  if [ -x "$root/build/gcc/src/thole" ]; then
    python3 -B "$root/tests/same_numbers.py" "$root/build/gcc/src/thole" \
      "$root/build/sanitize/src/thole" "$root/examples"
  fi
}

# Counters before any inlining, and conditions not merged: the branches are those of the source.
# Branches that only an exception takes count neither way, but gcov knows them in lines that ran
# only: a `throw` that no test reaches counts with all that can fail on its way. The core is
# src/core with src/checks.
coverage() {
  # shellcheck disable=SC2086
  need_packages $test_packages gcovr
  configure coverage -DCMAKE_CXX_COMPILER=g++ -DCMAKE_BUILD_TYPE=Debug \
    -DCMAKE_CXX_FLAGS_DEBUG="-O1 -fno-early-inlining -finline-small-functions \
--param=logical-op-non-short-circuit=0" \
    -DCMAKE_CXX_FLAGS="--coverage -fprofile-update=atomic" -DTHOLE_QUICK_BUILD=ON
  cmake --build "$root/build/coverage"
  find "$root/build/coverage" -name '*.gcda' -delete
  # One by one, each test would write every counter.
  tests_in_parts coverage '--source-file-exclude=*/property_*'
  THOLE_PROPERTY_SETUPS=1000 "$root/build/coverage/tests/thole_tests" \
    '--source-file=*/property_setups_test.cpp'
  # Writing interrupted, disks full and rights missing would stop the counters as well.
  run_tests coverage -L cli -E '^files'
  report_coverage core 'src/core/' 'src/checks/'
  report_coverage reading 'src/reading/'
  report_coverage report 'src/report/'
}

# report_coverage NAME FOLDER...: a table by file in build/coverage/NAME.txt, its sums printed.
report_coverage() {
  name=$1
  shift
  for folder in "$@"; do
    set -- "$@" --filter "$root/$folder"
    shift
  done
  for kind in lines branches; do
    only_branches=
    [ "$kind" = lines ] || only_branches=--branches
    # shellcheck disable=SC2086
    gcovr --root "$root" --object-directory "$root/build/coverage" \
      --exclude-directories '.*/CMakeFiles/[0-9.]+' \
      --exclude-throw-branches --exclude-unreachable-branches $only_branches "$@" \
      --txt "$root/build/coverage/$name-$kind.txt"
    echo "$name, $kind: $(tail -n 3 "$root/build/coverage/$name-$kind.txt" | grep TOTAL)"
  done
}

format() {
  need_packages clang-format
  find "$root/include" "$root/src" "$root/tests" "$root/examples" \
    \( -name '*.hpp' -o -name '*.cpp' \) -print0 |
    xargs -0 clang-format --dry-run -Werror
  echo "All sources are formatted."
}

# The date of the last commit, so that the packages come out the same again; of now without git.
source_date() {
  git -C "$root" log -1 --format=%ct 2>/dev/null || date +%s
}

package() {
  # shellcheck disable=SC2086
  need_packages $build_packages ccache dpkg-dev lintian man-db groff-base bsdextrautils
  SOURCE_DATE_EPOCH=$(source_date)
  export SOURCE_DATE_EPOCH
  configure package -DCMAKE_CXX_COMPILER=g++ -DCMAKE_BUILD_TYPE=Release \
    -DCMAKE_INSTALL_PREFIX=/usr -DTHOLE_BUILD_TESTS=OFF
  cmake --build "$root/build/package"
  packages=$root/build/package/package
  rm -rf "$packages"/*.deb "$packages/again"
  (cd "$root/build/package" && cpack && cpack -B "$packages/again")
  for deb in "$packages"/*.deb; do
    cmp "$deb" "$packages/again/$(basename "$deb")"
  done
  echo "Made twice, the packages are the same."
  sh "$root/tests/package/package_test.sh" "$packages"
}

tidy() {
  # shellcheck disable=SC2086
  need_packages $test_packages clang-tidy
  configure tidy -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_BUILD_TYPE=Debug -DTHOLE_BUILD_TESTS=OFF
  cmake --build "$root/build/tidy" --target thole_embed
  run-clang-tidy -quiet -j "$jobs" -p "$root/build/tidy" "^$root/src/"
}

# Four quarters at a time; another SEED makes other setups. What breaks is printed shrunk.
property() {
  # shellcheck disable=SC2086
  need_packages $test_packages libbenchmark-dev
  configure_gcc
  cmake --build "$root/build/gcc" --target thole_tests
  THOLE_PROPERTY_SETUPS=${1:-100000} THOLE_PROPERTY_SEED=${2:-1}
  export THOLE_PROPERTY_SETUPS THOLE_PROPERTY_SEED
  # Every quarter prints how many it took: --verbose.
  run_tests gcc -R '^setups: .* quarter$' --timeout 864000 --verbose
}

# Four targets one after another, each for its part of the time; see tests/fuzz/README.md. New inputs
# of interest go to build/fuzz/corpus/ and serve the next run; a finding is left in build/fuzz/found/.
fuzz() {
  # shellcheck disable=SC2086
  need_packages $build_packages ccache clang libclang-rt-14-dev llvm dpkg-dev
  fetch_yaml_source
  configure fuzz -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_BUILD_TYPE=Debug \
    -DCMAKE_CXX_FLAGS_DEBUG="-O1 -gline-tables-only" \
    -DCMAKE_CXX_FLAGS="-fsanitize=fuzzer-no-link,address,undefined,float-cast-overflow \
-fno-sanitize-recover=all -D_GLIBCXX_ASSERTIONS" \
    -DTHOLE_YAML_SOURCE="$root/build/yaml-source/yaml-cpp" \
    -DTHOLE_BUILD_FUZZ=ON -DTHOLE_QUICK_BUILD=ON -DTHOLE_BUILD_TESTS=OFF -DTHOLE_BUILD_CLI=OFF
  cmake --build "$root/build/fuzz" --target fuzz_targets
  sh "$root/tests/fuzz/run.sh" "$root/build/fuzz" "${1:-300}"
}

mutate() {
  # shellcheck disable=SC2086
  need_packages $test_packages python3-yaml lld
  nice -n 10 "$root/tests/mutate" --folder "$root/build/mutate" --refresh --jobs "$jobs" \
    --at-least 95 "$@"
}

wasm() {
  # shellcheck disable=SC2086
  need_packages $build_packages $wasm_packages doctest-dev
  need_node
  prepare_wasm
  # -O2: smaller settings make Eigen thirty times slower. One file, because node refuses to fetch
  # the .wasm beside it. NODERAWFS: the tests read files.
  # shellcheck disable=SC2046,SC2086
  emcmake cmake -S "$root" -B "$root/build/wasm" $(common_options) \
    -DCMAKE_BUILD_TYPE=Release -DCMAKE_CXX_FLAGS_RELEASE=-O2 \
    -DCMAKE_EXE_LINKER_FLAGS="-O2 -sSINGLE_FILE=1 -sALLOW_MEMORY_GROWTH=1 -sNODERAWFS=1" \
    $wasm_options -DTHOLE_BUILD_CLI=OFF
  cmake --build "$root/build/wasm"
  node "$root/build/wasm/tests/thole_tests.js"
}

# Debian's Python has Debian's selenium. The program is the one that examples/page.sh compares with.
page() {
  # shellcheck disable=SC2086
  need_packages $browser_packages firefox-esr
  sh "$root/examples/page.sh" test
  program=$root/build/gcc/src/thole
  [ -x "$program" ] || program=$root/build/release/src/thole
  /usr/bin/python3 -B "$root/tests/page/browser_test.py" "$root/build/page/thole.html" "$program" \
    "$root/examples"
}

case $#:${1-} in
  0:) gcc ;;
  1:sanitize | 1:wasm | 1:page | 1:format | 1:tidy | 1:coverage | 1:package) "$1" ;;
  1:fuzz | 2:fuzz | [123]:property | *:mutate) "$@" ;;
  *)
    echo "usage: sh tests/run.sh [sanitize | wasm | page | format | tidy | coverage | package | fuzz [SECONDS] |
         property [SETUPS [SEED]] | mutate [OPTION...]]" >&2
    exit 2
    ;;
esac

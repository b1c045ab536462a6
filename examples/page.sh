#!/bin/sh
# Makes the offline page, build/page/thole.html: one file that opens in any browser of the last few
# years, from a disk or a memory stick, with the same engine as the program. Installs the packages
# that it needs.
#
#   sh examples/page.sh        the page
#   sh examples/page.sh test   and its engine against the program, over all examples
set -eu

root=$(cd "$(dirname "$0")/.." && pwd)
. "$root/src/cmake/packages.sh"

# All but what computes is made small: src/CMakeLists.txt lists that. With -Oz em++ forbids all
# inlining, which makes the text code larger by a third and Eigen slow: it is allowed again. ccache
# goes through Emscripten's own hook, which sees the compiler's real command.
make_page() {
  # shellcheck disable=SC2086
  need_packages $build_packages $wasm_packages python3
  need_node
  prepare_wasm
  EM_COMPILER_WRAPPER=ccache
  export EM_COMPILER_WRAPPER
  # shellcheck disable=SC2086
  emcmake cmake -S "$root" -B "$root/build/page" -G Ninja -DCMAKE_BUILD_TYPE=Release \
    -DCMAKE_CXX_FLAGS_RELEASE="-Oz -finline-functions -DNDEBUG" \
    -DCMAKE_CXX_FLAGS="-msimd128 -fno-threadsafe-statics" $wasm_options \
    -DTHOLE_BUILD_TESTS=OFF -DTHOLE_BUILD_CLI=OFF
  cmake --build "$root/build/page" --target thole_engine
  # Functions that differ in a number only become one; Emscripten asks for all but that.
  packed=$root/build/page/packed
  mkdir -p "$packed"
  cp "$root/build/page/src/thole_engine.js" "$packed/"
  wasm-opt --enable-simd --enable-exception-handling --enable-mutable-globals --enable-sign-ext \
    --enable-nontrapping-float-to-int --enable-bulk-memory --merge-similar-functions -Oz \
    "$root/build/page/src/thole_engine.wasm" -o "$packed/thole_engine.wasm"
  # By the compiler that Emscripten brings along.
  clang-14 --target=wasm32 -nostdlib -std=c++20 -Oz -fno-exceptions -Wall -Wextra -Wconversion \
    -Werror -Wl,--no-entry,--strip-all,--export=__heap_base,-z,stack-size=1024 \
    "$root/src/page/unpack_lzma.cpp" -o "$packed/unpack_lzma.wasm"
  python3 -B "$root/src/page/pack.py" "$root/src/page" "$packed" "$root/build/page/thole.html"
}

# With the program of the plain tests where it is there, else one made for this.
test_page() {
  program=$root/build/gcc/src/thole
  if [ ! -x "$program" ]; then
    # shellcheck disable=SC2046
    cmake -S "$root" -B "$root/build/release" $(common_options) -DCMAKE_BUILD_TYPE=Release \
      -DTHOLE_BUILD_TESTS=OFF
    cmake --build "$root/build/release" --target thole
    program=$root/build/release/src/thole
  fi
  node "$root/tests/page/same_numbers.mjs" "$root/build/page/packed" "$program" "$root/examples"
}

case $#:${1-} in
  0:) make_page ;;
  1:test)
    make_page
    test_page
    ;;
  *)
    echo "usage: sh examples/page.sh [test]" >&2
    exit 2
    ;;
esac

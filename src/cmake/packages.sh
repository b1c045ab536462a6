# Sourced by tests/run.sh and examples/run.sh: the Debian packages that thole is built with.

build_packages="g++ cmake ninja-build libboost-dev libeigen3-dev libcli11-dev libyaml-cpp-dev
  libfmt-dev"

# need_packages NAME...: installs those that are missing; does nothing, and needs neither network
# nor rights, when all are there.
need_packages() {
  missing=
  for package in "$@"; do
    case $(dpkg-query -W -f '${Status}' "$package" 2>/dev/null || true) in
      *"ok installed") ;;
      *) missing="$missing $package" ;;
    esac
  done
  [ -n "$missing" ] || return 0
  as_root=
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
      echo "Missing packages, and neither root nor sudo to install them:$missing" >&2
      return 1
    fi
    as_root="sudo"
  fi
  echo "Installing:$missing" >&2
  $as_root apt-get update >&2 || return 1
  # shellcheck disable=SC2086
  $as_root env DEBIAN_FRONTEND=noninteractive \
    apt-get install -y --no-install-recommends $missing >&2
}

# Prints the CMake options that every build here has in common.
common_options() {
  printf '%s\n' -G Ninja
  if command -v ccache >/dev/null; then
    printf '%s\n' -DCMAKE_CXX_COMPILER_LAUNCHER=ccache
  fi
}

# ---- For Emscripten; $root is the folder of the project ------------------------------------------

wasm_packages="ccache emscripten dpkg-dev"

# The source of yaml-cpp, through the machine's own package sources with deb for deb-src.
fetch_yaml_source() {
  folder=$root/build/yaml-source
  if [ -e "$folder/yaml-cpp/CMakeLists.txt" ]; then
    return 0
  fi
  rm -rf "$folder"
  mkdir -p "$folder/lists/partial" "$folder/parts"
  if [ -e /etc/apt/sources.list.d/debian.sources ]; then
    sed 's/^Types:.*/Types: deb-src/' /etc/apt/sources.list.d/debian.sources \
      >"$folder/parts/debian.sources"
  else
    sed -n 's/^deb /deb-src /p' /etc/apt/sources.list >"$folder/parts/debian.list"
  fi
  set -- -o Dir::Etc::sourcelist=/dev/null -o Dir::Etc::sourceparts="$folder/parts" \
    -o Dir::State::lists="$folder/lists" -o APT::Sandbox::User=""
  apt-get "$@" update
  (cd "$folder" && apt-get "$@" source yaml-cpp)
  mv "$folder"/yaml-cpp-*/ "$folder/yaml-cpp"
}

need_node() {
  command -v node >/dev/null || need_packages nodejs
}

# What em++ builds with: the source of yaml-cpp, a thole_embed that runs here, and the headers that
# it must see without the rest of the host's. Sets wasm_options for emcmake cmake.
prepare_wasm() {
  fetch_yaml_source
  # shellcheck disable=SC2046
  cmake -S "$root" -B "$root/build/embed" $(common_options) -DCMAKE_CXX_COMPILER=g++ \
    -DCMAKE_BUILD_TYPE=Debug -DTHOLE_BUILD_TESTS=OFF -DTHOLE_BUILD_CLI=OFF
  cmake --build "$root/build/embed" --target thole_embed
  stage=$root/build/wasm-stage
  mkdir -p "$stage"
  ln -sfn /usr/include/eigen3/Eigen "$stage/Eigen"
  for library in boost fmt doctest; do
    ln -sfn "/usr/include/$library" "$stage/$library"
  done
  # Debian keeps the JavaScript modules of Emscripten's optimiser here, where a foreign node does
  # not look.
  NODE_PATH=/usr/share/nodejs
  export NODE_PATH
  wasm_options="-DTHOLE_STAGE=$stage -DTHOLE_YAML_SOURCE=$root/build/yaml-source/yaml-cpp
    -DTHOLE_EMBED=$root/build/embed/src/thole_embed"
}

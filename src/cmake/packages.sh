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

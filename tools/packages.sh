# What the project needs from the distribution, sourced by start, test and dev. Debian 12 or alike.
packages_build="g++ cmake ninja-build ccache mold pkg-config libfmt-dev libtomlplusplus-dev nlohmann-json3-dev libexpected-dev
  libcli11-dev libcpp-httplib-dev libpng-dev libfreetype-dev zlib1g-dev coinor-libcbc-dev libxlsxwriter-dev"
packages_test="doctest-dev librapidcheck-dev libudunits2-dev liberfa-dev libxml2-utils nodejs
  libsundials-dev libsuitesparse-dev freefem++"
packages_lint="clang-format-19 clang-tidy-19 clang-19 libclang-rt-19-dev"
packages_bench="time libsundials-dev libsuitesparse-dev libbenchmark-dev libhypre-dev libopenmpi-dev libopenblas-dev"

# Installs what is missing of the named lists. Says what it does; needs root or sudo only when something is missing.
install_packages() {
  missing=""
  for package in $*; do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'install ok installed' || missing="$missing $package"
  done
  [ -z "$missing" ] && return 0
  # A tool that is there from elsewhere is as good as its package.
  needed=""
  for package in $missing; do
    case "$package" in
      nodejs) command -v node >/dev/null 2>&1 || needed="$needed nodejs npm" ;;
      *) needed="$needed $package" ;;
    esac
  done
  [ -z "$needed" ] && return 0
  echo "installing:$needed"
  as_root=""
  if [ "$(id -u)" != 0 ]; then
    command -v sudo >/dev/null 2>&1 || { echo "these packages are missing and this is not root:$needed" >&2; return 1; }
    as_root=sudo
  fi
  $as_root env DEBIAN_FRONTEND=noninteractive apt-get update -qq &&
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $needed >/dev/null
}

# The tests need node 18 or newer. A system that has none so new gets one from the npm registry, kept in .cache/.
ensure_node() {
  major=$(node --version 2>/dev/null | sed 's/^v//; s/\..*//')
  [ "${major:-0}" -ge 18 ] && return 0
  command -v npm >/dev/null 2>&1 || return 1
  [ -x .cache/node/node_modules/node/bin/node ] ||
    npm install --silent --no-audit --no-fund --prefix .cache/node node@20 || return 1
  PATH="$PWD/.cache/node/node_modules/node/bin:$PATH"
  export PATH
}

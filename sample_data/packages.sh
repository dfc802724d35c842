# The Debian packages that Steelyard is built and tested with, and the one way to install those that are missing.
# Sourced by tour.sh and by tests/run.sh; the two lists are said here and nowhere else.

build_packages="g++ cmake make pkg-config libsqlite3-dev sqlite3 libxlsxwriter-dev libeigen3-dev zlib1g-dev
nlohmann-json3-dev libssl-dev libboost-dev libboost-program-options-dev libboost-test-dev libpcre2-dev libqrencode-dev"

# What the tests read results back with.
test_packages="python3-openpyxl python3-numpy python3-scipy python3-jsonschema libreoffice-calc-nogui poppler-utils
fonts-dejavu-core locales zbar-tools openssl"

# install_missing PACKAGE…: installs those that dpkg does not know as installed; quiet where all are there.
install_missing() {
  missing=""
  for package in "$@"; do
    dpkg -s "$package" 2>/dev/null | grep -q '^Status: install ok installed' || missing="$missing $package"
  done
  [ -z "$missing" ] && return 0
  as_root=""
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
      echo "these packages are missing and only root can install them:$missing" >&2
      return 1
    fi
    as_root="sudo"
  fi
  echo "installing:$missing"
  # A list of packages that is out of date is the usual reason why an installation fails.
  $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends $missing >/dev/null ||
    { $as_root apt-get update >/dev/null &&
      $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends $missing >/dev/null; }
}

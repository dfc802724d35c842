# Installs what the tests of the field page need and is missing. Sourced after sample_data/packages.sh; run by itself it
# puts the two packages of npm into build/node_modules.

# install_browser_tests FOLDER: Debian's node, npm and chromium where these commands are missing, and the packages that
# package.json pins into FOLDER/node_modules. Quiet where all is there.
install_browser_tests() {
  local here folder="$1" debian="" wanted="" there=yes name version
  here="$(dirname "${BASH_SOURCE[0]}")"
  command -v node >/dev/null || debian="$debian nodejs"
  command -v npm >/dev/null || debian="$debian npm"
  [ -x /usr/bin/chromium ] || debian="$debian chromium"
  if [ -n "$debian" ] && ! install_missing $debian; then
    echo "the tests of the field page need$debian, which could not be installed" >&2
    return 1
  fi
  while read -r name version; do
    wanted="$wanted $name@$version"
    grep -qs "\"version\": \"$version\"" "$folder/node_modules/$name/package.json" || there=""
  done < <(sed -n '/"dependencies"/,/}/s/.*"\([a-z-]*\)": "\([0-9.]*\)".*/\1 \2/p' "$here/package.json")
  [ -n "$there" ] && return 0
  echo "installing from npm:$wanted"
  mkdir -p "$folder"
  # All at once, since npm takes out what is neither named nor saved. A lock file would say no more than the two versions do: neither package has dependencies. Installing runs no script.
  if ! npm install --prefix "$folder" --no-save --no-package-lock --ignore-scripts --no-audit --no-fund --loglevel=error \
      $wanted >/dev/null; then
    echo "npm could not install$wanted into $folder/node_modules: the tests of the field page need them" >&2
    return 1
  fi
}

if [ "${BASH_SOURCE[0]}" = "$0" ]; then
  root="$(cd "$(dirname "$0")/../../.." && pwd)"
  . "$root/sample_data/packages.sh"
  install_browser_tests "$root/build"
fi

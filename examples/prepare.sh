# Shared by examples/run and tests/run (sourced, never run): brings the packages and builds the program.

# need_packages LIST…: installs what the lists name and the machine lacks. Asks the package index only when something is missing. A program that came
# to the machine in another way (npm with its maker's node) counts as its package: both would not go together.
need_packages() {
  local missing=() package
  for package in $(sed 's/#.*//' "$@"); do
    [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || command -v "$package" >/dev/null || missing+=("$package")
  done
  [ ${#missing[@]} -eq 0 ] && return 0
  if [ "$(id -u)" -ne 0 ]; then
    echo "missing packages; as root: apt-get install ${missing[*]}" >&2
    return 1
  fi
  echo "installing: ${missing[*]}" >&2
  export DEBIAN_FRONTEND=noninteractive
  apt-get update -qq >&2 && apt-get install -y -qq --no-install-recommends "${missing[@]}" >&2
}

# build_in FOLDER PRESET "TARGETS" CMAKE-OPTION…: configures by one of CMakePresets.json and builds; an unchanged folder costs a second or two.
build_in() {
  local folder=$1 preset=$2 targets=$3
  shift 3
  mkdir -p "$folder"
  # What was compiled for one copy of the project serves every other.
  export CCACHE_BASEDIR=$project CCACHE_NOHASHDIR=1
  cmake -S "$project" --preset "$preset" -B "$folder" "$@" >"$folder/configure.log" 2>&1 || { cat "$folder/configure.log" >&2; return 1; }
  # shellcheck disable=SC2086 # a list of targets
  ninja -C "$folder" $targets
}

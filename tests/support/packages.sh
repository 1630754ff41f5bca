# The Debian packages that gripline needs, typed once: sourced by `run` and `check`.
# Says which are missing, installs them with apt, and goes on.

build_packages="g++ cmake ninja-build pkg-config portaudio19-dev libsndfile1-dev libkissfft-dev libncurses-dev
  libcli11-dev nlohmann-json3-dev libpugixml-dev libzip-dev
  libtomlplusplus-dev nettle-dev libsqlite3-dev python3"
# To test: doctest, a peer to compare onsets and pitch with, readers of MIDI, ABC, XML and zip archives, and what plays sound into the program without a sound card.
check_packages="doctest-dev libaubio-dev abcmidi python3-mido libxml2-utils unzip tmux procps pulseaudio pulseaudio-utils libasound2-plugins"

# need_packages LIST...: installs what is missing. Where there is no dpkg, says what is needed and goes on.
need_packages() {
  if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
    [ -n "${GRIPLINE_QUIET:-}" ] || echo "gripline: this is no Debian; it needs what Debian calls: $*" >&2
    return 0
  fi
  present=$(dpkg-query -W -f '${db:Status-Status} ${Package}\n' "$@" 2>/dev/null | sed -n 's/^installed //p')
  missing=""
  for package in "$@"; do
    printf '%s\n' "$present" | grep -qx -- "$package" || missing="$missing $package"
  done
  [ -n "$missing" ] || return 0
  echo "gripline: these Debian packages are missing:$missing" >&2
  as_root=""
  if [ "$(id -u)" != 0 ]; then
    command -v sudo >/dev/null || { echo "gripline: no sudo here; as root run: apt-get install$missing" >&2; return 1; }
    as_root="sudo"
  fi
  echo "gripline: installing them (apt-get, a minute or two)" >&2
  { $as_root env DEBIAN_FRONTEND=noninteractive apt-get update -q &&
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends $missing; } >&2 ||
    { echo "gripline: apt-get failed; install by hand:$missing" >&2; return 1; }
}

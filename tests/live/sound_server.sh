#!/usr/bin/env bash
# A private sound server without a sound card, for the live tests: a PulseAudio of our own, reached through ALSA.
#   eval "$(tests/live/sound_server.sh start DIR)"   starts it in DIR (made if missing) and prints the environment to use
#   tests/live/sound_server.sh stop DIR              ends it (and nothing else)
#   tests/live/sound_server.sh env DIR               prints the environment only
# Then `paplay --device=gtr take.wav` plays a take into the live input; the program's own output goes to the sink `spk`.
set -eu
case "${1:-}" in start|stop|env) ;; *) sed -n '2,6s/^# \{0,1\}//p' "$0"; exit 2 ;; esac
dir=${2:?"say which folder the server lives in"}
[ "$1" = start ] && mkdir -p -m 0700 "$dir"
dir=$(cd "$dir" && pwd)

print_env() {
  cat <<END
export XDG_RUNTIME_DIR='$dir' HOME='$dir' PULSE_SERVER='unix:$dir/pa.sock' PULSE_COOKIE='$dir/cookie' ALSA_CONFIG_PATH='$dir/asound.conf'
export JACK_NO_START_SERVER=1 JACK_NO_AUDIO_RESERVATION=1
unset XDG_CONFIG_HOME XDG_STATE_HOME XDG_DATA_HOME XDG_CACHE_HOME
END
}

# Runs, and is not just waiting for its parent to notice that it ended.
runs() { [ -d "/proc/$1" ] && ! grep -q '^State:[[:space:]]*Z' "/proc/$1/status" 2>/dev/null; }

stop() {
  [ -f "$dir/pa.pid" ] || return 0
  pid=$(cat "$dir/pa.pid")
  kill "$pid" 2>/dev/null || true
  for _ in $(seq 100); do runs "$pid" || break; sleep 0.02; done
  if runs "$pid"; then kill -9 "$pid" 2>/dev/null || true; fi
  rm -f "$dir/pa.pid" "$dir/pa.sock"
}

start() {
  # norewinds: without it an idle sink's monitor gives no sound for up to two seconds.
  cat > "$dir/bench.pa" <<END
load-module module-native-protocol-unix socket=$dir/pa.sock auth-anonymous=1
load-module module-null-sink sink_name=gtr rate=48000 channels=2 format=float32le norewinds=1
load-module module-null-sink sink_name=spk rate=48000 channels=2 format=float32le norewinds=1
load-module module-remap-source source_name=mic master=gtr.monitor
set-default-sink spk
set-default-source mic
END
  cat > "$dir/asound.conf" <<END
pcm.!default { type pulse }
ctl.!default { type pulse }
END
  eval "$(print_env)"
  # Real-time as on a player's machine, where that is allowed: without it the sinks slip on a busy machine.
  pulseaudio -n -F "$dir/bench.pa" --daemonize=no --use-pid-file=no --exit-idle-time=-1 --realtime=yes --high-priority=yes \
    </dev/null >"$dir/pa.log" 2>&1 &
  echo $! > "$dir/pa.pid"
  for _ in $(seq 250); do
    pactl info >/dev/null 2>&1 && return 0
    sleep 0.02
  done
  echo "the private sound server did not come up within 5 s; its log: $dir/pa.log" >&2
  stop
  return 1
}

case "$1" in
  start) start; print_env ;;
  stop) stop ;;
  env) print_env ;;
esac

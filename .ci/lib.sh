# What ./run and ./test share. To be sourced by bash.

export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1
# Neither the SDK nor the app needs the ICU library.
export DOTNET_SYSTEM_GLOBALIZATION_INVARIANT=1
# The SDK wants a home folder; some service accounts have none.
if [ -z "${HOME:-}" ] || [ ! -w "${HOME:-/}" ]; then
  export DOTNET_CLI_HOME="${TMPDIR:-/tmp}/kitorders-dotnet-$(id -u)"
  mkdir -p -m 700 "$DOTNET_CLI_HOME"
fi

say() { printf '%s\n' "$*" >&2; }
stop() { say "$*"; exit 1; }

need_sdk() {
  command -v dotnet > /dev/null || stop "The .NET 10 SDK is not installed: there is no dotnet on the PATH.
Install it (https://dotnet.microsoft.com/download/dotnet/10.0), then run this again."
  dotnet --list-sdks | grep -q '^10\.' || stop "The .NET 10 SDK is not installed; dotnet has: $(dotnet --list-sdks | cut -d' ' -f1 | tr '\n' ' ')
Install it (https://dotnet.microsoft.com/download/dotnet/10.0), then run this again."
}

# Changes when a source file is added, changed or removed.
sources_mark() {
  local root=$1
  shift
  (cd "$root" && find "$@" ./*.props global.json \( -name bin -o -name obj \) -prune -o -type f -printf '%p %s %T@\n' | LC_ALL=C sort | sha256sum)
}

build() {
  local log
  log=$(mktemp)
  # No build server is left behind to hold memory after the build.
  if ! dotnet build "$1" -c Release -v q --nologo -nodeReuse:false -p:UseSharedCompilation=false > "$log" 2>&1; then
    cat "$log" >&2
    rm -f "$log"
    stop "The build failed; the lines above say where."
  fi
  rm -f "$log"
}

# "sudo -n" where it works without a password, nothing for root, and a failure for everybody else.
as_root() {
  if [ "$(id -u)" = 0 ]; then
    "$@"
  elif command -v sudo > /dev/null && sudo -n true 2> /dev/null; then
    sudo -n "$@"
  else
    return 1
  fi
}

# Installs a Debian package; fails without a word where that is not possible or not allowed.
install_package() {
  command -v apt-get > /dev/null || return 1
  as_root true || return 1
  say "Installing the package $1..."
  local log
  log=$(mktemp)
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends "$1" > "$log" 2>&1 ||
    { as_root apt-get update > "$log" 2>&1 &&
      as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends "$1" >> "$log" 2>&1; } ||
    { tail -n 15 "$log" >&2; rm -f "$log"; return 1; }
  rm -f "$log"
}

has_postgres() {
  local folder
  for folder in /usr/lib/postgresql/*/bin /usr/pgsql-*/bin /usr/local/pgsql/bin ${PATH//:/ }; do
    if [ -x "$folder/initdb" ] && [ -x "$folder/pg_ctl" ] && [ -x "$folder/postgres" ]; then
      return 0
    fi
  done
  return 1
}

need_postgres() {
  has_postgres && return 0
  # The package would start a server of its own at once; KitOrders only needs the programs.
  local quiet=/etc/postgresql-common/createcluster.d/kitorders.conf
  if command -v apt-get > /dev/null && [ ! -e /etc/postgresql-common/createcluster.conf ]; then
    as_root mkdir -p "${quiet%/*}" &&
      printf 'create_main_cluster = false\n' | as_root tee "$quiet" > /dev/null || true
  fi
  install_package postgresql && has_postgres && return 0
  stop "PostgreSQL's server programs (15 or newer) are missing and could not be installed from here.
  Debian, Ubuntu:  sudo apt-get install postgresql
Or name a database of your own: ConnectionStrings__KitOrders='Host=...;Database=...;Username=...;Password=...' ./run
Then run this again."
}

find_browser() {
  local name
  for name in chromium chromium-browser google-chrome google-chrome-stable; do
    # On Ubuntu, chromium-browser may be a script that only points at a snap.
    if command -v "$name" > /dev/null && "$name" --version > /dev/null 2>&1; then
      command -v "$name"
      return 0
    fi
  done
  return 1
}

# Sets KITORDERS_BROWSER, the program that the journeys drive.
need_browser() {
  if [ -n "${KITORDERS_BROWSER:-}" ]; then
    [ -x "$KITORDERS_BROWSER" ] || stop "KITORDERS_BROWSER names $KITORDERS_BROWSER, which is not a program."
  elif ! KITORDERS_BROWSER=$(find_browser); then
    # Ubuntu's package of that name is a snap, which a test cannot drive.
    if [ -r /etc/os-release ] && ! grep -q '^ID=ubuntu' /etc/os-release && install_package chromium; then
      KITORDERS_BROWSER=$(find_browser) || KITORDERS_BROWSER=
    fi
    [ -n "${KITORDERS_BROWSER:-}" ] || stop "The tests drive a Chromium browser, which is missing and could not be installed from here.
  Debian:  sudo apt-get install chromium
  Ubuntu:  install Google Chrome's or another Chromium's .deb package (the chromium snap cannot be driven by tests)
Or name one: KITORDERS_BROWSER=/path/to/chromium ./test
Then run this again."
  fi
  export KITORDERS_BROWSER
}

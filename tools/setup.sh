#!/bin/sh
# Makes .venv with the pinned packages of requirements/$1.txt and this project in it.
# On a bare Debian it installs python3-venv first where it may (as root).
set -eu
want=$1
python=${PYTHON:-python3}
if ! command -v "$python" >/dev/null 2>&1 || ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        echo "Installing python3-venv (Debian package) ..."
        apt-get update -qq && apt-get install -y -qq python3 python3-venv >/dev/null
    else
        echo "Python 3.11 with its venv module is needed: as root, 'apt-get install python3-venv', then run make again." >&2
        exit 1
    fi
fi
"$python" -c 'import sys; sys.exit(0 if sys.version_info >= (3, 11) else 1)' || {
    echo "Python 3.11 or newer is needed; this is $("$python" --version)." >&2
    exit 1
}
# need PACKAGE FILE...: install a Debian package unless one of its programs or files is there.
need() {
    package=$1
    shift
    for program in "$@"; do
        if [ -e "$program" ] || command -v "$program" >/dev/null 2>&1; then
            return 0
        fi
    done
    if [ "$(id -u)" != 0 ] || ! command -v apt-get >/dev/null 2>&1; then
        echo "The tests need $1: as root, 'apt-get install $package', then run make again." >&2
        exit 1
    fi
    echo "Installing $package (Debian package, for the tests) ..."
    apt-get update -qq
    DEBIAN_FRONTEND=noninteractive apt-get install -y -qq "$package" >/dev/null
}
if [ "$want" = test ]; then
    # a real database server and a real browser; two general tools that check certificates
    need postgresql initdb /usr/lib/postgresql/*/bin/initdb
    need chromium chromium
    need libatomic1 /usr/lib/*/libatomic.so.1 # for the program that drives the browser
    need openssl openssl
    need poppler-utils pdfsig
    need git git
fi
[ -x .venv/bin/python ] || "$python" -m venv .venv
echo "Setting up .venv ($want) ..."
.venv/bin/python -m pip install -q --disable-pip-version-check --require-hashes -r "requirements/$want.txt"
.venv/bin/python -m pip install -q --disable-pip-version-check --no-deps --no-build-isolation -e . 2>/dev/null ||
    .venv/bin/python -m pip install -q --disable-pip-version-check --no-deps -e .
touch ".venv/$want.stamp"
[ "$want" = run ] || touch .venv/run.stamp

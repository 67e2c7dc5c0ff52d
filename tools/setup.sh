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
# Programs that the tests start: here a real PostgreSQL server of their own.
if [ "$want" = test ] && ! ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1 && ! command -v initdb >/dev/null 2>&1; then
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        echo "Installing postgresql (Debian package, for the tests) ..."
        apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq postgresql >/dev/null
    else
        echo "The tests need PostgreSQL: as root, 'apt-get install postgresql', then run make again." >&2
        exit 1
    fi
fi
# And the browser in which the pages of the bench are tried.
if [ "$want" = test ] && ! command -v chromium >/dev/null 2>&1; then
    if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; then
        echo "Installing chromium (Debian package, for the tests) ..."
        apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq chromium >/dev/null
    else
        echo "The tests need Chromium: as root, 'apt-get install chromium', then run make again." >&2
        exit 1
    fi
fi
[ -x .venv/bin/python ] || "$python" -m venv .venv
echo "Setting up .venv ($want) ..."
.venv/bin/python -m pip install -q --disable-pip-version-check --require-hashes -r "requirements/$want.txt"
.venv/bin/python -m pip install -q --disable-pip-version-check --no-deps --no-build-isolation -e . 2>/dev/null ||
    .venv/bin/python -m pip install -q --disable-pip-version-check --no-deps -e .
touch ".venv/$want.stamp"
[ "$want" = run ] || touch .venv/run.stamp

-- What the bench keeps beside the journal. Benches of before this step made these tables without
-- a number: those that are there stay as they are, with all that is in them.
CREATE TABLE IF NOT EXISTS bench_account (
    key TEXT NOT NULL PRIMARY KEY,
    name TEXT NOT NULL,
    roles TEXT NOT NULL,
    qualification TEXT NOT NULL,
    language TEXT NOT NULL,
    units TEXT NOT NULL,
    password TEXT NOT NULL,
    pin TEXT NOT NULL,
    active INTEGER NOT NULL
) {strict};
-- next
CREATE TABLE IF NOT EXISTS bench_session (
    id_hash TEXT NOT NULL PRIMARY KEY,
    person TEXT NOT NULL,
    opened_by TEXT NOT NULL,
    opened_at TEXT NOT NULL,
    used_at TEXT NOT NULL
) {strict};
-- next
CREATE TABLE IF NOT EXISTS bench_invitation (
    token_hash TEXT NOT NULL PRIMARY KEY,
    person TEXT NOT NULL,
    expires_at TEXT NOT NULL,
    used INTEGER NOT NULL
) {strict};
-- next
CREATE TABLE IF NOT EXISTS bench_attempt (
    id {serial} PRIMARY KEY,
    account TEXT NOT NULL,
    address TEXT NOT NULL,
    at {real} NOT NULL
) {strict};
-- next
CREATE INDEX IF NOT EXISTS bench_attempt_at ON bench_attempt (at);
-- next
CREATE TABLE IF NOT EXISTS bench_setting (
    key TEXT NOT NULL PRIMARY KEY,
    value TEXT NOT NULL
) {strict};
-- next
CREATE TABLE IF NOT EXISTS bench_shop_item (
    kind TEXT NOT NULL,
    key TEXT NOT NULL,
    place INTEGER NOT NULL,
    body TEXT NOT NULL,
    PRIMARY KEY (kind, key)
) {strict};
-- next
CREATE TABLE IF NOT EXISTS bench_design (
    key TEXT NOT NULL PRIMARY KEY,
    text TEXT NOT NULL,
    "by" TEXT NOT NULL,
    at TEXT NOT NULL
) {strict};
-- next
CREATE TABLE IF NOT EXISTS bench_price_list (
    id {serial} PRIMARY KEY,
    at TEXT NOT NULL,
    "by" TEXT NOT NULL,
    name TEXT NOT NULL,
    digest TEXT NOT NULL,
    body TEXT NOT NULL
) {strict};
-- next
CREATE TABLE IF NOT EXISTS bench_calendar (
    token_hash TEXT NOT NULL PRIMARY KEY,
    person TEXT NOT NULL,
    customer TEXT NOT NULL,
    language TEXT NOT NULL,
    made_at TEXT NOT NULL
) {strict};
-- next
-- Files of the shop's own bases, by their content: what was adopted stays what it was.
CREATE TABLE IF NOT EXISTS bench_basis (
    digest TEXT NOT NULL PRIMARY KEY,
    key TEXT NOT NULL,
    files TEXT NOT NULL,
    "by" TEXT NOT NULL,
    at TEXT NOT NULL
) {strict};
-- next
-- Nothing asks in this order, and every entry had to keep it.
DROP INDEX IF EXISTS jobs_changed;

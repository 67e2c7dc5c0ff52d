-- The journal: every entry of every job, chained per job (in the entry itself) and over all.
CREATE TABLE journal (
    number {big} NOT NULL PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    job TEXT NOT NULL,
    seq INTEGER NOT NULL,
    entry TEXT NOT NULL,
    hash TEXT NOT NULL,
    chain TEXT NOT NULL,
    UNIQUE (job, seq)
) {strict};
-- next
-- Where the whole journal stands: one row.
CREATE TABLE head (
    one INTEGER NOT NULL PRIMARY KEY CHECK (one = 1),
    number {big} NOT NULL,
    chain TEXT NOT NULL
) {strict};
-- next
INSERT INTO head (one, number, chain) VALUES (1, 0, '{beginning}');
-- next
-- Where each job stands.
CREATE TABLE job_heads (
    job TEXT NOT NULL PRIMARY KEY,
    seq INTEGER NOT NULL,
    hash TEXT NOT NULL
) {strict};
-- next
-- Photos and papers by the SHA-256 of their bytes.
CREATE TABLE attachments (
    content TEXT NOT NULL PRIMARY KEY,
    media_type TEXT NOT NULL,
    size INTEGER NOT NULL,
    width INTEGER NOT NULL,
    height INTEGER NOT NULL,
    data {blob} NOT NULL
) {strict};

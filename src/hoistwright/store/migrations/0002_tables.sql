-- Tables to ask. All of them are made from the journal and can be made again.
CREATE TABLE jobs (
    job TEXT {bytewise} NOT NULL PRIMARY KEY,
    hoist TEXT NOT NULL,
    maker TEXT NOT NULL,
    model TEXT NOT NULL,
    serial TEXT NOT NULL,
    tag TEXT NOT NULL,
    rated_load {real},
    customer TEXT NOT NULL,
    premises TEXT NOT NULL,
    design TEXT NOT NULL,
    bases TEXT NOT NULL,
    complaint TEXT NOT NULL,
    received_on TEXT NOT NULL,
    stage TEXT NOT NULL,
    holder TEXT NOT NULL,
    opened_at TEXT {bytewise} NOT NULL,
    changed_at TEXT {bytewise} NOT NULL,
    changed_by TEXT NOT NULL,
    seq INTEGER NOT NULL,
    conflicts INTEGER NOT NULL,
    readings INTEGER NOT NULL,
    defects INTEGER NOT NULL,
    renewals INTEGER NOT NULL,
    photos INTEGER NOT NULL
) {strict};
-- next
CREATE INDEX jobs_waiting ON jobs (stage, holder, opened_at);
-- next
CREATE INDEX jobs_by_holder ON jobs (holder, opened_at);
-- next
CREATE INDEX jobs_by_hoist ON jobs (hoist, opened_at);
-- next
CREATE INDEX jobs_changed ON jobs (changed_at);
-- next
CREATE TABLE hoists (
    hoist TEXT {bytewise} NOT NULL PRIMARY KEY,
    maker TEXT NOT NULL,
    model TEXT NOT NULL,
    serial TEXT NOT NULL,
    tag TEXT NOT NULL,
    rated_load {real},
    customer TEXT NOT NULL,
    premises TEXT NOT NULL,
    design TEXT NOT NULL,
    last_job TEXT NOT NULL,
    last_opened_at TEXT NOT NULL,
    visits INTEGER NOT NULL
) {strict};
-- next
-- The words by which a hoist is found: of serial, tag, customer, maker and model.
CREATE TABLE hoist_words (
    word TEXT {bytewise} NOT NULL,
    hoist TEXT {bytewise} NOT NULL,
    PRIMARY KEY (word, hoist)
) {strict};
-- next
CREATE INDEX hoist_words_by_hoist ON hoist_words (hoist, word);
-- next
-- The reading that stands at each address of each job.
CREATE TABLE readings (
    job TEXT NOT NULL,
    part TEXT NOT NULL,
    feature TEXT NOT NULL,
    place TEXT NOT NULL,
    hoist TEXT NOT NULL,
    mean {real} NOT NULL,
    repeats TEXT NOT NULL,
    unit TEXT NOT NULL,
    gauge TEXT NOT NULL,
    links INTEGER,
    person TEXT NOT NULL,
    entered_at TEXT NOT NULL,
    seq INTEGER NOT NULL,
    PRIMARY KEY (job, part, feature, place)
) {strict};
-- next
CREATE INDEX readings_by_hoist ON readings (hoist, part, feature);
-- next
-- The answer that stands to each look of each job.
CREATE TABLE looks (
    job TEXT NOT NULL,
    part TEXT NOT NULL,
    feature TEXT NOT NULL,
    place TEXT NOT NULL,
    hoist TEXT NOT NULL,
    answer TEXT NOT NULL,
    remark TEXT NOT NULL,
    person TEXT NOT NULL,
    entered_at TEXT NOT NULL,
    seq INTEGER NOT NULL,
    PRIMARY KEY (job, part, feature, place)
) {strict};
-- next
CREATE INDEX looks_by_hoist ON looks (hoist, part, feature);

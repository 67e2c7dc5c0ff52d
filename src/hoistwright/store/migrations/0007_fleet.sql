-- What each job tells the fleet, as of an entry of it. Made of the journal; may be thrown away.
CREATE TABLE IF NOT EXISTS bench_fleet_visit (
    job TEXT NOT NULL PRIMARY KEY,
    seq INTEGER NOT NULL,
    made_of TEXT NOT NULL,
    body TEXT NOT NULL
) {strict};

-- What waits at a stage, the longest here first, without sorting all that ever reached it.
CREATE INDEX jobs_waiting_longest ON jobs (stage, opened_at, job);

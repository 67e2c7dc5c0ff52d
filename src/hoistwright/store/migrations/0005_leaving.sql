-- How a job's hoist left and when it must come back.
ALTER TABLE jobs ADD COLUMN decision TEXT NOT NULL DEFAULT '';
-- next
ALTER TABLE jobs ADD COLUMN certificate TEXT NOT NULL DEFAULT '';
-- next
ALTER TABLE jobs ADD COLUMN left_on TEXT NOT NULL DEFAULT '';
-- next
ALTER TABLE jobs ADD COLUMN next_due TEXT NOT NULL DEFAULT '';
-- next
ALTER TABLE hoists ADD COLUMN decision TEXT NOT NULL DEFAULT '';
-- next
ALTER TABLE hoists ADD COLUMN certificate TEXT NOT NULL DEFAULT '';
-- next
ALTER TABLE hoists ADD COLUMN left_on TEXT NOT NULL DEFAULT '';
-- next
ALTER TABLE hoists ADD COLUMN next_due TEXT NOT NULL DEFAULT '';
-- next
CREATE INDEX hoists_by_due ON hoists (next_due, hoist);
-- next
-- The stages go on after the rebuild now.
UPDATE jobs SET stage = 'prove' WHERE stage = 'ready to prove';

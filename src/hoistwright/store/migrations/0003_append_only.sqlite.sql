-- No program that means well changes the journal; one that tries is told so.
CREATE TRIGGER journal_keeps BEFORE UPDATE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal only grows: nothing in it is changed'); END;
-- next
CREATE TRIGGER journal_stays BEFORE DELETE ON journal
BEGIN SELECT RAISE(ABORT, 'the journal only grows: nothing in it is deleted'); END;

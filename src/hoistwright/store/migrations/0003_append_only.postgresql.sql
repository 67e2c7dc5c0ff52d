-- No program that means well changes the journal; one that tries is told so.
CREATE FUNCTION journal_only_grows() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION 'the journal only grows: nothing in it is changed or deleted'; END $$;
-- next
CREATE TRIGGER journal_keeps BEFORE UPDATE OR DELETE ON journal
FOR EACH ROW EXECUTE FUNCTION journal_only_grows();
-- next
CREATE TRIGGER journal_stays BEFORE TRUNCATE ON journal
FOR EACH STATEMENT EXECUTE FUNCTION journal_only_grows();

-- A plan stays as it went out, also when it is made again on the same day: a change is a new version. Plans of
-- earlier books get the number of decisions that they knew of.
CREATE TABLE version (
    id     INTEGER PRIMARY KEY,
    client INTEGER NOT NULL REFERENCES client (id) ON DELETE CASCADE,
    made   INTEGER NOT NULL CHECK (made > 0),
    week   INTEGER NOT NULL CHECK (week > 0),
    value  TEXT NOT NULL CHECK (json_valid(value))
) STRICT;
INSERT INTO version (client, made, week, value)
    SELECT client, made, week, json_set(value, '$.decisions',
        (SELECT count(*) FROM decision d WHERE d.client = p.client AND d.entered <= p.made))
    FROM prescription p ORDER BY week, made;
DROP TABLE prescription;
ALTER TABLE version RENAME TO prescription;
CREATE INDEX prescription_of ON prescription (client, week);

CREATE TRIGGER prescription_kept BEFORE UPDATE ON prescription BEGIN
    SELECT raise(ABORT, 'a plan stays as it was sent; make a new version');
END;
CREATE TRIGGER prescription_not_replaced BEFORE INSERT ON prescription
WHEN EXISTS (SELECT 1 FROM prescription WHERE id = NEW.id) BEGIN
    SELECT raise(ABORT, 'a plan stays as it was sent; make a new version');
END;
CREATE TRIGGER prescription_not_removed BEFORE DELETE ON prescription
WHEN OLD.client NOT IN (SELECT client FROM forgetting) BEGIN
    SELECT raise(ABORT, 'a plan is removed only with its client');
END;

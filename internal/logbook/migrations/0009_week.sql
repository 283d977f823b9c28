-- How often anything of a client has changed, whichever program did it: what was made from it is made again after that.
-- The number stays when the client is forgotten, so that nobody who comes later has the same one.
CREATE TABLE changed (
    client INTEGER PRIMARY KEY,
    times  INTEGER NOT NULL
) STRICT;

-- What the trainer has dealt with in a client's week: the digest of the plan that was sent, a recording that was
-- asked about.
CREATE TABLE ticked (
    client INTEGER NOT NULL REFERENCES client (id) ON DELETE CASCADE,
    what   TEXT NOT NULL CHECK (what <> ''),
    of     TEXT NOT NULL,
    day    INTEGER NOT NULL CHECK (day > 0),
    PRIMARY KEY (client, what, of)
) STRICT;

CREATE TRIGGER facts_added AFTER INSERT ON facts BEGIN
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER facts_removed AFTER DELETE ON facts BEGIN
    INSERT INTO changed VALUES (OLD.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER file_added AFTER INSERT ON file BEGIN
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER file_changed AFTER UPDATE ON file BEGIN
    INSERT INTO changed VALUES (OLD.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER file_removed AFTER DELETE ON file BEGIN
    INSERT INTO changed VALUES (OLD.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER note_added AFTER INSERT ON note BEGIN
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER note_changed AFTER UPDATE ON note BEGIN
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER note_removed AFTER DELETE ON note BEGIN
    INSERT INTO changed VALUES (OLD.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER report_added AFTER INSERT ON report BEGIN
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER report_changed AFTER UPDATE ON report BEGIN
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER report_removed AFTER DELETE ON report BEGIN
    INSERT INTO changed VALUES (OLD.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER assessment_added AFTER INSERT ON assessment BEGIN
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER assessment_changed AFTER UPDATE ON assessment BEGIN
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER assessment_removed AFTER DELETE ON assessment BEGIN
    INSERT INTO changed VALUES (OLD.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER decision_added AFTER INSERT ON decision BEGIN
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER decision_removed AFTER DELETE ON decision BEGIN
    INSERT INTO changed VALUES (OLD.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER prescription_added AFTER INSERT ON prescription BEGIN
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER prescription_removed AFTER DELETE ON prescription BEGIN
    INSERT INTO changed VALUES (OLD.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER proposal_added AFTER INSERT ON proposal BEGIN
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER proposal_removed AFTER DELETE ON proposal BEGIN
    INSERT INTO changed VALUES (OLD.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER ticked_added AFTER INSERT ON ticked BEGIN
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER ticked_changed AFTER UPDATE ON ticked BEGIN
    INSERT INTO changed VALUES (NEW.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
CREATE TRIGGER ticked_removed AFTER DELETE ON ticked BEGIN
    INSERT INTO changed VALUES (OLD.client, 1) ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;
-- A recording belongs to the client of its file; it comes and goes with that.
CREATE TRIGGER recording_changed AFTER UPDATE ON recording BEGIN
    INSERT INTO changed SELECT client, 1 FROM file WHERE digest = NEW.file ON CONFLICT (client) DO UPDATE SET times = times + 1;
END;

-- The book. Days are whole numbers: days since 1 January of year 1. What the program knows as one
-- value (facts, a note, a measurement) is one JSON text; columns beside it are what is searched for.

CREATE TABLE client (
    id   INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE CHECK (name <> '')
) STRICT;

-- Versions of the facts of a client. The last one entered by a day holds on that day.
CREATE TABLE facts (
    id      INTEGER PRIMARY KEY,
    client  INTEGER NOT NULL REFERENCES client (id) ON DELETE CASCADE,
    entered INTEGER NOT NULL CHECK (entered > 0),
    value   TEXT NOT NULL CHECK (json_valid(value))
) STRICT;
CREATE INDEX facts_of ON facts (client, entered);

-- A received file. The digest is over the raw bytes, the original is them in gzip.
CREATE TABLE file (
    digest     BLOB PRIMARY KEY CHECK (length(digest) = 32),
    client     INTEGER NOT NULL REFERENCES client (id) ON DELETE CASCADE,
    received   INTEGER NOT NULL CHECK (received > 0),
    name       TEXT NOT NULL,
    format     TEXT NOT NULL,
    size       INTEGER NOT NULL, -- of the raw bytes
    recordings INTEGER NOT NULL, -- how many came in with it
    original   BLOB NOT NULL
) STRICT;
CREATE INDEX file_of ON file (client);

-- One workout of a file. The big columns come last, so that reading the others leaves them alone.
CREATE TABLE recording (
    file     BLOB NOT NULL REFERENCES file (digest) ON DELETE CASCADE,
    number   INTEGER NOT NULL, -- of the workout in the file, from 0
    id       TEXT NOT NULL UNIQUE,
    received INTEGER NOT NULL CHECK (received > 0),
    date     INTEGER NOT NULL CHECK (date > 0), -- in the client's time zone
    aside    TEXT NOT NULL DEFAULT '', -- why it does not count, '' if it does
    workout  TEXT NOT NULL CHECK (json_valid(workout)),
    measured TEXT NOT NULL CHECK (json_valid(measured)),
    series   BLOB NOT NULL,
    PRIMARY KEY (file, number)
) STRICT;

CREATE TABLE note (
    id      INTEGER PRIMARY KEY,
    client  INTEGER NOT NULL REFERENCES client (id) ON DELETE CASCADE,
    entered INTEGER NOT NULL CHECK (entered > 0),
    value   TEXT NOT NULL CHECK (json_valid(value))
) STRICT;
CREATE INDEX note_of ON note (client);

CREATE TABLE report (
    id      INTEGER PRIMARY KEY,
    client  INTEGER NOT NULL REFERENCES client (id) ON DELETE CASCADE,
    entered INTEGER NOT NULL CHECK (entered > 0),
    value   TEXT NOT NULL CHECK (json_valid(value))
) STRICT;
CREATE INDEX report_of ON report (client);

-- One assessment for each day; assessing a day again replaces it.
CREATE TABLE assessment (
    client INTEGER NOT NULL REFERENCES client (id) ON DELETE CASCADE,
    day    INTEGER NOT NULL CHECK (day > 0),
    value  TEXT NOT NULL CHECK (json_valid(value)),
    PRIMARY KEY (client, day)
) STRICT;

-- One prescription for each day it was made on and week it is for.
CREATE TABLE prescription (
    client INTEGER NOT NULL REFERENCES client (id) ON DELETE CASCADE,
    made   INTEGER NOT NULL CHECK (made > 0),
    week   INTEGER NOT NULL CHECK (week > 0),
    value  TEXT NOT NULL CHECK (json_valid(value)),
    PRIMARY KEY (client, made, week)
) STRICT;

CREATE TABLE decision (
    id      INTEGER PRIMARY KEY,
    client  INTEGER NOT NULL REFERENCES client (id) ON DELETE CASCADE,
    entered INTEGER NOT NULL CHECK (entered > 0),
    value   TEXT NOT NULL CHECK (json_valid(value))
) STRICT;
CREATE INDEX decision_of ON decision (client);

-- Holds the client who is being forgotten while that goes on, so that only this removes decisions.
CREATE TABLE forgetting (client INTEGER PRIMARY KEY) STRICT;

CREATE TRIGGER decision_kept BEFORE UPDATE ON decision BEGIN
    SELECT raise(ABORT, 'a decision stays as it was made; enter a new one');
END;
CREATE TRIGGER decision_not_replaced BEFORE INSERT ON decision
WHEN EXISTS (SELECT 1 FROM decision WHERE id = NEW.id) BEGIN
    SELECT raise(ABORT, 'a decision stays as it was made; enter a new one');
END;
CREATE TRIGGER decision_not_removed BEFORE DELETE ON decision
WHEN OLD.client NOT IN (SELECT client FROM forgetting) BEGIN
    SELECT raise(ABORT, 'a decision is removed only with its client');
END;
CREATE TRIGGER facts_kept BEFORE UPDATE ON facts BEGIN
    SELECT raise(ABORT, 'facts stay as they were entered; enter a new version');
END;

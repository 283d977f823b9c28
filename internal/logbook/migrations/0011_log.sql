-- Every act, in the order of their numbers: when by the computer's clock (RFC 3339, UTC), who, what was done, and what it
-- put into the book (+) or took out (-), a line each with the table and the row's digest. head is the SHA-256 of the
-- entry before and of this one. No entry names a client.
CREATE TABLE log (
    id   INTEGER PRIMARY KEY,
    at   TEXT NOT NULL,
    by   TEXT NOT NULL,
    act  TEXT NOT NULL,
    rows TEXT NOT NULL,
    head BLOB NOT NULL CHECK (length(head) = 32)
) STRICT;

-- The seal of each row of the other tables: the digest that the log holds, and the random salt that went into it. The salt
-- goes with its row, so that nobody can find out by trying what a digest in the log once stood for.
CREATE TABLE seal (
    of     TEXT NOT NULL, -- the table
    key    TEXT NOT NULL, -- the row's primary key, as SQL
    entry  INTEGER NOT NULL, -- of the log
    salt   BLOB NOT NULL,
    digest BLOB NOT NULL,
    PRIMARY KEY (of, key)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER log_kept BEFORE UPDATE ON log BEGIN
    SELECT raise(ABORT, 'the log stays as it was written');
END;
CREATE TRIGGER log_not_replaced BEFORE INSERT ON log
WHEN EXISTS (SELECT 1 FROM log WHERE id = NEW.id) BEGIN
    SELECT raise(ABORT, 'the log stays as it was written');
END;
CREATE TRIGGER log_not_removed BEFORE DELETE ON log BEGIN
    SELECT raise(ABORT, 'the log stays as it was written');
END;

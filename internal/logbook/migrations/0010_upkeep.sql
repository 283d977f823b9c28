-- Every policy that was in use, as its text, with who put it in use, on which day and why.
CREATE TABLE policy (
    id      INTEGER PRIMARY KEY,
    entered INTEGER NOT NULL CHECK (entered > 0),
    by      TEXT NOT NULL,
    because TEXT NOT NULL,
    text    TEXT NOT NULL
) STRICT;

CREATE TRIGGER policy_kept BEFORE UPDATE ON policy BEGIN
    SELECT raise(ABORT, 'a policy stays as it was; enter a new one');
END;

-- The links under which clients see their own page. Only the digest of a link's token is kept, so that the book opens
-- nobody's page. Days are whole; withdrawn is the day from which a link leads nowhere.
CREATE TABLE link (
    id        INTEGER PRIMARY KEY,
    client    INTEGER NOT NULL REFERENCES client (id) ON DELETE CASCADE,
    token     BLOB NOT NULL UNIQUE CHECK (length(token) = 32),
    made      INTEGER NOT NULL CHECK (made > 0),
    expires   INTEGER NOT NULL CHECK (expires > 0), -- its last day
    answers   INTEGER NOT NULL CHECK (answers IN (0, 1)), -- whether it takes the answers to the week's questions
    withdrawn INTEGER CHECK (withdrawn > 0)
) STRICT;
CREATE INDEX link_of ON link (client);

-- What the trainer sets once for the whole book: a name and its value.
CREATE TABLE setting (
    name  TEXT PRIMARY KEY CHECK (name <> ''),
    value TEXT NOT NULL
) STRICT;

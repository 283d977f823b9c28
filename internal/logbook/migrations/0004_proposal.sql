-- What the trainer answered to proposed zones, with the proposal as it was shown. Its evidence makes
-- no other proposal.
CREATE TABLE proposal (
    id      INTEGER PRIMARY KEY,
    client  INTEGER NOT NULL REFERENCES client (id) ON DELETE CASCADE,
    entered INTEGER NOT NULL CHECK (entered > 0),
    value   TEXT NOT NULL CHECK (json_valid(value))
) STRICT;
CREATE INDEX proposal_of ON proposal (client, entered);

CREATE TRIGGER proposal_kept BEFORE UPDATE ON proposal BEGIN
    SELECT raise(ABORT, 'an answer to a proposal stays as it was given');
END;
CREATE TRIGGER proposal_not_replaced BEFORE INSERT ON proposal
WHEN EXISTS (SELECT 1 FROM proposal WHERE id = NEW.id) BEGIN
    SELECT raise(ABORT, 'an answer to a proposal stays as it was given');
END;
CREATE TRIGGER proposal_not_removed BEFORE DELETE ON proposal
WHEN OLD.client NOT IN (SELECT client FROM forgetting) BEGIN
    SELECT raise(ABORT, 'an answer to a proposal is removed only with its client');
END;

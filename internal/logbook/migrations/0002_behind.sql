-- The file whose recording of the same workout counts instead. When that file leaves the book or
-- stops counting, the recording counts again; before that file was received, it counted.
ALTER TABLE recording ADD COLUMN behind BLOB;
CREATE INDEX recording_behind ON recording (behind) WHERE behind IS NOT NULL;
